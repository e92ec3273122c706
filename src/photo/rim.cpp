// The rim of a plate read from its ribbon (photo/decoration.h).
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/decoration.h"
#include "photo/ink.h"
#include "photo/periodic.h"
#include "photo/rings.h"
#include "photo/seen_lines.h"

namespace footring::photo {

namespace {
constexpr int kColumns = 2048;         // of the ribbon: of a hundred repeats each has twenty
constexpr double kDeepest = 0.5;       // t up to which the rim is read
constexpr double kEdgeWithin = 0.045;  // t of an edge line
constexpr double kEdgeFrom = 0.028;    // t up to which it begins
constexpr double kBandWidth = 0.036;   // wider rings are bands: a border without repeats
constexpr double kVergeFrom = 0.15;

double perimeter_of(const Plate& plate) {
    const auto feet = plate.feet(256);
    double sum = 0;
    for (std::size_t i = 0; i < feet.size(); ++i) sum += cv::norm(feet[(i + 1) % feet.size()].at - feet[i].at);
    return sum;
}

Ribbon ribbon_of(const Picture& picture, const Plate& plate, const Slope& slope) {
    Ribbon ribbon;
    ribbon.perimeter = perimeter_of(plate);
    const Ellipse& rim = plate.outline.rim;
    const double pitch = ribbon.perimeter / kColumns;
    const double deepest = std::min(kDeepest, 0.75 * plate.aspect);
    const int rows = static_cast<int>(deepest / pitch);
    ribbon.strip = unroll(picture, plate, 0, rows * pitch, {kColumns, rows}, slope);
    ribbon.rows_per_unit = 1 / pitch;
    const double px_per_unit = rim.b / plate.aspect;  // where the tilt shortens most
    ribbon.rows_per_px = ribbon.rows_per_unit / px_per_unit;
    ribbon.first_row = std::max(1, static_cast<int>(std::ceil(1.1 * ribbon.rows_per_px)));
    cv::Mat seen = ribbon.strip.seen.clone();
    seen.rowRange(0, ribbon.first_row).setTo(0);
    ribbon.lit = tell_ink(ribbon.strip.bgr, seen, glaze_tone(picture, plate),
                          {.px_per_unit = ribbon.rows_per_unit, .wraps = true});
    return ribbon;
}

// How steeply the outermost part may fall: as lips usually do (the wall of a bowl does not begin at its very edge),
// and as makes what runs along it straightest, where that tells.
std::vector<double> drops_of_lip(const Picture& picture, const Plate& plate, const Slope& rim) {
    constexpr double kUsualLip = 0.3, kFrom = 0.004, kTo = 0.035, kTells = 1.05;
    const cv::Size size(512, 20);
    const auto straight = [&](double drop) {
        return straightness(unroll(picture, plate, kFrom, kTo, size, {drop, 0}).bgr);
    };
    const double usual = std::min(kUsualLip, rim.drop);
    double best_at = usual, best = kTells * straight(usual);
    for (const double drop : {0.0, 0.2, 0.4, 0.6, 0.8, 1.0})
        if (const double score = straight(drop); score > best) best = score, best_at = drop;
    if (best_at == usual) return {usual};
    return {usual, best_at};
}

// The outermost part again, as finely as the photograph shows it: edge lines are a few px wide. Its light is that
// of the glaze further in.
Ribbon edge_of(const Picture& picture, const Plate& plate, const Ribbon& rim, double drop) {
    constexpr double kTo = 0.06;
    Ribbon edge;
    const double px_per_unit = plate.outline.rim.b / plate.aspect;
    const int rows = std::clamp(static_cast<int>(kTo * px_per_unit * 1.6), 24, 120);
    edge.perimeter = rim.perimeter;
    edge.rows_per_unit = rows / kTo;
    edge.rows_per_px = edge.rows_per_unit / px_per_unit;
    edge.first_row = std::max(1, static_cast<int>(std::lround(1.0 * edge.rows_per_px)));
    edge.strip = unroll(picture, plate, 0, kTo, {kColumns, rows}, {drop, 0});
    cv::Mat seen = edge.strip.seen.clone();
    seen.rowRange(0, edge.first_row).setTo(0);
    const int row = std::min(rim.lit.light.rows - 1, static_cast<int>(0.05 * rim.rows_per_unit));
    cv::Mat light, all;
    cv::resize(rim.lit.light.row(row), light, {kColumns, 1}, 0, 0, cv::INTER_LINEAR);
    cv::repeat(light, rows, 1, all);
    const GlazeTone tone{rim.lit.tone, 1};
    edge.lit = tell_ink(edge.strip.bgr, seen, tone,
                        {.px_per_unit = kColumns / rim.perimeter,
                         .wraps = true,
                         .light = all,
                         .noise = rim.lit.noise});  // a line and a border may fill most of this strip
    return edge;
}

// Rows that carry something, in groups that are not interrupted for long. `floor` is what bare rows carry; rows of
// lines (`ringed`) neither carry nor interrupt.
std::vector<Band> groups(const std::vector<double>& carried, const std::vector<bool>& ringed, int first_row,
                         double floor, double gap) {
    std::vector<Band> bands;
    int idle = 0;
    for (int r = first_row; r < static_cast<int>(carried.size()); ++r) {
        const auto i = static_cast<std::size_t>(r);
        if (ringed[i]) continue;
        const double s = carried[i] - floor;
        if (s <= 0) {
            ++idle;
            continue;
        }
        if (bands.empty() || idle > gap) bands.push_back({r, r + 1, 0});
        idle = 0;
        bands.back().to = r + 1;
        bands.back().ink += s;
    }
    return bands;
}

cv::Mat weight_of(const cv::Mat& unsure) {
    cv::Mat weight;
    cv::Mat sure = unsure == 0;
    sure.convertTo(weight, CV_32F, 1 / 255.0);
    return weight;
}

// The best preserved fifth of all repeats at each place: where wear took the ornament from most of them, it is
// still whole. Of few repeats, the second best.
cv::Mat_<float> best_kept(const cv::Mat_<float>& ink, const cv::Mat_<float>& sure, int count, int length) {
    cv::Mat_<float> out(ink.rows, length);
    std::vector<float> values;
    for (int r = 0; r < ink.rows; ++r)
        for (int k = 0; k < length; ++k) {
            values.clear();
            for (int i = 0; i < count; ++i)
                if (sure(r, i * length + k) > 0.5f) values.push_back(ink(r, i * length + k));
            if (values.empty()) {
                out(r, k) = 0;
                continue;
            }
            const std::size_t n = values.size();
            const std::size_t place = n < 3   ? n - 1
                                      : n < 9 ? n - 2
                                              : static_cast<std::size_t>(0.8 * static_cast<double>(n - 1));
            std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(place), values.end());
            out(r, k) = values[place];
        }
    return out;
}

// The whole ribbon folded: the mean of all repeats, and what the best preserved show.
struct Fold {
    cv::Mat_<float> mean, whole;
};
Fold fold_of(const cv::Mat& ink, const cv::Mat& weight, const Periodicity& even, int count) {
    const int length = std::clamp(ink.cols / count, 12, 1024);
    const cv::Mat_<float> x = evened(ink, even, count, length, 0), w = evened(weight, even, count, length, 0);
    Fold fold{cv::Mat_<float>::zeros(x.rows, length), best_kept(x, w, count, length)};
    for (int r = 0; r < x.rows; ++r)
        for (int k = 0; k < length; ++k) {
            float norm = 0.2f;
            for (int i = 0; i < count; ++i) {
                fold.mean(r, k) += x(r, i * length + k) * w(r, i * length + k);
                norm += w(r, i * length + k);
            }
            fold.mean(r, k) /= norm;
        }
    return fold;
}

// What the best preserved repeats of the outermost strip show, and what none does: the corners of a square piece
// hide the same of every side.
cv::Mat_<float> whole_of_edge(const Ribbon& fine, const Periodicity& even, int count) {
    const int length = std::clamp(fine.lit.ink.ink.cols / count, 12, 1024);
    const cv::Mat_<float> ink = evened(fine.lit.ink.ink, even, count, length, 0),
                          sure = evened(weight_of(fine.lit.unsure), even, count, length, 0);
    cv::Mat_<float> whole = best_kept(ink, sure, count, length);
    for (int r = 0; r < whole.rows; ++r)
        for (int k = 0; k < length; ++k) {
            bool seen = false;
            for (int i = 0; i < count && !seen; ++i) seen = sure(r, i * length + k) > 0.5f;
            if (!seen) whole(r, k) = BestRepeat::kNeverSeen;
        }
    return whole;
}

struct Kept {
    double wear = 0;
    std::vector<float> map;
};
Kept wear_of(const cv::Mat_<float>& ink, const cv::Mat_<float>& sure, const cv::Mat_<float>& whole, int count,
             int length) {
    cv::Mat near;  // strokes that lie half a pixel beside the mean are not lost
    cv::dilate(ink, near, cv::getStructuringElement(cv::MORPH_RECT, {3, 3}));
    constexpr int kSteps = 360;
    std::vector<double> there(kSteps, 0.0), all(kSteps, 0.0);
    double kept = 0, sum = 0;
    for (int c = 0; c < count * length; ++c) {
        const auto step = static_cast<std::size_t>(c * kSteps / (count * length));
        for (int r = 0; r < ink.rows; ++r) {
            const float w = whole(r, c % length);
            if (w < 0.6f || sure(r, c) < 0.5f) continue;
            const double left = near.at<float>(r, c) > 0.5f * w ? 1 : 0;
            there[step] += left;
            all[step] += 1;
            kept += left;
            sum += 1;
        }
    }
    Kept result;
    result.wear = sum > 0 ? 1 - kept / sum : 0;
    for (std::size_t i = 0; i < kSteps; ++i) {
        // steps between two motifs have nothing to lose: they take after their neighbours
        double a = 0, b = 0;
        for (int reach = 0; b < 1 && reach < kSteps / 2; ++reach) {
            const std::size_t left = (i + kSteps - static_cast<std::size_t>(reach)) % kSteps,
                              right = (i + static_cast<std::size_t>(reach)) % kSteps;
            a = there[left] + there[right], b = all[left] + all[right];
        }
        result.map.push_back(b > 0 ? static_cast<float>(a / b) : 1.f);
    }
    return result;
}

cv::Mat_<cv::Vec3b> mean_colour(const cv::Mat& bgr, const cv::Mat_<float>& ink, const cv::Mat_<float>& sure,
                                int count, int length) {
    cv::Mat_<cv::Vec3b> out(ink.rows, length);
    for (int r = 0; r < ink.rows; ++r)
        for (int k = 0; k < length; ++k) {
            cv::Vec3f sum(0, 0, 0);
            float norm = 1e-4f;
            for (int i = 0; i < count; ++i) {
                const int c = i * length + k;
                const float w = (ink(r, c) * ink(r, c) + 0.02f) * (sure(r, c) + 0.01f);
                sum += cv::Vec3f(bgr.at<cv::Vec3b>(r, c)) * w;
                norm += w;
            }
            for (int n = 0; n < 3; ++n) out(r, k)[n] = cv::saturate_cast<uchar>(sum[n] / norm);
        }
    return out;
}

// Where one repeat ends and the next begins: the barest column.
int barest_column(const cv::Mat_<float>& whole) {
    cv::Mat column, wide, calm;
    cv::reduce(whole, column, 0, cv::REDUCE_AVG, CV_32F);
    const int n = std::max(1, whole.cols / 10) | 1;
    cv::copyMakeBorder(column, wide, 0, 0, n, n, cv::BORDER_WRAP);
    cv::blur(wide, calm, {n, 1});
    cv::Point least;
    cv::minMaxLoc(calm.colRange(n, n + whole.cols), nullptr, nullptr, &least);
    return least.x;
}

cv::Mat turned(const cv::Mat& in, int columns) {  // cyclically, to the left
    cv::Mat out;
    if (columns == 0) return in.clone();
    cv::hconcat(in.colRange(columns, in.cols), in.colRange(0, columns), out);
    return out;
}

constexpr double kLeastAllRound = 0.05;  // mean ink of a band
constexpr double kNarrowest = 0.015;     // t: narrower rows that repeat are faint at best
constexpr double kMostTurns = 0.6;       // of the way round: the greater part
constexpr double kInnermost = 0.4;       // t from which a ring of ornament is the centre's

// In how many of 20 equal parts of the way round there is at least a third of the ink that there is on average.
double share_of_turns_with_ink(const cv::Mat& ink) {
    constexpr int kParts = 20;
    const double mean = cv::mean(ink)[0];
    int with = 0;
    for (int i = 0; i < kParts; ++i)
        with += cv::mean(ink.colRange(ink.cols * i / kParts, ink.cols * (i + 1) / kParts))[0] > mean / 3;
    return static_cast<double>(with) / kParts;
}

bool clear(const Periodicity& p) {
    if (p.count == 0) return false;
    if (p.explained > 0.06 && p.explained - std::max(0.0, p.runner_up) > 0.03) return true;
    // Of an ornament that is worn to remains little is foretold, yet more than by any other count.
    return p.explained > 0.04 && p.explained - p.runner_up > 0.06;
}

// A band that is inked all over may bear its ornament in other shades of its own colour: what changes along it in
// lightness and hue, without what light does to it slowly.
std::optional<int> repeats_within(const Ribbon& ribbon, const Band& band) {
    constexpr double kSlow = 0.05;  // of the way round
    constexpr float kFull = 15;     // L*a*b*
    std::vector<cv::Mat> channels;
    cv::split(ribbon.lit.lab.rowRange(band.from, band.to), channels);
    cv::Mat weight = weight_of(ribbon.lit.unsure.rowRange(band.from, band.to));
    weight.setTo(0, ribbon.lit.ink.ink.rowRange(band.from, band.to) < 0.5);  // where it is worn, no shades are left
    cv::Mat pattern, weights;
    for (const cv::Mat& channel : channels) {
        cv::Mat slow, fast;
        blur(channel, slow, kSlow * channel.cols, 0.3, true);
        fast = (channel - slow) / kFull;
        pattern.push_back(cv::Mat(cv::max(cv::min(fast, 1), -1)));
        weights.push_back(weight);
    }
    const Periodicity found = find_repeats(pattern, weights);
    return clear(found) ? std::optional(found.count) : std::nullopt;
}

// `border_from`: t at which the border begins.
bool is_edge_line(const Ring& ring, const Ribbon& fine, std::optional<double> border_from, const cv::Mat& outside,
                  bool straight_sides) {
    const double gap = border_from ? *border_from - fine.t(ring.to) : 1, from = fine.t(ring.from);
    const bool of_border = (from > 0.014 && gap < 0.018) || (from > 0.009 && gap < 0.008);
    return fine.t(ring.at()) <= kEdgeWithin && from <= kEdgeFrom && !of_border &&
           ring.width() <= kBandWidth * fine.rows_per_unit && !is_shading(ring, fine) &&
           !is_table(ring, fine, outside, straight_sides);
}

void fill_border(const Light& light, const Ribbon& ribbon, const Band& band, const Periodicity& found,
                 RimReading& reading) {
    const cv::Range rows(band.from, band.to);
    const cv::Mat ink = ribbon.lit.ink.ink.rowRange(rows), unsure = ribbon.lit.unsure.rowRange(rows);
    const cv::Mat weight = weight_of(unsure);
    Border& border = reading.border;
    border.from = ribbon.t(band.from);
    border.to = ribbon.t(band.to);
    const double mass = band.ink / std::max(1, band.rows());
    // (a lip's gleam, a few rows of it, may seem to repeat)
    const bool repeats =
        found.count > 0 && (band.rows() > kNarrowest * ribbon.rows_per_unit || mass > kLeastAllRound);
    if (repeats) border.present = std::clamp(0.6 + 1.2 * found.explained, 0.0, 0.99);
    else
        border.present =
            std::clamp(2.2 * mass * std::min(1.0, band.rows() / (0.03 * ribbon.rows_per_unit)), 0.0, 0.9);
    // Ink nearly all round is a border, whether or not its repeats could be counted.
    if (!repeats && mass > kLeastAllRound) {
        const double turns = share_of_turns_with_ink(ink);
        if (turns > 0.8) border.present = std::max(border.present, 0.85);
        // So is what wear left of one that no shade has the colour of.
        else if (turns > kMostTurns && hue_of_ink(ribbon, band) > kOwnHue)
            border.present = std::max(border.present, 0.65);
    }
    cv::Mat where = cv::Mat::zeros(ribbon.lit.ink.ink.size(), CV_8UC1);
    where.rowRange(rows).setTo(255);
    border.finish = tint_of(ribbon.lit, ribbon.lit.ink.ink, where, light).word;
    if (border.present < 0.3) {
        border.finish.clear();
        return;
    }
    const int count = repeats ? found.count : 1;
    Periodicity even = found;
    if (!repeats) even.drift = {0, 0, 0, 0};
    const int length = repeats ? std::clamp(ink.cols / count, 12, 1024) : ink.cols;
    cv::Mat_<float> ribbon_ink = evened(ink, even, count, length, 0), sure = evened(weight, even, count, length, 0);
    Repeat repeat;
    repeat.count = count;
    const double middle = (border.from + border.to) / 2;
    repeat.length = (ribbon.perimeter - 2 * std::numbers::pi * middle) / count;
    repeat.height = border.to - border.from;
    if (repeats) {
        border.repeats = count;
        const cv::Mat_<float> whole = best_kept(ribbon_ink, sure, count, length);
        const Kept kept = wear_of(ribbon_ink, sure, whole, count, length);
        border.wear = kept.wear;
        border.map = kept.map;
        const int start = barest_column(whole);
        double phase = even.uneven((static_cast<double>(start) / length + 0.5) / count);
        border.phase = phase - std::floor(phase);
        repeat.mean.ink = turned(whole, start);
        const cv::Mat bgr = evened(ribbon.lit.ink.bgr.rowRange(rows), even, count, length, 0);
        repeat.mean.bgr = turned(mean_colour(bgr, ribbon_ink, sure, count, length), start);
        cv::Mat_<uchar> hidden(whole.rows, length);
        for (int r = 0; r < whole.rows; ++r)
            for (int k = 0; k < length; ++k) {
                float most = 0;
                for (int i = 0; i < count; ++i) most = std::max(most, sure(r, i * length + k));
                hidden(r, k) = most > 0.5f ? 0 : 255;
            }
        repeat.mean.unsure = turned(hidden, start);
        repeat.strip_ink = turned(ribbon_ink, start);
        cv::Mat doubtful = sure < 0.5f;
        repeat.strip_unsure = turned(doubtful, start);
    } else {
        // a plain band, or an ornament without a period that could be found: the ribbon is its own repeat
        repeat.mean.ink = ink.clone();
        repeat.mean.unsure = unsure.clone();
        repeat.mean.bgr = ribbon.lit.ink.bgr.rowRange(rows).clone();
        repeat.strip_ink = ink.clone();
        repeat.strip_unsure = unsure.clone();
        repeat.count = 0;
        border.map.assign(360, 1.f);
    }
    repeat.mean.finish = border.finish;
    reading.repeat = std::move(repeat);
}
}  // namespace

RimReading read_rim(const Picture& picture, const Plate& plate, const Light& light) {
    RimReading reading;
    reading.slope = find_slope(picture, plate).slope;
    const Ribbon ribbon = ribbon_of(picture, plate, reading.slope);
    const cv::Mat &unsure = ribbon.lit.unsure, &ink = ribbon.lit.ink.ink;
    const double unit = ribbon.rows_per_unit;
    const cv::Mat weight = weight_of(unsure);

    // First what repeats, wherever it lies; lines and bands have no part in it.
    Periodicity found =
        find_repeats(ink.rowRange(ribbon.first_row, ink.rows), weight.rowRange(ribbon.first_row, ink.rows));
    const int folds = clear(found) ? found.count : 24;
    const Fold fold = fold_of(ink, weight, found, folds);

    const auto rings = find_rings(ink, unsure, {fold.whole, folds}, ribbon.first_row, unit);
    std::vector<bool> ringed(static_cast<std::size_t>(ink.rows), false);
    for (const Ring& ring : rings)
        for (int r = std::max(0, static_cast<int>(ring.from - 2));
             r < std::min(ink.rows, static_cast<int>(ring.to + 3)); ++r)
            ringed[static_cast<std::size_t>(r)] = true;

    // The band: rows that change along the repeat; without a period, rows that are inked at all.
    auto carried = clear(found) ? change_along(fold.mean, ink, weight, found.count) : share_of_ink(ink, unsure);
    for (std::size_t r = 0; r < carried.size(); ++r)
        if (ringed[r]) carried[r] = 0;
    const double most = *std::max_element(carried.begin(), carried.end());
    const double floor = clear(found) ? std::max(0.015, 0.1 * most) : 0.03;
    auto bands = groups(carried, ringed, ribbon.first_row, floor, 0.02 * unit);
    std::erase_if(bands, [&](const Band& b) { return b.rows() < 0.008 * unit || b.from > kInnermost * unit; });
    std::optional<Band> band;
    if (!bands.empty())
        band = *std::max_element(bands.begin(), bands.end(),
                                 [](const Band& a, const Band& b) { return a.ink < b.ink; });
    if (band && clear(found))  // what repeats as often and lies near belongs to it
        for (bool grown = true; grown;) {
            grown = false;
            for (const Band& b : bands) {
                if ((b.from >= band->from && b.to <= band->to) || b.ink < 0.05 * band->ink) continue;
                if (b.from > band->to + 0.05 * unit || b.to < band->from - 0.05 * unit) continue;
                band = Band{std::min(b.from, band->from), std::max(b.to, band->to), b.ink + band->ink};
                grown = true;
            }
        }
    if (band && clear(found)) {  // once more, without the rows that only disturb
        const Periodicity again =
            find_repeats(ink.rowRange(band->from, band->to), weight.rowRange(band->from, band->to), &found);
        if (clear(again) && again.explained > 0.8 * found.explained) found = again;
    }
    if (!clear(found)) found = {};
    const Ring* wide = nullptr;
    for (const Ring& ring : rings)
        if (ring.width() > kBandWidth * unit && (!wide || ring.width() > wide->width())) wide = &ring;
    if (wide && (found.count == 0 || !band))
        band =
            Band{static_cast<int>(wide->from), static_cast<int>(std::ceil(wide->to)), wide->width() * wide->whole};
    else wide = nullptr;
    // Of rings that are as whole, the plainest is the verge line.
    constexpr double kAsWhole = 0.05;
    const Ring* verge = nullptr;
    Band framed = band.value_or(Band{});
    for (const Ring& ring : rings) {
        if (&ring == wide) continue;
        const double t = ribbon.t(ring.at());
        const bool of_border = band && frames(ring, rings, *band, ribbon, ringed);
        if (t < kEdgeWithin && !(of_border && t > 0.03)) continue;
        // (the shade of a wall, which may lie as near to a border as a line)
        if (of_border && ring.width() > kBandWidth * unit && is_shading(ring, ribbon)) continue;
        if (of_border) {
            framed.from = std::min(framed.from, static_cast<int>(ring.from));
            framed.to = std::max(framed.to, static_cast<int>(std::ceil(ring.to)));
        } else if (t > kVergeFrom && ring.width() <= kBandWidth * unit && !is_shading(ring, ribbon) &&
                   (!verge || ring.whole > verge->whole + kAsWhole ||
                    (ring.whole > verge->whole - kAsWhole &&
                     plainness_of(ring, ribbon) > plainness_of(*verge, ribbon)))) {
            verge = &ring;
        }
    }
    if (verge) reading.verge_line = line_of(*verge, ribbon, plate, light);
    // The edge line, where the rim is seen most finely.
    const cv::Mat outside = unroll(picture, plate, -0.035, -0.02, {1024, 3}, {0, 0}).bgr;
    for (const double drop : drops_of_lip(picture, plate, ribbon.strip.slope)) {
        const Ribbon fine = edge_of(picture, plate, ribbon, drop);
        const cv::Mat fine_whole = whole_of_edge(fine, found, folds);
        const std::optional<double> border_from = band ? std::optional(ribbon.t(band->from)) : std::nullopt;
        for (const Ring& ring : find_rings(fine.lit.ink.ink, fine.lit.unsure, {fine_whole, folds}, fine.first_row,
                                           fine.rows_per_unit)) {
            if (!is_edge_line(ring, fine, border_from, outside, plate.has_corners())) continue;
            Line line = line_of(ring, fine, plate, light);
            // what the rim's own edge hides of it
            if (ring.from < fine.first_row + 1) line.width = fine.t(ring.to), line.at = line.width / 2;
            if (plate.mm_per_unit) line.width_mm = line.width * *plate.mm_per_unit;
            reading.edge_line = line;
            break;
        }
        if (reading.edge_line.present > 0) break;
    }
    if (band) {
        if (reading.edge_line.present > 0) {
            const double inner = reading.edge_line.at + reading.edge_line.width / 2;
            framed.from = std::max(framed.from, static_cast<int>(std::ceil(inner * unit)) + 1);
        }
        if (framed.rows() >= 3) fill_border(light, ribbon, framed, found, reading);
        if (reading.repeat && found.count == 0 && band->rows() >= 8)
            reading.border.repeats = repeats_within(ribbon, *band);
    }
    return reading;
}

}  // namespace footring::photo

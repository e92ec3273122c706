// SPDX-License-Identifier: Apache-2.0
#include "photo/seen_lines.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace footring::photo {

namespace {
// How far a ring is from the glaze in hue, and how much darker: medians over its ink.
std::pair<double, double> strength_of(const Ring& ring, const Ribbon& ribbon) {
    std::vector<float> hue, dark;
    const cv::Mat& ink = ribbon.lit.ink.ink;
    for (int r = std::max(0, static_cast<int>(ring.from));
         r < std::min(ink.rows, static_cast<int>(std::ceil(ring.to))); ++r)
        for (int c = 0; c < ink.cols; c += 3) {
            if (ink.at<float>(r, c) < 0.6f) continue;
            const cv::Vec3f &lab = ribbon.lit.lab(r, c), &glaze = ribbon.lit.glaze;
            const float shade = (lab[0] + 16) / (glaze[0] + 16);
            hue.push_back(std::hypot(lab[1] - glaze[1] * shade, lab[2] - glaze[2] * shade));
            dark.push_back(glaze[0] - lab[0]);
        }
    if (hue.empty()) return {0, 0};
    const auto median = [](std::vector<float>& v) {
        const auto mid = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
        std::nth_element(v.begin(), mid, v.end());
        return static_cast<double>(*mid);
    };
    return {median(hue), median(dark)};
}

// How much of a ring's darkness ends within a px on either side of its inner border: 1 for a painted line, little
// for a shade that fades.
double crispness(const Ring& ring, const Ribbon& ribbon) {
    const auto& lab = ribbon.lit.lab;
    const int px = std::max(1, static_cast<int>(std::lround(ribbon.rows_per_px)));
    const int end = static_cast<int>(std::lround(ring.to)), core = static_cast<int>((ring.from + ring.to) / 2);
    const int before = end - px - 1, after = end + px;
    if (before < 0 || after >= lab.rows) return 1;
    double fall = 0, whole = 1e-6;
    for (int c = 0; c < lab.cols; c += 2) {
        if (ribbon.lit.ink.ink.at<float>(core, c) < 0.5f) continue;
        // (a lamp's image beyond the ring makes nothing crisper)
        fall += static_cast<double>(std::min(lab(after, c)[0], ribbon.lit.glaze[0]) - lab(before, c)[0]);
        whole += static_cast<double>(ribbon.lit.glaze[0] - lab(core, c)[0]);
    }
    return fall / whole;
}

// How far a colour is from the nearest mixture of two others.
double off_mixture(const cv::Vec3d& colour, const cv::Vec3d& one, const cv::Vec3d& other) {
    const cv::Vec3d way = other - one;
    const double along = std::clamp((colour - one).dot(way) / std::max(1.0, way.dot(way)), 0.0, 1.0);
    return cv::norm(colour - one - way * along);
}

// The middle colour of full ink in some rows, L*a*b*; `left_out` may be empty. Absent: there is hardly any.
std::optional<cv::Vec3f> middle_of_ink(const Ribbon& ribbon, double from, double to,
                                       const std::vector<bool>& left_out) {
    constexpr float kFullInk = 0.6f;
    constexpr std::size_t kFewest = 30;
    std::array<std::vector<float>, 3> values;
    const cv::Mat& ink = ribbon.lit.ink.ink;
    for (int r = std::max(0, static_cast<int>(from)); r < std::min(ink.rows, static_cast<int>(std::ceil(to)));
         ++r) {
        if (!left_out.empty() && left_out[static_cast<std::size_t>(r)]) continue;
        for (int c = 0; c < ink.cols; c += 3)
            if (ink.at<float>(r, c) > kFullInk)
                for (int k = 0; k < 3; ++k) values[static_cast<std::size_t>(k)].push_back(ribbon.lit.lab(r, c)[k]);
    }
    if (values[0].size() < kFewest) return std::nullopt;
    cv::Vec3f middle;
    for (int k = 0; k < 3; ++k) {
        auto& v = values[static_cast<std::size_t>(k)];
        const auto mid = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
        std::nth_element(v.begin(), mid, v.end());
        middle[k] = *mid;
    }
    return middle;
}

// A line in quite another colour than a border is none of its drawing's, the further off the less so. (Frames of 19
// borders differ from them by up to 27, and lie up to 0.034 from them.)
bool of_another_colour(const Ring& ring, const Ribbon& ribbon, const Band& band, const std::vector<bool>& ringed) {
    constexpr double kOther = 29, kOtherFurther = 20, kFurther = 0.025;
    const auto line = middle_of_ink(ribbon, ring.from, ring.to, {}),
               border = middle_of_ink(ribbon, band.from, band.to, ringed);
    if (!line || !border) return false;
    const double apart = std::hypot((*line)[1] - (*border)[1], (*line)[2] - (*border)[2]);
    const double gap = std::max(band.from - ring.to, ring.from - band.to) / ribbon.rows_per_unit;
    return apart > kOther || (apart > kOtherFurther && gap > kFurther);
}

// Lines that belong to a border's drawing lie close to it.
bool framing(const Ring& ring, const Band& band, double rows_per_unit) {
    const double near = std::max(0.018 * rows_per_unit, 0.25 * band.rows());
    return ring.to > band.from - near && ring.from < band.to + near;
}

// So do two alike that lie equally far from it, one on either side. What runs along the very edge is an edge line.
bool paired(const Ring& ring, const std::vector<Ring>& rings, const Band& band, double rows_per_unit) {
    constexpr double kAtEdge = 0.014;
    const auto gap = [&](const Ring& r) { return r.at() < band.from ? band.from - r.to : r.from - band.to; };
    const double most = std::max(0.03 * rows_per_unit, 0.6 * band.rows());
    for (const Ring& other : rings) {
        if ((other.at() < band.from) == (ring.at() < band.from) ||
            std::min(other.from, ring.from) < kAtEdge * rows_per_unit)
            continue;
        const double a = gap(ring), b = gap(other), w = ring.width() / other.width();
        if (std::max(a, b) < most && std::abs(a - b) < 0.25 * std::max(a, b) + 2 && w > 0.5 && w < 2) return true;
    }
    return false;
}

}  // namespace

Line line_of(const Ring& ring, const Ribbon& ribbon, const Plate& plate, const Light& light) {
    Line line;
    line.present = std::clamp(0.6 + ring.whole, 0.0, 0.99);
    line.at = ribbon.t(ring.at());
    line.width = ring.width() / ribbon.rows_per_unit;
    if (plate.mm_per_unit) line.width_mm = line.width * *plate.mm_per_unit;
    cv::Mat where = cv::Mat::zeros(ribbon.lit.ink.ink.size(), CV_8UC1);
    where
        .rowRange(std::max(0, static_cast<int>(ring.from)),
                  std::min(where.rows, static_cast<int>(std::ceil(ring.to))))
        .setTo(255);
    line.colour = tint_of(ribbon.lit, ribbon.lit.ink.ink, where, light).word;
    return line;
}

bool is_table(const Ring& ring, const Ribbon& ribbon, const cv::Mat& outside, bool straight_sides) {
    const double most_off = straight_sides ? 4 : 2.5;  // px: no outline is further off
    constexpr double kMostBlur = 1.8;                  // px: no further from the edge does blur reach
    constexpr double kAlike = 22;                      // of 255 a channel, over all three
    if (ring.from > ribbon.first_row + ribbon.rows_per_px || ring.width() > most_off * ribbon.rows_per_px)
        return false;
    const bool thin = ring.to < kMostBlur * ribbon.rows_per_px;
    const int last = ribbon.strip.bgr.rows - 1,
              row = std::clamp(static_cast<int>((ring.from + ring.to) / 2), 0, last),
              glaze_row = std::clamp(static_cast<int>(ring.to + 3 * ribbon.rows_per_px), 0, last);
    std::vector<double> off;
    for (int c = 0; c < ribbon.strip.bgr.cols; c += 4) {
        if (ribbon.lit.ink.ink.at<float>(row, c) < 0.5f) continue;
        const cv::Vec3d here = ribbon.strip.bgr.at<cv::Vec3b>(row, c),
                        table = outside.at<cv::Vec3b>(outside.rows / 2, c * outside.cols / ribbon.strip.bgr.cols),
                        glaze = ribbon.strip.bgr.at<cv::Vec3b>(glaze_row, c);
        off.push_back(thin ? off_mixture(here, table, glaze) : cv::norm(here - table));
    }
    if (off.size() < 20) return false;
    const auto mid = off.begin() + static_cast<std::ptrdiff_t>(off.size() / 2);
    std::nth_element(off.begin(), mid, off.end());
    return *mid < kAlike;
}

// What has a hue of its own (measured on 31 renderings: gold 24 to 60, lips and walls below 9) is a line when it is
// wide enough to be seen; a neutral one must be dark and go all round, or break off in many places, as wear does
// and shade does not.
bool is_shading(const Ring& ring, const Ribbon& ribbon) {
    constexpr double kFaint = 13, kDark = 18, kAllRound = 0.93;
    constexpr double kBlack = 32, kSharp = 0.8;  // no wall of a well is so dark and ends so sharply
    constexpr double kUnbroken = 0.97, kPlain = 25, kSoft = 0.35;
    constexpr double kTinge = 5, kSeenPx = 1.5;
    constexpr double kColoured = 6, kTakenAway = 0.8, kMostly = 0.6;  // chroma; share of it; of the rim
    constexpr int kManyBreaks = 6;
    const auto [hue, dark] = strength_of(ring, ribbon);
    const bool at_edge = ring.from < ribbon.first_row + 0.5;
    const double px = ring.width() / ribbon.rows_per_px;
    // Of a ring at the edge the outermost rows were not looked at; a colour of its own is there as well.
    if (hue >= kOwnHue) return at_edge ? ring.to < 1.8 * ribbon.rows_per_px : px < 1.1;
    const double crisp = crispness(ring, ribbon);
    // Platinum mirrors what is about it, and here and there is as light as the glaze; but it takes the glaze's hue
    // away. (Lips and walls of 62 bare rims stay below 3.)
    if (hue >= kTinge && crisp >= kSharp && dark > kFaint && px >= kSeenPx) return false;
    // On a dark glaze of some colour it may be as light as that all round, and is told by its hue alone.
    const double glaze_chroma =
        std::hypot(static_cast<double>(ribbon.lit.glaze[1]), static_cast<double>(ribbon.lit.glaze[2]));
    if (glaze_chroma > kColoured && hue > kTakenAway * glaze_chroma && ring.whole > kMostly && px >= 2)
        return false;
    // Light comes from one side: shade is one stretch, and wear makes many.
    const bool one_stretch = ring.whole < kMostly + 0.2 && ring.breaks <= 1 && hue < kTinge;
    const bool black = dark >= kBlack && crisp >= kSharp && !one_stretch;
    if (px < (black ? 1.0 : at_edge ? 1.6 : 1.3)) return true;
    if (ring.whole > kUnbroken && dark > kPlain && crisp > kSoft) return false;  // light comes from one side
    const bool worn = ring.breaks >= kManyBreaks && crisp > kSharp && dark > kFaint;
    if (crisp < 0.53 || (hue < kOwnHue / 2 && dark < kDark && !worn)) return true;
    return ring.whole < kAllRound && ring.breaks < kManyBreaks && !black;
}

double plainness_of(const Ring& ring, const Ribbon& ribbon) {
    const auto [hue, dark] = strength_of(ring, ribbon);
    return std::hypot(hue, dark);
}

double hue_of_ink(const Ribbon& ribbon, const Band& band) {
    return strength_of({static_cast<double>(band.from), static_cast<double>(band.to)}, ribbon).first;
}

bool frames(const Ring& ring, const std::vector<Ring>& all, const Band& band, const Ribbon& ribbon,
            const std::vector<bool>& ringed) {
    const double unit = ribbon.rows_per_unit;
    return (framing(ring, band, unit) || paired(ring, all, band, unit)) &&
           !of_another_colour(ring, ribbon, band, ringed);
}

}  // namespace footring::photo

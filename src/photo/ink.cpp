// SPDX-License-Identifier: Apache-2.0
#include "photo/ink.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/periodic.h"

namespace footring::photo {

namespace {
const std::array<float, 256>& linear_table() {
    static const auto kTable = [] {
        std::array<float, 256> t{};
        for (std::size_t i = 0; i < 256; ++i) {
            const double v = static_cast<double>(i) / 255;
            t[i] = static_cast<float>(v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4));
        }
        return t;
    }();
    return kTable;
}

// Ratios of the channels, in binary steps: the same in light and shade.
cv::Vec2f hue_of(const Bgr& p) {
    constexpr float kFloor = 0.02f;  // below, noise and lost channels rule
    const float g = std::log2(p[1] + kFloor);
    return {std::log2(p[2] + kFloor) - g, std::log2(p[0] + kFloor) - g};
}

// How far a colour is from a lit or shaded `glaze`: the largest difference of a channel, as a share of the
// brightest.
float off_hue(const Bgr& p, const Bgr& glaze) {
    const float k = static_cast<float>(luminance(p) / std::max(1e-4, luminance(glaze)));
    if (k < 0.02f) return 9;
    const float brightest = std::max({glaze[0], glaze[1], glaze[2], 1e-4f});
    float most = 0;
    for (int c = 0; c < 3; ++c) most = std::max(most, std::abs(p[c] / k - glaze[c]));
    return most / brightest;
}

template <class T>
double quantile(std::vector<T>& v, double q) {
    if (v.empty()) return 0;
    const auto at = v.begin() + static_cast<std::ptrdiff_t>(q * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return static_cast<double>(*at);
}

float smooth_step(float x, float a, float b) {
    const float u = std::clamp((x - a) / (b - a), 0.f, 1.f);
    return u * u * (3 - 2 * u);
}
}  // namespace

cv::Mat_<Bgr> linear_of(const cv::Mat& bgr8) {
    const auto& table = linear_table();
    cv::Mat_<Bgr> out(bgr8.size());
    for (int r = 0; r < bgr8.rows; ++r) {
        const auto* from = bgr8.ptr<cv::Vec3b>(r);
        auto* to = out[r];
        for (int c = 0; c < bgr8.cols; ++c) to[c] = {table[from[c][0]], table[from[c][1]], table[from[c][2]]};
    }
    return out;
}

double luminance(const Bgr& p) { return static_cast<double>(0.0722f * p[0] + 0.7152f * p[1] + 0.2126f * p[2]); }

void blur(const cv::Mat& in, cv::Mat& out, double sigma_x, double sigma_y, bool wraps) {
    // three boxes are a Gaussian to 3 %, at a cost that does not grow with its width
    const auto side = [](double sigma, int most) {
        const int n = static_cast<int>(std::lround(std::sqrt(4 * sigma * sigma + 1)));
        return std::clamp(n | 1, 1, std::max(1, most | 1));
    };
    const cv::Size box(side(sigma_x, in.cols), side(sigma_y, in.rows));
    const int pad = wraps ? std::min(in.cols, 3 * (box.width / 2 + 1)) : 0;
    cv::Mat wide;
    if (pad > 0) cv::copyMakeBorder(in, wide, 0, 0, pad, pad, cv::BORDER_WRAP);
    else wide = in.clone();
    for (int i = 0; i < 3; ++i) cv::blur(wide, wide, box, {-1, -1}, cv::BORDER_REPLICATE);
    out = pad > 0 ? wide.colRange(pad, pad + in.cols).clone() : wide;
}

namespace {
// The commonest hue, brighter ones first: glaze is what ornament is laid upon.
GlazeTone commonest_tone(const std::vector<Bgr>& pixels) {
    constexpr int kBins = 160;
    constexpr float kBin = 0.05f;
    std::vector<std::pair<cv::Vec2f, Bgr>> all;
    cv::Mat_<float> count = cv::Mat_<float>::zeros(kBins, kBins), bright = count.clone();
    for (const Bgr& p : pixels) {
        const cv::Vec2f hue = hue_of(p);
        all.emplace_back(hue, p);
        const int i = static_cast<int>(hue[0] / kBin) + kBins / 2, j = static_cast<int>(hue[1] / kBin) + kBins / 2;
        if (i < 0 || j < 0 || i >= kBins || j >= kBins) continue;
        const float y1 = static_cast<float>(luminance(p));
        count(i, j) += 1;
        bright(i, j) += std::pow(y1, 1.5f);
    }
    GlazeTone tone;
    if (all.empty()) return tone;
    cv::GaussianBlur(count, count, {}, 1.2);
    cv::GaussianBlur(bright, bright, {}, 1.2);
    // (yet where another hue is many times as common, what is bright is a pale ornament or a lamp on a dark glaze)
    constexpr double kManyTimes = 2.5;
    double most = 0;
    cv::Point peak, commonest;
    cv::minMaxLoc(bright, nullptr, nullptr, nullptr, &peak);
    cv::minMaxLoc(count, nullptr, &most, nullptr, &commonest);
    if (static_cast<double>(count(peak)) * kManyTimes < most) peak = commonest;
    const cv::Vec2f middle((static_cast<float>(peak.y - kBins / 2) + 0.5f) * kBin,
                           (static_cast<float>(peak.x - kBins / 2) + 0.5f) * kBin);
    std::vector<float> b, g, r;
    for (const auto& [hue, p] : all)
        if (cv::norm(hue - middle) < 0.15) {
            b.push_back(p[0]);
            g.push_back(p[1]);
            r.push_back(p[2]);
        }
    if (b.empty()) return tone;
    tone.share = static_cast<double>(b.size()) / static_cast<double>(all.size());
    tone.bgr = {static_cast<float>(quantile(b, 0.5)), static_cast<float>(quantile(g, 0.5)),
                static_cast<float>(quantile(r, 0.5))};
    return tone;
}
}  // namespace

GlazeTone glaze_tone(const Picture& picture, const Plate& plate) {
    constexpr int kSize = 160;
    constexpr float kFull = 0.96f;  // of the sensor: hue is lost there, in the image of a window most of all
    constexpr double kEnough =
        0.25;  // of the plate: less may be ornament on a plate that is overexposed as a whole
    const cv::Mat_<Bgr> top = linear_of(upright(picture, plate, kSize, -0.06));
    std::vector<Bgr> on_plate, not_full;
    for (int r = 0; r < kSize; ++r)
        for (int c = 0; c < kSize; ++c) {
            const double x = -1.05 + 2.1 * (c + 0.5) / kSize, y = (-1.05 + 2.1 * (r + 0.5) / kSize) / plate.aspect;
            if (x * x + y * y > 0.92) continue;
            const Bgr& p = top(r, c);
            on_plate.push_back(p);
            if (std::max({p[0], p[1], p[2]}) < kFull) not_full.push_back(p);
        }
    if (static_cast<double>(not_full.size()) > kEnough * static_cast<double>(on_plate.size()))
        if (const GlazeTone tone = commonest_tone(not_full);
            tone.share * static_cast<double>(not_full.size()) > kEnough * static_cast<double>(on_plate.size()))
            return tone;
    return commonest_tone(on_plate);
}

namespace {
// How likely a pixel is bare glaze lit by `light`: hue alike, and neither much darker nor brighter.
float glaze_weight(const Bgr& p, const Bgr& light, const Bgr& glaze, float hue_width, float darkest,
                   float brightest) {
    const float off = off_hue(p, glaze), hue = std::exp(-off * off / (2 * hue_width * hue_width));
    const float ratio = static_cast<float>(luminance(p) / std::max(1e-4, luminance(light)));
    const float low = smooth_step(ratio, darkest - 0.05f, darkest + 0.05f);
    const float high = 1 - smooth_step(ratio, brightest - 0.04f, brightest + 0.06f);
    return hue * low * high;
}

// The smooth field of light, at the size of `small`.
cv::Mat_<Bgr> find_light(const cv::Mat_<Bgr>& small, const cv::Mat& seen, const GlazeTone& tone, double px_per_unit,
                         bool wraps) {
    struct Round {
        double along, across;  // sigma, plate units
        float hue, darkest, brightest;
    };
    // from a first idea that takes shade and light for glaze to one that takes glaze only
    constexpr Round kRounds[] = {{0.80, 0.20, 0.10f, 0.40f, 1.45f},
                                 {0.40, 0.12, 0.08f, 0.66f, 1.30f},
                                 {0.22, 0.08, 0.07f, 0.78f, 1.20f},
                                 {0.14, 0.05, 0.07f, 0.84f, 1.14f},
                                 {0.10, 0.04, 0.07f, 0.87f, 1.12f}};
    // where the sensor is full, hue and lightness are lost; a plate that is overexposed as a whole has to do
    const float full = luminance(tone.bgr) < 0.85 ? 0.95f : 2.f;
    cv::Mat_<Bgr> light(small.size(), tone.bgr);
    cv::Mat_<Bgr> weighted(small.size());
    cv::Mat_<float> weight(small.size());
    constexpr double kEnoughOfSigma = 2.5;  // px
    bool first = true;
    for (const Round& round : kRounds) {
        for (int r = 0; r < small.rows; ++r)
            for (int c = 0; c < small.cols; ++c) {
                const float w = seen.at<uchar>(r, c) < 128 || small(r, c)[1] > full
                                    ? 0.f
                                    : glaze_weight(small(r, c), light(r, c), tone.bgr, round.hue, round.darkest,
                                                   round.brightest);
                weight(r, c) = w;
                weighted(r, c) = small(r, c) * w;
            }
        cv::Mat sum, norm;
        // a crop (no wrap) has no direction that is longer than the other
        const double sx = (wraps ? round.along : round.across * 1.5) * px_per_unit, sy = round.across * px_per_unit;
        // So smooth a field is as well known from fewer places.
        const int by = std::max(1, static_cast<int>(sy / kEnoughOfSigma));
        const cv::Size fewer(std::max(4, small.cols / by), std::max(4, small.rows / by));
        cv::resize(weighted, sum, fewer, 0, 0, cv::INTER_AREA);
        cv::resize(weight, norm, fewer, 0, 0, cv::INTER_AREA);
        blur(sum, sum, sx * fewer.width / small.cols, sy * fewer.height / small.rows, wraps);
        blur(norm, norm, sx * fewer.width / small.cols, sy * fewer.height / small.rows, wraps);
        cv::resize(sum, sum, small.size(), 0, 0, cv::INTER_LINEAR);
        cv::resize(norm, norm, small.size(), 0, 0, cv::INTER_LINEAR);
        const float keep = first ? 0.002f : 0.02f;  // where no glaze is near, the wider estimate stays
        for (int r = 0; r < small.rows; ++r)
            for (int c = 0; c < small.cols; ++c)
                light(r, c) = (sum.at<Bgr>(r, c) + light(r, c) * keep) * (1 / (norm.at<float>(r, c) + keep));
        first = false;
    }
    return light;
}

// Sun and shade may divide a piece, deep bowls most of all, in two large parts with a sharp border. The share of
// the tone's light that falls on each place; empty where there is but one level.
cv::Mat_<float> two_levels_of_light(const cv::Mat_<Bgr>& small, const cv::Mat& seen, const GlazeTone& tone,
                                    double px_per_unit, bool wraps) {
    constexpr int kBins = 64;
    constexpr double kDarkest = -4, kPerStop = 10, kApart = 0.8;  // stops from the tone; bins a stop; stops
    constexpr float kHueAlike = 0.12f, kFull = 0.95f;
    constexpr double kLeastPart = 0.18, kValley = 0.35, kCoherent = 0.93, kMostFull = 0.3, kPatch = 0.04;
    cv::Mat_<float> glaze(small.size(), 0.f), stops(small.size(), 0.f);
    std::vector<double> histogram(kBins, 0.0);
    double all = 0;
    for (int r = 0; r < small.rows; ++r)
        for (int c = 0; c < small.cols; ++c) {
            if (seen.at<uchar>(r, c) < 128 || off_hue(small(r, c), tone.bgr) > kHueAlike) continue;
            const double s =
                std::log2(std::max(1e-4, luminance(small(r, c)) / std::max(1e-4, luminance(tone.bgr))));
            const int bin = static_cast<int>((s - kDarkest) * kPerStop);
            if (bin < 0 || bin >= kBins) continue;
            glaze(r, c) = 1, stops(r, c) = static_cast<float>(s);
            ++histogram[static_cast<std::size_t>(bin)], ++all;
        }
    if (all < 500) return {};
    std::vector<double> calm(kBins, 0.0);
    for (int i = 0; i < kBins; ++i)
        for (int k = -2; k <= 2; ++k)
            if (i + k >= 0 && i + k < kBins)
                calm[static_cast<std::size_t>(i)] += histogram[static_cast<std::size_t>(i + k)] / 5;
    // The two peaks whose lower one stands out most from the valley between them.
    int dark = -1, lit = -1, valley = -1;
    double best = 0;
    for (int i = 0; i < kBins; ++i)
        for (int k = i + static_cast<int>(kApart * kPerStop); k < kBins; ++k) {
            const int low = static_cast<int>(std::min_element(calm.begin() + i, calm.begin() + k) - calm.begin());
            const double lower = std::min(calm[static_cast<std::size_t>(i)], calm[static_cast<std::size_t>(k)]),
                         stands = lower - calm[static_cast<std::size_t>(low)];
            if (stands > best && calm[static_cast<std::size_t>(low)] < kValley * lower)
                best = stands, dark = i, lit = k, valley = low;
        }
    if (dark < 0) return {};
    const float border = static_cast<float>(kDarkest + (valley + 0.5) / kPerStop);
    cv::Mat_<float> bright(small.size(), 0.f);
    double brights = 0, full = 0;
    for (int r = 0; r < small.rows; ++r)
        for (int c = 0; c < small.cols; ++c)
            if (glaze(r, c) > 0 && stops(r, c) > border) {
                bright(r, c) = 1;
                ++brights;
                full += std::max({small(r, c)[0], small(r, c)[1], small(r, c)[2]}) > kFull;
            }
    // (what is full may be the image of a window)
    if (std::min(brights, all - brights) < kLeastPart * all || full > kMostFull * brights) return {};
    cv::Mat near_bright, near;
    blur(bright, near_bright, kPatch * px_per_unit, kPatch * px_per_unit, wraps);
    blur(glaze, near, kPatch * px_per_unit, kPatch * px_per_unit, wraps);
    const float low = static_cast<float>(std::exp2(kDarkest + (dark + 0.5) / kPerStop)),
                high = static_cast<float>(std::exp2(kDarkest + (lit + 0.5) / kPerStop));
    cv::Mat_<float> out(small.size());
    double fits = 0;
    for (int r = 0; r < small.rows; ++r)
        for (int c = 0; c < small.cols; ++c) {
            const bool in_light = near_bright.at<float>(r, c) > 0.5f * near.at<float>(r, c);
            out(r, c) = in_light ? high : low;
            fits += glaze(r, c) > 0 && in_light == (bright(r, c) > 0);
        }
    return fits > kCoherent * all ? out : cv::Mat_<float>();  // dark ornament lies all over, shade does not
}

// Neutral darkening that no ornament makes is shade: wide both ways, or a long streak along the rim that fades (the
// wall of the well, which faces the lamp on one side only). What runs all round is a band, and ink. The light is
// lowered in the shade. Returns where its borders are, CV_8UC1 at the size of `small`.
cv::Mat take_shadows(const cv::Mat_<Bgr>& small, cv::Mat_<Bgr>& light, const GlazeTone& tone, double px_per_unit,
                     bool wraps) {
    cv::Mat_<float> ratio(small.size());
    for (int r = 0; r < small.rows; ++r)
        for (int c = 0; c < small.cols; ++c) {
            // coloured ink casts none: closing must pass over it
            const float neutral =
                off_hue(small(r, c), tone.bgr) < 0.2f
                    ? static_cast<float>(luminance(small(r, c)) / std::max(1e-4, luminance(light(r, c))))
                    : 0.f;
            ratio(r, c) = std::min(1.f, neutral);
        }
    const auto px = [&](double units) { return std::max(1, static_cast<int>(units * px_per_unit)); };
    const auto box = [](int w, int h) { return cv::getStructuringElement(cv::MORPH_RECT, {2 * w + 1, 2 * h + 1}); };
    const int reach = px(0.045), pad = wraps ? px(0.6) : 0;
    cv::Mat padded, closed_wide, streak;
    cv::copyMakeBorder(ratio, padded, 0, 0, pad, pad, cv::BORDER_WRAP);
    cv::morphologyEx(padded, closed_wide, cv::MORPH_CLOSE, box(reach, reach));
    if (wraps) {
        cv::morphologyEx(padded, streak, cv::MORPH_CLOSE, box(0, px(0.011)));
        cv::morphologyEx(streak, streak, cv::MORPH_CLOSE, box(px(0.15), 0));
        closed_wide = cv::min(closed_wide, streak);
    }
    cv::Mat_<float> closed = closed_wide.colRange(pad, pad + ratio.cols).clone();
    if (wraps)
        for (int r = 0; r < closed.rows; ++r) {  // a band runs all round: leave it to be ink
            std::vector<float> row(closed[r], closed[r] + closed.cols);
            if (quantile(row, 0.72) < 0.86)
                for (int c = 0; c < closed.cols; ++c) closed(r, c) = 1;
        }
    for (int r = 0; r < closed.rows; ++r)
        for (int c = 0; c < closed.cols; ++c)
            // nearly black is no shadow on a table that is photographed: something still lights it
            if (closed(r, c) > 0.96f || closed(r, c) < 0.12f) closed(r, c) = 1;
    cv::Mat soft, low, high;
    blur(closed, soft, 0.006 * px_per_unit, 0.004 * px_per_unit, wraps);
    cv::Mat border = cv::Mat::zeros(small.size(), CV_8UC1);
    const cv::Mat near = box(px(0.02), px(0.012));
    cv::erode(soft, low, near);
    cv::dilate(soft, high, near);
    for (int r = 0; r < soft.rows; ++r)
        for (int c = 0; c < soft.cols; ++c) {
            light(r, c) *= soft.at<float>(r, c);
            if (high.at<float>(r, c) - low.at<float>(r, c) > 0.10f) border.at<uchar>(r, c) = 255;
        }
    return border;
}

// The mirror image of a lamp adds its own light to the glaze's: every channel rises. Ornament takes light from one
// channel at least, gold in its brightest place included.
bool mirrors_lamp(const Bgr& p, const Bgr& light) {
    const Bgr more = p - light;
    const float most = std::max({more[0], more[1], more[2]}), scale = std::max({light[0], light[1], light[2]});
    if (most < 0.035f * scale + 0.004f) return false;
    const auto rises = [&](int k) { return more[k] > 0.25f * most || p[k] > 0.97f; };
    return rises(0) && rises(1) && rises(2);
}
}  // namespace

namespace {
// Linear light as sRGB bytes.
cv::Mat encoded(const cv::Mat_<Bgr>& linear) {
    constexpr int kSteps = 4095;
    static const auto kTable = [] {
        std::array<uchar, kSteps + 1> t{};
        for (std::size_t i = 0; i <= kSteps; ++i) {
            const double v = static_cast<double>(i) / kSteps;
            t[i] =
                cv::saturate_cast<uchar>(255 * (v <= 0.0031308 ? v * 12.92 : 1.055 * std::pow(v, 1 / 2.4) - 0.055));
        }
        return t;
    }();
    cv::Mat out(linear.size(), CV_8UC3);
    for (int r = 0; r < linear.rows; ++r) {
        const Bgr* from = linear[r];
        auto* to = out.ptr<cv::Vec3b>(r);
        for (int c = 0; c < linear.cols; ++c)
            for (int k = 0; k < 3; ++k)
                to[c][k] = kTable[static_cast<std::size_t>(std::clamp(from[c][k], 0.f, 1.f) * kSteps)];
    }
    return out;
}
// Pale ornament on a dark glaze is brighter than it in every channel, as a lamp's image is. It repeats round the
// rim, which lamps do not: where the brighter pixels do so, those of a repeat are ink, save what outshines the
// repeats.
constexpr float kDarkGlaze = 72;  // L*: above, nothing that is laid on glaze is so much brighter
void take_pale_ornament(LitImage& lit, cv::Mat_<float>& differ) {
    constexpr float kFull = 25, kLeast = 8;  // L* above the glaze
    constexpr double kClearly = 0.15;        // explained by the repeats, and thrice what others explain
    constexpr double kAllRound = 0.93, kFoldedLeast = 0.08;  // shares: of the columns, of what changes along a row
    constexpr float kOutshines = 1.6f;                       // of what is usual in its row
    cv::Mat_<float> pale(lit.unsure.size(), 0.f);
    int bright = 0;
    for (int r = 0; r < pale.rows; ++r) {
        int here = 0;
        for (int c = 0; c < pale.cols; ++c) {
            const float more = lit.lab(r, c)[0] - lit.glaze[0];
            if (!lit.unsure.at<uchar>(r, c) || more < kLeast) continue;
            pale(r, c) = std::min(1.f, more / kFull);
            ++here;
        }
        // (what is bright nearly all round is the mirror of a lamp along the lip, or a line)
        if (here > kAllRound * pale.cols) pale.row(r).setTo(0);
        else bright = std::max(bright, here);
    }
    if (bright < pale.cols / 8) return;
    const cv::Mat everywhere = cv::Mat::ones(pale.size(), CV_32FC1);
    const Periodicity found = find_repeats(pale, everywhere);
    if (found.count == 0 || found.explained < kClearly || found.explained < 3 * found.runner_up) return;
    // Rows in which it repeats, and how bright it is there.
    const int length = std::clamp(pale.cols / found.count, 12, 1024);
    const cv::Mat_<float> even = evened(pale, found, found.count, length, 0);
    for (int r = 0; r < pale.rows; ++r) {
        std::vector<double> repeat(static_cast<std::size_t>(length), 0.0);
        std::vector<float> bright_here;
        double sum = 0, square = 0, folded = 0;
        for (int c = 0; c < even.cols; ++c) {
            const double v = static_cast<double>(even(r, c));
            repeat[static_cast<std::size_t>(c % length)] += v / found.count;
            sum += v / even.cols, square += v * v / even.cols;
        }
        for (const double v : repeat) folded += (v - sum) * (v - sum) / length;
        if (folded < std::max(kFoldedLeast, 2 / static_cast<double>(found.count)) * (square - sum * sum)) continue;
        for (int c = 0; c < pale.cols; ++c)
            if (pale(r, c) > 0) bright_here.push_back(lit.lab(r, c)[0] - lit.glaze[0]);
        if (bright_here.empty()) continue;
        const float most = kOutshines * static_cast<float>(quantile(bright_here, 0.5));
        for (int c = 0; c < pale.cols; ++c) {
            const float more = lit.lab(r, c)[0] - lit.glaze[0];
            if (pale(r, c) <= 0 || more > most) continue;
            lit.unsure.at<uchar>(r, c) = 0;
            differ(r, c) = more;
        }
    }
}
}  // namespace

LitImage tell_ink(const cv::Mat& bgr, const cv::Mat& seen, const GlazeTone& tone, const InkOptions& options) {
    LitImage lit;
    lit.tone = tone.bgr;
    const cv::Mat_<Bgr> linear = linear_of(bgr);
    cv::Mat border;
    if (options.light.empty()) {
        const int by = std::max(1, static_cast<int>(options.px_per_unit / 120));
        const cv::Size small_size(std::max(8, bgr.cols / by), std::max(8, bgr.rows / by));
        cv::Mat_<Bgr> small;
        cv::Mat small_seen;
        cv::resize(linear, small, small_size, 0, 0, cv::INTER_AREA);
        cv::resize(seen, small_seen, small_size, 0, 0, cv::INTER_AREA);
        const double small_unit = options.px_per_unit * small_size.width / bgr.cols;
        const cv::Mat_<float> levels = two_levels_of_light(small, small_seen, tone, small_unit, options.wraps);
        cv::Mat_<Bgr> even = small.clone();
        for (int r = 0; r < levels.rows; ++r)
            for (int c = 0; c < levels.cols; ++c) even(r, c) *= 1 / levels(r, c);
        cv::Mat_<Bgr> light = find_light(even, small_seen, tone, small_unit, options.wraps);
        cv::Mat small_border = take_shadows(even, light, tone, small_unit, options.wraps);
        if (!levels.empty()) {
            cv::Mat low, high;
            const cv::Mat near = cv::getStructuringElement(cv::MORPH_RECT, {5, 5});
            cv::erode(levels, low, near);
            cv::dilate(levels, high, near);
            small_border |= high > low;
            for (int r = 0; r < levels.rows; ++r)
                for (int c = 0; c < levels.cols; ++c) light(r, c) *= levels(r, c);
        }
        cv::resize(light, lit.light, bgr.size(), 0, 0, cv::INTER_LINEAR);
        cv::resize(small_border, border, bgr.size(), 0, 0, cv::INTER_NEAREST);
    } else {
        lit.light = options.light;
        border = cv::Mat::zeros(bgr.size(), CV_8UC1);
    }

    // evenly lit: glaze has the lightness that its tone has at half of full light
    cv::Mat_<Bgr> even(bgr.size());
    // (dark glaze is left dark, so that bright ornament on it keeps its colour)
    const double tone_light = std::max(0.02, luminance(tone.bgr));
    const double strongest_channel = static_cast<double>(std::max({tone.bgr[0], tone.bgr[1], tone.bgr[2], 0.01f}));
    lit.scale = std::max(tone_light / std::clamp(1.6 * tone_light, 0.04, 0.62), strongest_channel / 0.8);
    const Bgr aim = tone.bgr * static_cast<float>(1 / lit.scale);
    for (int r = 0; r < bgr.rows; ++r)
        for (int c = 0; c < bgr.cols; ++c) {
            const Bgr &p = linear(r, c), &l = lit.light(r, c);
            for (int k = 0; k < 3; ++k) even(r, c)[k] = std::clamp(p[k] / std::max(l[k], 2e-3f) * aim[k], 0.f, 1.f);
        }
    cv::cvtColor(even, lit.lab, cv::COLOR_LBGR2Lab);
    {
        cv::Mat_<Bgr> one(1, 1, aim);
        cv::Mat_<cv::Vec3f> lab;
        cv::cvtColor(one, lab, cv::COLOR_LBGR2Lab);
        lit.glaze = lab(0, 0);
    }
    lit.noise = options.noise;
    if (lit.noise <= 0) {
        std::vector<float> away;  // noise, from the calmer half of all pixels
        for (int r = 1; r < bgr.rows; r += 3)
            for (int c = 1; c < bgr.cols; c += 7) {
                const cv::Vec3f d = lit.lab(r, c) - lit.glaze;
                away.push_back(static_cast<float>(cv::norm(d)));
            }
        lit.noise = std::clamp(quantile(away, 0.35) * 1.1, 0.3, 5.0);
    }
    lit.unsure = cv::Mat::zeros(bgr.size(), CV_8UC1);
    cv::Mat_<float> differ(bgr.size());
    const float lowest = static_cast<float>(std::max(4.5, 3.5 * lit.noise));
    const float neutral_lowest = std::max(9.f, 1.6f * lowest);
    for (int r = 0; r < bgr.rows; ++r)
        for (int c = 0; c < bgr.cols; ++c) {
            cv::Vec3f d = lit.lab(r, c) - lit.glaze;
            // shade scales a* and b* with L* + 16 (CIE 15, cube roots): what is left is another colour
            const float shade = (lit.lab(r, c)[0] + 16) / (lit.glaze[0] + 16);
            for (int k = 1; k < 3; ++k) d[k] = lit.lab(r, c)[k] - lit.glaze[k] * shade;
            const float hue = std::sqrt(d[1] * d[1] + d[2] * d[2]);
            float away = std::sqrt(d.dot(d));
            uchar& unsure = lit.unsure.at<uchar>(r, c);
            if (mirrors_lamp(linear(r, c), lit.light(r, c))) {
                if (d[0] > 4) unsure = 255;
                away = 0;
            } else if (hue < lowest) {
                // neutral: shading of relief and soft shade stay below, black and platinum rise above
                const bool soft = border.at<uchar>(r, c) != 0;
                if (soft && d[0] < -3) unsure = 255;
                const float dark = std::max(0.f, -d[0]);
                away = dark < neutral_lowest || soft ? 0 : away;
            }
            differ(r, c) = away;
        }
    if (options.wraps && options.light.empty() && lit.glaze[0] < kDarkGlaze) take_pale_ornament(lit, differ);
    // a lamp's image has blurred borders, which are neither
    cv::morphologyEx(lit.unsure, lit.unsure, cv::MORPH_OPEN, cv::getStructuringElement(cv::MORPH_RECT, {3, 3}));
    cv::dilate(lit.unsure, lit.unsure, cv::getStructuringElement(cv::MORPH_RECT, {5, 5}));
    lit.unsure.setTo(255, seen < 128);
    // Coverage: 1 where a pixel differs as much as the ornament round it does at its strongest.
    cv::Mat strongest;
    {
        const int reach = std::max(2, static_cast<int>(0.02 * options.px_per_unit));
        cv::Mat calm, half;
        cv::blur(differ, calm, {3, 3});
        cv::resize(calm, half, {std::max(1, bgr.cols / 2), std::max(1, bgr.rows / 2)}, 0, 0, cv::INTER_AREA);
        cv::dilate(half, half, cv::getStructuringElement(cv::MORPH_RECT, {reach | 1, reach | 1}));
        blur(half, half, reach * 0.5, reach * 0.5, options.wraps);
        cv::resize(half, strongest, bgr.size(), 0, 0, cv::INTER_LINEAR);
    }
    cv::Mat_<float> ink(bgr.size());
    const float floor = 0.6f * lowest;
    for (int r = 0; r < bgr.rows; ++r)
        for (int c = 0; c < bgr.cols; ++c) {
            const float full = std::max(0.85f * strongest.at<float>(r, c), 1.6f * lowest);
            ink(r, c) = std::clamp((differ(r, c) - floor) / (full - floor), 0.f, 1.f);
            if (lit.unsure.at<uchar>(r, c)) ink(r, c) = 0;
        }
    lit.ink.ink = ink;
    lit.ink.unsure = lit.unsure;
    lit.ink.bgr = encoded(even);
    return lit;
}

}  // namespace footring::photo

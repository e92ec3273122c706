// SPDX-License-Identifier: Apache-2.0
#include "photo/rim_line.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "photo/radial.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr int kRimPlaces = 360;
constexpr double kAcross = 0.5;       // px along the normal
constexpr double kWidest = 0.05;      // of the shorter semi-axis: wider lines are bands, and found as such
constexpr double kOtherHue = 0.16;    // from which hues are not one hue in light and shade
constexpr double kLeastPlaces = 0.4;  // share of the visible places at which the line is told from the table

constexpr int kLineFrom = 4, kLineTo = 6;                       // steps: beyond the blur of the inner side
constexpr int kAlikeLines = kRimPlaces / 24, kAlikeTables = 2;  // places to each side: stripes are narrow
constexpr std::size_t kBlurOfEnd = 5;                           // steps about an end that both sides have a part in

using Hue = cv::Vec2f;

// Blue and red against green. Dark noise is kept small by the addend.
Hue hue_of(const cv::Vec3f& light) {
    constexpr float kDark = 0.003f;
    const float green = std::log(light[1] + kDark);
    return {std::log(light[0] + kDark) - green, std::log(light[2] + kDark) - green};
}

// How far a light is from the mixture of two others, lit or shaded, whose hue is nearest: blur makes such mixtures.
struct FromMixture {
    double hue = 1e9;
    double values = 0;  // of 255, over all three channels
};
FromMixture from_mixture(const cv::Vec3f& light, const cv::Vec3f& one, const cv::Vec3f& other) {
    constexpr int kMixtures = 12;
    const Hue hue = hue_of(light);
    const auto bright = [](const cv::Vec3f& v) { return std::max(1e-4f, v[0] + v[1] + v[2]); };
    const cv::Vec3f a = one * (bright(light) / bright(one)), b = other * (bright(light) / bright(other));
    FromMixture out;
    cv::Vec3f nearest;
    for (int i = 0; i <= kMixtures; ++i) {
        const float share = static_cast<float>(i) / kMixtures;
        const cv::Vec3f mixture = a * share + b * (1 - share);
        const double off = cv::norm(hue - hue_of(mixture));
        if (off < out.hue) out.hue = off, nearest = mixture;
    }
    double square = 0;
    for (int c = 0; c < 3; ++c) {
        const double d =
            srgb_from_linear(static_cast<double>(light[c])) - srgb_from_linear(static_cast<double>(nearest[c]));
        square += d * d;
    }
    out.values = std::sqrt(square);
    return out;
}

// Whether so much light from before the edge is left just beyond it that blur does not explain it, in another hue
// than further out.
bool too_bright_for_blur(const cv::Vec3f& light, const cv::Vec3f& before, const cv::Vec3f& beyond) {
    constexpr double kMostByBlur = 0.35;
    const double oo = before.dot(before), pp = beyond.dot(beyond), op = before.dot(beyond), lo = light.dot(before),
                 lp = light.dot(beyond), det = oo * pp - op * op;
    const double share = det > 1e-9 ? (lo * pp - lp * op) / det : 0;
    return share > kMostByBlur && cv::norm(hue_of(light) - hue_of(beyond)) > kOtherHue;
}

// Means over places to both sides, going round; of those that are seen.
template <class V>
std::vector<V> calmed(const std::vector<V>& in, const std::vector<char>& seen, int reach) {
    const int n = static_cast<int>(in.size());
    std::vector<V> out(in.size());
    for (int i = 0; i < n; ++i) {
        V sum;
        float count = 1e-6f;
        for (int k = -reach; k <= reach; ++k) {
            const auto j = static_cast<std::size_t>((i + k + n) % n);
            if (!seen[j]) continue;
            sum += in[j];
            ++count;
        }
        out[static_cast<std::size_t>(i)] = sum * (1 / count);
    }
    return out;
}

// Hue turns late where the brighter of two colours ends: it still rules when little of it is left. `turns`: the
// step at which hue does. The step, a broken number, at which half of the light is the line's; absent where the
// table just beyond is lit so that this cannot be told.
std::optional<double> half_of_light(const std::vector<cv::Vec3f>& lights, const cv::Vec3f& line,
                                    std::size_t turns) {
    cv::Vec3f table(0, 0, 0);
    float count = 0;
    for (std::size_t k = turns + kBlurOfEnd; k < std::min(lights.size(), turns + 2 * kBlurOfEnd); ++k, ++count)
        table += lights[k];
    if (count < 1) return std::nullopt;
    table *= 1 / count;
    const cv::Vec3f way = line - table;
    const float square = way.dot(way);
    if (square < 1e-6f) return std::nullopt;
    const auto share = [&](std::size_t k) { return (lights[k] - table).dot(way) / square; };
    for (std::size_t k = turns + 1; k > 0 && k + kBlurOfEnd > turns; --k) {
        const float a = share(k - 1), b = share(k);
        if (a >= 0.5f && b < 0.5f) return static_cast<double>(k - 1) + static_cast<double>((a - 0.5f) / (a - b));
    }
    return std::nullopt;
}

}  // namespace

// Ornament lies here and there.
cv::Vec3f glaze_within(const cv::Mat& bgr, const Hoop& hoop) {
    std::array<std::vector<float>, 2> ratios;
    for (int i = 0; i < kRimPlaces; i += 3)
        for (const double depth : {0.03, 0.08, 0.13, 0.2, 0.3, 0.4, 0.5}) {
            const double f = 2 * std::numbers::pi * i / kRimPlaces;
            const cv::Point2d p = hoop.centre + (hoop.at(f) - hoop.centre) * (1 - depth);
            if (!within(bgr, p)) continue;
            const Hue hue = hue_of(light_at(bgr, p));
            ratios[0].push_back(hue[0]);
            ratios[1].push_back(hue[1]);
        }
    cv::Vec3f out(1, 1, 1);
    for (std::size_t c = 0; c < 2; ++c) {
        auto& v = ratios[c];
        if (v.empty()) continue;
        std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
        out[c == 0 ? 0 : 2] = std::exp(v[v.size() / 2]);
    }
    return out;
}

std::vector<std::optional<double>> ends_of_line(const cv::Mat& bgr, const std::vector<Across>& all, double beside,
                                                double widest, const cv::Vec3f& glaze) {
    constexpr std::size_t kInside = 6, kPurestTo = kInside + 10;  // steps about the curve
    // Colour is stored more coarsely than lightness, and runs over from the glaze onto a dark table.
    constexpr double kLeastOwn = 0.2, kLeastPlain = 11;
    const std::size_t steps = kInside + static_cast<std::size_t>(2 * widest / kAcross), far = (kInside + steps) / 2;
    const auto offset = [&](double k) { return (k - static_cast<double>(kInside)) * kAcross; };
    // Light along each normal, outwards.
    const std::size_t places = all.size();
    std::vector<std::vector<cv::Vec3f>> lights(places);
    std::vector<cv::Vec3f> before(places), after(places), table(places);
    std::vector<char> seen(places, 0);
    const auto mean_of = [&](std::size_t i, std::size_t from, std::size_t to) {
        cv::Vec3f sum(0, 0, 0);
        for (std::size_t k = from; k < to; ++k) sum += lights[i][k];
        return sum * (1.f / static_cast<float>(to - from));
    };
    for (std::size_t i = 0; i < places; ++i) {
        const auto& [foot, normal, visible] = all[i];
        if (!visible) continue;
        const cv::Point2d along(-normal.y, normal.x), first = foot + normal * offset(0),
                                                      last = foot + normal * offset(static_cast<double>(steps));
        if (!within(bgr, last + along * beside) || !within(bgr, last - along * beside) ||
            !within(bgr, first + along * beside) || !within(bgr, first - along * beside))
            continue;
        seen[i] = 1;
        for (std::size_t k = 0; k <= steps; ++k) {
            cv::Vec3f mean(0, 0, 0);
            for (int b = -1; b <= 1; ++b)
                mean += light_at(bgr, foot + normal * offset(static_cast<double>(k)) + along * (b * beside)) *
                        (1 / 3.f);
            lights[i].push_back(mean);
        }
        before[i] = lights[i][1];
        after[i] = mean_of(i, kInside + kLineFrom, kInside + kLineTo);
        table[i] = mean_of(i, far, steps + 1);
    }
    table = calmed(table, seen, kAlikeTables);
    before = calmed(before, seen, kAlikeLines);
    after = calmed(after, seen, kAlikeLines);
    std::vector<std::optional<double>> ends(places);
    for (std::size_t i = 0; i < places; ++i) {
        if (!seen[i]) continue;
        // Where the line is seen most purely.
        std::size_t from = 0;
        cv::Vec3f line;
        double most = 0;
        for (std::size_t k = 1; k < kPurestTo; ++k) {
            const cv::Vec3f light = mean_of(i, k - 1, k + 2);
            const FromMixture own = from_mixture(light, glaze, table[i]);
            if (own.hue > most && own.hue > kLeastOwn && own.values > kLeastPlain &&
                cv::norm(hue_of(light) - hue_of(table[i])) > kOtherHue)
                most = own.hue, from = k, line = light;
        }
        if (from == 0 && too_bright_for_blur(after[i], before[i], table[i]))
            from = kInside + kLineFrom, line = after[i];
        if (from == 0) continue;
        const Hue end_hue = hue_of(table[i]), to_line = hue_of(line) - end_hue;
        const float square = to_line.dot(to_line);
        if (std::sqrt(square) < kOtherHue) continue;
        const auto share = [&](std::size_t k) { return (hue_of(lights[i][k]) - end_hue).dot(to_line) / square; };
        for (std::size_t k = from; k + 3 < lights[i].size(); ++k) {
            const float a = share(k), b = share(k + 1);
            if (a < 0.5f || b >= 0.5f || share(k + 3) > 0.5f) continue;
            if (offset(static_cast<double>(k)) > widest) break;
            // Light turns early where the lip rolls into the shade, hue late where the table is dark.
            const double by_hue = static_cast<double>(k) + static_cast<double>((a - 0.5f) / (a - b));
            ends[i] = offset((by_hue + half_of_light(lights[i], line, k).value_or(by_hue)) / 2);
            break;
        }
    }
    return ends;
}

std::optional<LineSide> outer_side_of_line(const cv::Mat& bgr, const Hoop& inner) {
    const Axes axes = axes_of(inner);
    const double widest = std::max(6.0, kWidest * axes.b);
    const double beside = std::clamp(perimeter(axes) / kRimPlaces / 3, 1.0, 3.0);
    std::vector<Across> all;
    int visible = 0;
    for (int i = 0; i < kRimPlaces; ++i) {
        const double f = 2 * std::numbers::pi * i / kRimPlaces;
        all.push_back({inner.at(f), inner.outwards(f), true});
        visible += within(bgr, all.back().foot + all.back().outwards * (2 * widest));
    }
    if (visible < kRimPlaces / 3) return std::nullopt;
    const auto offsets = ends_of_line(bgr, all, beside, widest, glaze_within(bgr, inner));
    std::vector<cv::Point2d> ends;
    for (std::size_t i = 0; i < all.size(); ++i)
        if (offsets[i]) ends.push_back(all[i].foot + all[i].outwards * *offsets[i]);
    if (static_cast<double>(ends.size()) < kLeastPlaces * visible) return std::nullopt;
    const auto fit = robust_fit(inner, ends, {}, std::max(2.0, 0.3 * widest));
    if (!fit) return std::nullopt;
    int near = 0;
    for (const auto& p : ends) near += std::abs(distance_from(fit->hoop, p)) < 1.2;
    if (near < kLeastPlaces * visible) return std::nullopt;
    return LineSide{fit->hoop, near / static_cast<double>(visible)};
}

std::optional<Hoop> along_last_edges(const cv::Mat& bgr, const Hoop& start, bool may_shrink) {
    constexpr double kReach = 0.022, kTextureFrom = 0.03, kTextureTo = 0.08;  // of the shorter semi-axis
    constexpr double kByChance = 0.12, kFaintest = 6;
    constexpr double kNear = 0.9, kLeastNear = 0.5;
    constexpr double kSharp = 0.5, kAsLarge = 0.998, kHardly = 0.45;
    const Axes axes = axes_of(start);
    const double reach = std::max(4.0, kReach * axes.b);
    RadialOptions options;
    options.places = 360;
    options.inwards = reach + 2;
    options.outwards = std::max(reach + 6, kTextureTo * axes.b);
    options.step = 0.5;
    options.smooth = 0.9;
    options.beside_step = std::clamp(perimeter(axes) / options.places / 3, 1.0, 3.0);
    options.calm = 1;
    const Radial radial = radial_edges(bgr, start, options);
    const double texture = strength_by_chance(radial, std::max(reach, kTextureFrom * axes.b), 2 * reach, kByChance);
    const double least = std::max(kFaintest, texture);
    std::vector<cv::Point2d> ends;
    int visible = 0;
    for (std::size_t i = 0; i < radial.f.size(); ++i) {
        if (!radial.visible[i]) continue;
        ++visible;
        const RadialEdge* last = nullptr;
        for (const RadialEdge& edge : radial.edges[i])
            if (std::abs(edge.offset) < reach && edge.strength > least && edge.crisp > kSharp) last = &edge;
        if (last) ends.push_back(start.at(radial.f[i]) + start.outwards(radial.f[i]) * last->offset);
    }
    if (static_cast<double>(ends.size()) < kLeastNear * visible) return std::nullopt;
    auto fit = robust_fit(start, ends, {}, reach);
    if (fit) fit = robust_fit(fit->hoop, ends, {}, std::max(2.0, reach / 2));
    if (!fit) return std::nullopt;
    const auto near = [&](const Hoop& hoop) {
        return std::count_if(ends.begin(), ends.end(),
                             [&](cv::Point2d p) { return std::abs(distance_from(hoop, p)) < kNear; });
    };
    const auto now = near(fit->hoop), before = near(start);
    if (static_cast<double>(now) < kLeastNear * visible || now <= before) return std::nullopt;
    // A hoop further in is right where hardly anything speaks for the one that was found; else where the table has
    // the line's own hue, and only its inner side is plain.
    const Axes own = axes_of(fit->hoop);
    const bool smaller = own.a * own.b < kAsLarge * axes.a * axes.b;
    if (smaller && !(may_shrink && static_cast<double>(before) < kHardly * visible)) return std::nullopt;
    return fit->hoop;
}

}  // namespace footring::photo

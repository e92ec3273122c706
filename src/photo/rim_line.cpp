// SPDX-License-Identifier: Apache-2.0
#include "photo/rim_line.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/radial.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr int kRimPlaces = 360;
constexpr double kAcross = 0.5;        // px along the normal
constexpr double kWidest = 0.05;       // of the shorter semi-axis: wider lines are bands, and found as such
constexpr double kOtherHue = 0.16;     // from which hues are not one hue in light and shade
constexpr double kLeastPlaces = 0.45;  // share of the visible places at which the line is told from the table

constexpr int kLineFrom = 4, kLineTo = 6;  // steps: beyond the blur of the inner side

using Hue = cv::Vec2f;

// Blue and red against green. Dark noise is kept small by the addend.
Hue hue_of(const cv::Vec3f& light) {
    constexpr float kDark = 0.003f;
    const float green = std::log(light[1] + kDark);
    return {std::log(light[0] + kDark) - green, std::log(light[2] + kDark) - green};
}

// Whether what is seen just beyond an edge has a hue of its own: neither that of what lies further out nor one
// between that and what lies before the edge, as blur makes. So much light from before the edge is no blur either.
bool of_its_own(const cv::Vec3f& light, const cv::Vec3f& before, const cv::Vec3f& beyond) {
    constexpr double kMostByBlur = 0.35;
    const Hue off = hue_of(light) - hue_of(beyond), way = hue_of(before) - hue_of(beyond);
    const float along = std::clamp(off.dot(way) / std::max(1e-6f, way.dot(way)), 0.f, 1.f);
    if (cv::norm(off - way * along) > kOtherHue) return true;
    const double oo = before.dot(before), pp = beyond.dot(beyond), op = before.dot(beyond), lo = light.dot(before),
                 lp = light.dot(beyond), det = oo * pp - op * op;
    const double share = det > 1e-9 ? (lo * pp - lp * op) / det : 0;
    return share > kMostByBlur && cv::norm(off) > kOtherHue;
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

}  // namespace

std::optional<Hoop> outer_side_of_line(const cv::Mat& bgr, const Hoop& inner) {
    const Axes axes = axes_of(inner);
    const double widest = std::max(6.0, kWidest * axes.b);
    const int steps = static_cast<int>(2 * widest / kAcross);
    const double beside = std::clamp(perimeter(axes) / kRimPlaces / 3, 1.0, 3.0);
    // Hues along each normal, from the hoop outwards.
    std::vector<std::vector<Hue>> profiles(kRimPlaces);
    std::vector<Hue> line(kRimPlaces), table(kRimPlaces);
    std::vector<cv::Vec3f> glaze_light(kRimPlaces), line_light(kRimPlaces), table_light(kRimPlaces);
    std::vector<char> seen(kRimPlaces, 0);
    for (std::size_t i = 0; i < kRimPlaces; ++i) {
        const double f = 2 * std::numbers::pi * static_cast<double>(i) / kRimPlaces;
        const cv::Point2d foot = inner.at(f), normal = inner.outwards(f), along(-normal.y, normal.x);
        if (!within(bgr, foot + normal * (steps * kAcross) + along * beside) ||
            !within(bgr, foot + normal * (steps * kAcross) - along * beside) ||
            !within(bgr, foot + along * beside) || !within(bgr, foot - along * beside))
            continue;
        seen[i] = 1;
        for (int k = 0; k <= steps; ++k) {
            cv::Vec3f mean(0, 0, 0);
            for (int b = -1; b <= 1; ++b)
                mean += light_at(bgr, foot + normal * (k * kAcross) + along * (b * beside)) * (1 / 3.f);
            profiles[i].push_back(hue_of(mean));
            if (k >= kLineFrom && k < kLineTo) line_light[i] += mean * (1.f / (kLineTo - kLineFrom));
            if (k >= steps / 2) table_light[i] += mean * (1.f / static_cast<float>(steps - steps / 2 + 1));
        }
        const cv::Point2d within_glaze = foot - normal * 2.5;
        if (within(bgr, within_glaze)) glaze_light[i] = light_at(bgr, within_glaze);
        const auto mean_of = [&](int from, int to) {
            Hue sum(0, 0);
            for (int k = from; k < to; ++k) sum += profiles[i][static_cast<std::size_t>(k)];
            return sum * (1.f / static_cast<float>(to - from));
        };
        line[i] = mean_of(kLineFrom, kLineTo);
        table[i] = mean_of(steps / 2, steps);
    }
    const auto visible = std::count(seen.begin(), seen.end(), 1);
    if (visible < kRimPlaces / 3) return std::nullopt;
    line = calmed(line, seen, kRimPlaces / 24);
    table = calmed(table, seen, kRimPlaces / 24);
    line_light = calmed(line_light, seen, kRimPlaces / 24);
    table_light = calmed(table_light, seen, kRimPlaces / 24);
    glaze_light = calmed(glaze_light, seen, kRimPlaces / 24);
    std::vector<cv::Point2d> ends;
    for (std::size_t i = 0; i < kRimPlaces; ++i) {
        if (!seen[i]) continue;
        const Hue to_line = line[i] - table[i];
        const float square = to_line.dot(to_line);
        if (std::sqrt(square) < kOtherHue || !of_its_own(line_light[i], glaze_light[i], table_light[i])) continue;
        const auto share = [&](std::size_t k) { return (profiles[i][k] - table[i]).dot(to_line) / square; };
        for (std::size_t k = kLineFrom; k + 3 < profiles[i].size(); ++k) {
            const float a = share(k), b = share(k + 1);
            if (a < 0.5f || b >= 0.5f || share(k + 3) > 0.5f) continue;
            if (k * kAcross > widest) break;
            const double f = 2 * std::numbers::pi * static_cast<double>(i) / kRimPlaces;
            ends.push_back(inner.at(f) +
                           inner.outwards(f) *
                               ((static_cast<double>(k) + static_cast<double>((a - 0.5f) / (a - b))) * kAcross));
            break;
        }
    }
    if (static_cast<double>(ends.size()) < kLeastPlaces * static_cast<double>(visible)) return std::nullopt;
    const auto fit = robust_fit(inner, ends, {}, std::max(2.0, 0.3 * widest));
    if (!fit) return std::nullopt;
    int near = 0;
    for (const auto& p : ends) near += std::abs(distance_from(fit->hoop, p)) < 1.2;
    if (near < kLeastPlaces * static_cast<double>(visible)) return std::nullopt;
    return fit->hoop;
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

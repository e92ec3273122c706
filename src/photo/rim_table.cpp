// SPDX-License-Identifier: Apache-2.0
#include "photo/rim_table.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "photo/radial.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr int kTablePlaces = 360;
constexpr double kReachOfTable = 0.03, kDepthOfTable = 0.07;  // of the shorter semi-axis
constexpr int kTableBeside = 10;  // places to each side whose table is one with that of a place
constexpr int kTableCalm = 2;     // places to each side whose profiles are averaged
// Spread of hue (logarithms of ratios of light) and of lightness (its logarithm) that any table is allowed.
constexpr std::array<float, 3> kLeastSpread{0.03f, 0.03f, 0.08f};
constexpr float kShadow = 0.25f;  // of a lack of light counts
// In spreads: beyond it a place is unlike the table; what one sample may say for the table and against it.
constexpr float kUnlike = 3, kMostFor = 1.2f, kMostAgainst = 2;
constexpr double kPlainChange = 1;  // of that, from within outwards
// Blur makes the table's first samples unlike it: the edge lies further in by as many, give or take a few.
constexpr double kBlurred = 2, kSnap = 5;
constexpr double kOn = 2;          // samples
constexpr double kLeastOn = 0.46;  // share of the visible places
constexpr double kLeastMore = 1.15;

// Blue and red against green, and lightness.
cv::Vec3f look_of(const cv::Vec3f& light) {
    constexpr float kDark = 0.004f;
    const float b = std::log(light[0] + kDark), g = std::log(light[1] + kDark), r = std::log(light[2] + kDark);
    return {b - g, r - g, (b + g + r) / 3};
}

// What is seen along the normals of a hoop, from `from` px on.
struct Looks {
    std::vector<double> f;
    std::vector<char> visible;
    std::vector<std::vector<cv::Vec3f>> look;
    std::vector<std::vector<char>> seen;
    double from = 0, step = 1;
    int steps = 0;
};
Looks looks_along(const cv::Mat& bgr, const Hoop& hoop, double inwards, double outwards) {
    Looks out;
    const Axes axes = axes_of(hoop);
    out.step = std::max(0.5, axes.b / 700);
    out.from = -inwards;
    out.steps = static_cast<int>((inwards + outwards) / out.step) + 1;
    const double beside = std::clamp(perimeter(axes) / kTablePlaces / 3, 1.0, 3.0);
    std::vector<std::vector<cv::Vec4f>> sums(kTablePlaces);
    for (std::size_t i = 0; i < kTablePlaces; ++i) {
        out.f.push_back(2 * std::numbers::pi * static_cast<double>(i) / kTablePlaces);
        const cv::Point2d foot = hoop.at(out.f[i]), normal = hoop.outwards(out.f[i]), along(-normal.y, normal.x);
        out.visible.push_back(within(bgr, foot));
        for (int k = 0; k < out.steps; ++k) {
            cv::Vec4f sum(0, 0, 0, 0);
            for (int b = -1; b <= 1; ++b) {
                const cv::Point2d at = foot + normal * (out.from + k * out.step) + along * (b * beside);
                if (!within(bgr, at)) continue;
                const cv::Vec3f light = light_at(bgr, at);
                sum += cv::Vec4f(light[0], light[1], light[2], 1);
            }
            sums[i].push_back(sum);
        }
    }
    out.look.assign(kTablePlaces, std::vector<cv::Vec3f>(static_cast<std::size_t>(out.steps)));
    out.seen.assign(kTablePlaces, std::vector<char>(static_cast<std::size_t>(out.steps), 0));
    for (std::size_t i = 0; i < kTablePlaces; ++i)
        for (std::size_t k = 0; k < sums[i].size(); ++k) {
            cv::Vec4f sum(0, 0, 0, 0);
            for (std::size_t j = 0; j <= 2 * kTableCalm; ++j)
                sum += sums[(i + j + kTablePlaces - kTableCalm) % kTablePlaces][k];
            constexpr float kAll = 3 * (2 * kTableCalm + 1);
            out.seen[i][k] = sum[3] > kAll - 0.5f;
            if (out.seen[i][k]) out.look[i][k] = look_of(cv::Vec3f(sum[0], sum[1], sum[2]) * (1 / kAll));
        }
    return out;
}

// Of samples from `first` on, at a place and those beside it: mean of `value`.
template <class Value>
std::vector<cv::Vec3f> means_beside(const Looks& looks, std::size_t first, const Value& value) {
    std::vector<cv::Vec4f> own(kTablePlaces, cv::Vec4f(0, 0, 0, 0));
    for (std::size_t i = 0; i < kTablePlaces; ++i)
        for (std::size_t k = first; k < looks.look[i].size(); ++k) {
            if (!looks.seen[i][k]) continue;
            const cv::Vec3f v = value(i, looks.look[i][k]);
            own[i] += cv::Vec4f(v[0], v[1], v[2], 1);
        }
    std::vector<cv::Vec3f> out(kTablePlaces);
    for (std::size_t i = 0; i < kTablePlaces; ++i) {
        cv::Vec4f sum(0, 0, 0, 0);
        for (std::size_t j = 0; j <= 2 * kTableBeside; ++j)
            sum += own[(i + j + kTablePlaces - kTableBeside) % kTablePlaces];
        out[i] = cv::Vec3f(sum[0], sum[1], sum[2]) * (1 / std::max(1.f, sum[3]));
    }
    return out;
}

// How much each sample speaks for the table: > 0 like it, < 0 unlike; nothing where nothing is seen.
std::vector<std::vector<float>> likeness_to_table(const Looks& looks, double table_from) {
    const auto first = static_cast<std::size_t>((table_from - looks.from) / looks.step);
    const auto mean = means_beside(looks, first, [](std::size_t, const cv::Vec3f& look) { return look; });
    const auto variance = means_beside(looks, first, [&](std::size_t i, const cv::Vec3f& look) {
        const cv::Vec3f off = look - mean[i];
        return off.mul(off);
    });
    std::vector<std::vector<float>> out(kTablePlaces);
    for (std::size_t i = 0; i < kTablePlaces; ++i)
        for (std::size_t k = 0; k < looks.look[i].size(); ++k) {
            cv::Vec3f off = looks.look[i][k] - mean[i];
            if (off[2] < 0) off[2] *= kShadow;
            float square = 0;
            for (int c = 0; c < 3; ++c) {
                const float least = kLeastSpread[static_cast<std::size_t>(c)];
                square += off[c] * off[c] / (variance[i][c] + least * least);
            }
            const float says = std::clamp(kUnlike - std::sqrt(square), -kMostAgainst, kMostFor);
            out[i].push_back(looks.seen[i][k] ? says : 0);
        }
    return out;
}

// Where the table begins along one normal: the first sample that is of it. Absent: nowhere plainly.
std::optional<int> beginning(const std::vector<float>& says, int first, int last) {
    float sum = 0, most = -1e9f;
    for (std::size_t k = 0; k < says.size(); ++k) sum += says[k];
    int best = -1;
    for (int k = 0; k < last; ++k) {  // `sum`: all from k on, less all before it
        if (k >= first && sum > most) most = sum, best = k;
        sum -= 2 * says[static_cast<std::size_t>(k)];
    }
    const auto mean = [&](int from, int to) {
        float all = 0;
        for (int k = from; k < to; ++k)
            all += says[static_cast<std::size_t>(std::clamp(k, 0, static_cast<int>(says.size()) - 1))];
        return all / static_cast<float>(to - from);
    };
    if (best < 0 || static_cast<double>(mean(best + 1, best + 7) - mean(best - 6, best)) < kPlainChange)
        return std::nullopt;
    return best;
}

std::optional<Hoop> along_beginnings(const cv::Mat& bgr, const Hoop& start) {
    const Axes axes = axes_of(start);
    const double reach = std::max(4.0, kReachOfTable * axes.b), table_from = reach + 2,
                 table = std::max(8.0, kDepthOfTable * axes.b);
    const Looks looks = looks_along(bgr, start, reach + 6, table_from + table);
    const auto says = likeness_to_table(looks, table_from);
    const auto index_of = [&](double offset) {
        return static_cast<int>(std::lround((offset - looks.from) / looks.step));
    };
    RadialOptions options;
    options.places = kTablePlaces;
    options.inwards = options.outwards = reach + kSnap * looks.step;
    options.step = looks.step;
    options.smooth = 2 * looks.step;
    options.beside_step = std::clamp(perimeter(axes) / kTablePlaces / 3, 1.0, 3.0);
    options.calm = kTableCalm;
    options.least = 0.8;
    const Radial radial = radial_edges(bgr, start, options);
    std::vector<cv::Point2d> beginnings;
    int visible = 0;
    for (std::size_t i = 0; i < kTablePlaces; ++i) {
        if (!looks.visible[i]) continue;
        ++visible;
        const auto at = beginning(says[i], index_of(-reach), index_of(reach));
        if (!at) continue;
        const double offset = looks.from + *at * looks.step;
        const double expected = offset - kBlurred * looks.step;
        const RadialEdge* edge = nullptr;
        for (const RadialEdge& e : radial.edges[i])
            if (std::abs(e.offset - expected) < kSnap * looks.step &&
                (!edge || std::abs(e.offset - expected) < std::abs(edge->offset - expected)))
                edge = &e;
        if (!edge || std::abs(edge->offset) > reach - 2 * looks.step) continue;
        beginnings.push_back(start.at(looks.f[i]) + start.outwards(looks.f[i]) * edge->offset);
    }
    const auto on = [&](const Hoop& hoop) {
        return static_cast<double>(std::count_if(beginnings.begin(), beginnings.end(), [&](cv::Point2d p) {
            return std::abs(distance_from(hoop, p)) < kOn * looks.step;
        }));
    };
    if (static_cast<double>(beginnings.size()) < kLeastOn * visible) return std::nullopt;
    auto fit = robust_fit(start, beginnings, {}, std::max(2.0, 0.6 * reach));
    if (fit) fit = robust_fit(fit->hoop, beginnings, {}, 2);
    if (!fit || on(fit->hoop) < kLeastOn * visible || on(fit->hoop) < kLeastMore * on(start)) return std::nullopt;
    return fit->hoop;
}

}  // namespace

std::optional<Hoop> where_table_begins(const cv::Mat& bgr, const Hoop& start, bool may_shrink) {
    const auto first = along_beginnings(bgr, start);
    if (!first) return std::nullopt;
    const auto second = along_beginnings(bgr, *first);
    const Hoop& found = second ? *second : *first;
    const Axes own = axes_of(found), before = axes_of(start);
    constexpr double kAsLargeAsStart = 0.998;
    if (!may_shrink && own.a * own.b < kAsLargeAsStart * before.a * before.b) return std::nullopt;
    return found;
}

}  // namespace footring::photo

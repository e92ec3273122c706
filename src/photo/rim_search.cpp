// SPDX-License-Identifier: Apache-2.0
#include "photo/rim_search.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/radial.h"

namespace footring::photo {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kCoarseLongest = 800, kFineLongest = 1600;
constexpr double kLeastSupport = 0.45;  // of the whole rim as far as it is visible
constexpr double kLeastVisible = 0.35;  // share of the rim within the picture
constexpr double kLeastRadius = 0.055;  // of the picture's longer side

struct Levels {
    cv::Mat fine, coarse;
    double fine_scale = 1, coarse_scale = 1;  // of the photograph
};
cv::Mat reduced(const cv::Mat& bgr, double scale) {
    if (scale >= 1) return bgr;
    cv::Mat out;
    cv::resize(bgr, out, cv::Size(std::max(2, cvRound(bgr.cols * scale)), std::max(2, cvRound(bgr.rows * scale))),
               0, 0, cv::INTER_AREA);
    return out;
}
Levels levels_of(const cv::Mat& bgr) {
    Levels out;
    const double longest = std::max(bgr.cols, bgr.rows);
    out.fine_scale = std::min(1.0, kFineLongest / longest);
    out.fine = reduced(bgr, out.fine_scale);
    out.coarse_scale = std::min(1.0, kCoarseLongest / longest);
    out.coarse = reduced(out.fine, out.coarse_scale / out.fine_scale);
    return out;
}

// How much a hoop looks like the piece that the photograph was taken of: whole, large, near the middle.
double prominence(const HoopFound& found, cv::Size size) {
    const Axes axes = axes_of(found.hoop);
    const double diagonal = std::hypot(size.width, size.height);
    const double off = cv::norm(found.hoop.centre - cv::Point2d(size.width / 2.0, size.height / 2.0)) / diagonal;
    return found.weight() * std::pow(axes.a / diagonal, 0.7) * std::exp(-off * off / (2 * 0.3 * 0.3));
}

bool contains(const Hoop& outer, const Hoop& inner, double slack) {
    for (int i = 0; i < 16; ++i)
        if (distance_from(outer, inner.at(i * kPi / 8)) > slack) return false;
    return true;
}

// Of the same piece: one lies within the other, about the same middle and of like shape.
bool concentric(const Hoop& a, const Hoop& b) {
    const Axes p = axes_of(a), q = axes_of(b);
    const double larger = std::max(p.a, q.a);
    return cv::norm(a.centre - b.centre) < 0.16 * larger && std::abs(p.b / p.a - q.b / q.a) < 0.12;
}

struct Mode {
    Track track;
    Hoop hoop;
    double size = 0;  // root of the product of the semi-axes
};

// All hoops near `base` that edges round the whole rim speak for.
std::vector<Mode> modes_near(const cv::Mat& image, const Hoop& base, double inwards, double outwards) {
    const Axes axes = axes_of(base);
    RadialOptions options;
    options.places = 240;
    options.inwards = inwards * axes.b;
    options.outwards = outwards * axes.b;
    options.step = std::max(0.75, axes.b * (inwards + outwards) / 160);
    options.smooth = std::max(1.1, 1.3 * options.step);
    options.beside_step = std::clamp(perimeter(axes) / options.places / 3, 1.0, 4.0);
    const Radial radial = radial_edges(image, base, options);
    std::vector<Mode> out;
    const double step = 1.5 * options.step / axes.b;
    for (double c = -inwards; c <= outwards; c += step) {
        Change start{c, 0, 0, 0, 0};
        const auto found = track(radial, start, 3.5 * options.step + 0.012 * axes.b, 1.2 * options.step + 0.4, 7);
        if (!found || found->support < 0.3) continue;
        Mode mode{*found, changed(base, found->change), 0};
        const Axes own = axes_of(mode.hoop);
        if (!(own.b > 0.2 * own.a)) continue;
        mode.size = std::sqrt(own.a * own.b);
        bool known = false;
        for (auto& other : out)
            if (apart(other.hoop, mode.hoop) < 1.2 * options.step) {
                known = true;
                if (mode.track.support > other.track.support) other = mode;
                break;
            }
        if (!known) out.push_back(mode);
    }
    std::sort(out.begin(), out.end(), [](const Mode& a, const Mode& b) { return a.size > b.size; });
    return out;
}

}  // namespace

std::vector<HoopFound> find_ellipses(const cv::Mat& bgr) {
    const Levels levels = levels_of(bgr);
    auto out = find_hoops(find_edges(levels.coarse));
    for (auto& found : out) found.hoop = rescaled(found.hoop, 1 / levels.coarse_scale);
    return out;
}

RimFound rim_near(const cv::Mat& bgr, const Hoop& start, double doubt) {
    RimFound out;
    out.hoop = start;
    double reach = doubt;
    for (int round = 0; round < 3; ++round) {
        const Axes axes = axes_of(out.hoop);
        RadialOptions options;
        options.places = 360;
        options.inwards = options.outwards = reach;
        options.step = std::clamp(reach / 20, 0.4, 1.0);
        options.smooth = std::clamp(reach / 8, 0.8, 1.6);
        options.beside_step = std::clamp(perimeter(axes) / options.places / 3, 1.0, 3.0);
        const Radial radial = radial_edges(bgr, out.hoop, options);
        const double narrow = std::max(0.8, reach / 6);
        const auto found = track(radial, {}, std::max(1.5, reach / 2), narrow, 6);
        if (!found || found->support < 0.2) break;
        out.hoop = changed(out.hoop, found->change);
        out.seen = found->support * found->visible;
        out.visible = found->visible;
        out.sigma_px = found->sigma;
        out.covariance = found->covariance;
        reach = std::max(4.0, reach / 2.5);
    }
    return out;
}

std::optional<RimFound> find_rim(const cv::Mat& bgr, std::string& why) {
    if (bgr.cols < 48 || bgr.rows < 48) {
        why = "The picture is too small to hold a piece.";
        return std::nullopt;
    }
    const Levels levels = levels_of(bgr);
    const std::vector<HoopFound> hoops = find_hoops(find_edges(levels.coarse));
    const cv::Size size = levels.coarse.size();
    const HoopFound* anchor = nullptr;
    for (const auto& r : hoops) {
        if (axes_of(r.hoop).a < kLeastRadius * std::max(size.width, size.height)) continue;
        if (r.support < kLeastSupport || r.visible < kLeastVisible) continue;
        if (!anchor || prominence(r, size) > prominence(*anchor, size)) anchor = &r;
    }
    if (!anchor) {
        why = "No piece was found: nothing in the picture has a rim that runs most of the way round.";
        return std::nullopt;
    }
    // The largest hoop about the same middle: the anchor may be a line or the edge of the well.
    const HoopFound* outer = anchor;
    for (const auto& r : hoops)
        if (r.support > std::max(kLeastSupport, 0.6 * anchor->support) && r.visible > kLeastVisible &&
            concentric(r.hoop, outer->hoop) && contains(r.hoop, outer->hoop, 1.0) &&
            axes_of(r.hoop).a < 1.7 * axes_of(anchor->hoop).a)
            outer = &r;
    const double to_fine = levels.fine_scale / levels.coarse_scale;
    const auto modes = modes_near(levels.fine, rescaled(outer->hoop, to_fine), 0.12, 0.12);
    if (modes.empty()) {
        why = "No piece was found: nothing in the picture has a rim that runs most of the way round.";
        return std::nullopt;
    }
    double best = 0;
    for (const auto& m : modes) best = std::max(best, m.track.support);
    const Mode* chosen = nullptr;
    for (const auto& m : modes)
        if (!chosen && m.track.support > std::max(kLeastSupport, 0.7 * best) && m.track.agreement > 0.6)
            chosen = &m;
    if (!chosen) chosen = &modes.front();
    const Hoop at_full = rescaled(chosen->hoop, 1 / levels.fine_scale);
    RimFound out = rim_near(bgr, at_full, std::max(3.0, 2.5 / levels.fine_scale));
    if (out.seen < kLeastSupport * out.visible) {
        why = "No piece was found: no rim could be followed round.";
        return std::nullopt;
    }
    for (const auto& m : modes)
        if (m.size < chosen->size * 0.99) out.inner.push_back(rescaled(m.hoop, 1 / levels.fine_scale));
    for (const auto& r : hoops) {
        const Hoop full = rescaled(r.hoop, 1 / levels.coarse_scale);
        if (r.support > 0.55 && contains(out.hoop, full, 0) && concentric(out.hoop, full))
            out.inner.push_back(full);
    }
    return out;
}

}  // namespace footring::photo

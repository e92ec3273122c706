// SPDX-License-Identifier: Apache-2.0
#include "photo/strip.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
using cv::Vec3d;

cv::Point2d point_of(const Vec3d& h) { return {h[0] / h[2], h[1] / h[2]}; }

struct Ray {  // homogeneous photo point = foot + t * inwards + depth * down
    Vec3d foot, inwards;
};
struct Rays {
    std::vector<Ray> all;
    Vec3d down;
    cv::Point2d at(std::size_t i, double t, const Slope& slope) const {
        return point_of(all[i].foot + all[i].inwards * t + down * slope.depth(t));
    }
};
Rays rays_of(const Plate& plate, int columns) {
    const cv::Matx34d& p = plate.photo_from_plate;
    Rays rays{{}, p * cv::Vec4d(0, 0, -1, 0)};
    const auto feet = plate.feet(columns);
    rays.all.reserve(feet.size());
    for (const auto& [at, in] : feet)
        rays.all.push_back({p * cv::Vec4d(at.x, at.y, 0, 1), p * cv::Vec4d(in.x, in.y, 0, 0)});
    return rays;
}

// The part of a photograph that is sampled, made as small as the sampling allows: no sample skips pixels.
struct Source {
    cv::Mat bgr;
    cv::Point2d origin;  // of bgr's pixel corner, px of the photo
    double step = 1;     // photo px for each px of bgr
    cv::Point2d at(cv::Point2d p) const {
        return {(p.x + 0.5 - origin.x) / step - 0.5, (p.y + 0.5 - origin.y) / step - 0.5};
    }
};
Source source_for(const Picture& picture, cv::Rect2d box, double footprint) {
    box.x -= 4, box.y -= 4, box.width += 8, box.height += 8;
    const cv::Rect all(0, 0, picture.bgr.cols, picture.bgr.rows);
    cv::Rect rect(static_cast<int>(std::floor(std::clamp(box.x, -1e6, 1e6))),
                  static_cast<int>(std::floor(std::clamp(box.y, -1e6, 1e6))),
                  static_cast<int>(std::ceil(std::clamp(box.width, 1.0, 1e6))),
                  static_cast<int>(std::ceil(std::clamp(box.height, 1.0, 1e6))));
    rect &= all;
    if (rect.area() == 0) rect = cv::Rect(0, 0, 1, 1) & all;
    Source source{picture.bgr(rect), rect.tl(), 1};
    // halves: 0.6 below two px for each sample still keeps every frequency that the samples can carry
    const int halves = footprint < 1.6 ? 0 : static_cast<int>(std::floor(std::log2(footprint / 0.8)));
    if (halves > 0) {
        const int by = 1 << std::min(halves, 6);
        const cv::Size size(std::max(1, rect.width / by), std::max(1, rect.height / by));
        cv::Mat small;
        cv::resize(source.bgr(cv::Rect(0, 0, std::min(rect.width, size.width * by),
                                       std::min(rect.height, size.height * by))),
                   small, size, 0, 0, cv::INTER_AREA);
        source.bgr = small;
        source.step = by;
    }
    return source;
}

cv::Rect2d box_of(const Rays& rays, double from, double to, const Slope& slope) {
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
    for (std::size_t i = 0; i < rays.all.size(); i += 8)
        for (const double t : {from, to}) {
            const cv::Point2d p = rays.at(i, t, slope);
            x0 = std::min(x0, p.x), x1 = std::max(x1, p.x), y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
        }
    return {x0, y0, std::max(1.0, x1 - x0), std::max(1.0, y1 - y0)};
}

// Photo px between neighbouring samples, along and across: the middle of all columns.
std::array<double, 2> footprint_of(const Rays& rays, double from, double to, cv::Size size, const Slope& slope) {
    std::vector<double> along, across;
    const double middle = (from + to) / 2, dt = (to - from) / size.height;
    for (std::size_t i = 0; i + 1 < rays.all.size(); i += 16) {
        const cv::Point2d p = rays.at(i, middle, slope);
        along.push_back(cv::norm(rays.at(i + 1, middle, slope) - p));
        across.push_back(cv::norm(rays.at(i, middle + dt, slope) - p));
    }
    const auto median = [](std::vector<double>& v) {
        const auto mid = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
        std::nth_element(v.begin(), mid, v.end());
        return *mid;
    };
    return {median(along), median(across)};
}

void sample(const Source& source, const Rays& rays, const Slope& slope, double from, double to, int rows,
            cv::Mat& out, cv::Mat* seen) {
    const int columns = static_cast<int>(rays.all.size());
    cv::Mat_<cv::Vec2f> map(rows, columns);
    // source.at(), with one division a sample
    const double scale = 1 / source.step;
    const cv::Point2d shift = source.at({0, 0});
    for (int r = 0; r < rows; ++r) {
        const double t = from + (r + 0.5) * (to - from) / rows;
        const Vec3d deep = rays.down * slope.depth(t);
        auto* line = map[r];
        for (int c = 0; c < columns; ++c) {
            const Ray& ray = rays.all[static_cast<std::size_t>(c)];
            const Vec3d h = ray.foot + ray.inwards * t + deep;
            const double once = scale / h[2];
            line[c] = {static_cast<float>(h[0] * once + shift.x), static_cast<float>(h[1] * once + shift.y)};
        }
    }
    cv::remap(source.bgr, out, map, cv::noArray(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    if (!seen) return;
    seen->create(rows, columns, CV_8UC1);
    const float right = static_cast<float>(source.bgr.cols) - 0.5f,
                bottom = static_cast<float>(source.bgr.rows) - 0.5f;
    for (int r = 0; r < rows; ++r)
        for (int c = 0; c < columns; ++c) {
            const auto& p = map(r, c);
            seen->at<uchar>(r, c) = p[0] >= -0.5f && p[1] >= -0.5f && p[0] <= right && p[1] <= bottom ? 255 : 0;
        }
}

// At the corners of a square or octagonal piece, most of which are rounded, lies the table, and the wall of the
// well bends: what repeats there is the outline, not the ornament.
void hide_corners(const Plate& plate, Strip& strip) {
    if (!plate.has_corners() || plate.corner > 0) return;
    const double kept =
        plate.outline.kind == OutlineKind::kSquare ? 0.78 : 0.92;  // of half a side, from its middle
    const auto feet = plate.feet(strip.seen.cols);
    std::vector<double>
        aside;  // from the middle of the side, as a share of how far that is from the piece's middle
    for (const Plate::Foot& foot : feet)
        aside.push_back(std::sqrt(std::max(0.0, foot.inwards.dot(foot.inwards) - 1)));
    const double most = *std::max_element(aside.begin(), aside.end());
    for (std::size_t c = 0; c < aside.size(); ++c)
        if (aside[c] > kept * most) strip.seen.col(static_cast<int>(c)).setTo(0);
}
}  // namespace

// Row by row, so that one strong line does not outvote the rest. Of lightness and of two differences of channels:
// shadows and a lamp's image, which follow no row, change lightness alone.
double straightness(const cv::Mat& bgr) {
    constexpr float kMostLightness = 24, kMostHue = 40, kHueWeighs = 2;  // glints do not rule
    cv::Mat_<cv::Vec3f> f;
    const cv::Matx33f apart(1 / 3.f, 1 / 3.f, 1 / 3.f, kHueWeighs, -kHueWeighs / 2, -kHueWeighs / 2, 0, -kHueWeighs,
                            kHueWeighs);
    bgr.convertTo(f, CV_32F);
    cv::transform(f, f, apart);
    cv::GaussianBlur(f, f, {7, 3}, 1.4, 0.7);
    const int rows = f.rows, columns = f.cols;
    double common = 0, all = 1e-6;
    for (int r = 1; r + 1 < rows; ++r) {
        Vec3d sum(0, 0, 0);
        double square = 1;
        for (int c = 0; c < columns; ++c) {
            cv::Vec3f d = f(r + 1, c) - f(r - 1, c);
            d[0] = std::clamp(d[0], -kMostLightness, kMostLightness);
            for (int k = 1; k < 3; ++k) d[k] = std::clamp(d[k], -kMostHue, kMostHue);
            sum += d;
            square += static_cast<double>(d.dot(d));
        }
        common += sum.dot(sum) / columns / std::sqrt(square);
        all += std::sqrt(square);
    }
    return common / all;
}

Strip unroll(const Picture& picture, const Plate& plate, double from, double to, cv::Size size,
             const Slope& slope) {
    Strip strip;
    strip.from = from, strip.to = to, strip.slope = slope;
    const Rays rays = rays_of(plate, size.width);
    const auto [along, across] = footprint_of(rays, from, to, size, slope);
    const Source source = source_for(picture, box_of(rays, from, to, slope), std::min(along, across));
    sample(source, rays, slope, from, to, size.height, strip.bgr, &strip.seen);
    hide_corners(plate, strip);
    return strip;
}

SlopeFound find_slope(const Picture& picture, const Plate& plate) {
    // Straightness over a coarse range, then between the best and its neighbours; then the same for the bend, the
    // depth in the middle of the rim held. Where nothing tells (no tilt, no structure), the usual slope of a
    // plate's rim is as good as any, and makes no difference either.
    constexpr double kUsual = 0.2, kFrom = 0.04, kTo = 0.42, kMiddle = 0.17, kTells = 1.02;
    constexpr double kSteepest = 2.4;  // the wall of a bowl
    const cv::Size size(360, 84);
    const Rays rays = rays_of(plate, size.width);
    const auto [along, across] = footprint_of(rays, kFrom, kTo, size, {kUsual, 0});
    cv::Rect2d box = box_of(rays, -0.05, kTo, {kUsual, 0});
    box.x -= box.width * 0.1, box.y -= box.height * 0.1, box.width *= 1.2, box.height *= 1.2;
    const Source source = source_for(picture, box, std::min(along, across));
    cv::Mat ribbon;
    const auto at = [&](const Slope& slope) {
        sample(source, rays, slope, kFrom, kTo, size.height, ribbon, nullptr);
        return straightness(ribbon);
    };
    // The best of `from` to `to` in steps; halved thrice about it.
    const auto best_of = [&](double from, double to, double step, auto&& slope_of, SlopeFound& best) {
        double least = 1e9, best_at = 0;
        for (double v = from; v < to + step / 2; v += step) {
            const double score = at(slope_of(v));
            least = std::min(least, score);
            if (score > best.straightness) best = {slope_of(v), score}, best_at = v;
        }
        for (int i = 0; i < 3; ++i) {
            step /= 2;
            const double middle = best_at;
            for (const double v : {middle - step, middle + step}) {
                if (v < from || v > to) continue;
                const double score = at(slope_of(v));
                if (score > best.straightness) best = {slope_of(v), score}, best_at = v;
            }
        }
        return best.straightness > kTells * least + 0.002;
    };
    SlopeFound best;
    if (!best_of(
            0, kSteepest, 0.2,
            [](double drop) {
                return Slope{drop, 0};
            },
            best)) {
        best.slope = {kUsual, 0};
        return best;
    }
    const double deep = best.slope.depth(kMiddle);
    SlopeFound bent = best;
    best_of(
        -2.4, 1.6, 0.8,
        [&](double bend) {
            return Slope{deep / kMiddle - bend * kMiddle, bend};
        },
        bent);
    return bent.straightness > kTells * best.straightness ? bent : best;
}

bool rises_inwards(const Picture& picture, const Plate& plate) {
    // Measured on 60 renderings: fronts are never straighter when they are taken to rise, undersides by a third or
    // more from 10 degrees of tilt on.
    constexpr double kFrom = 0.04, kTo = 0.42, kLowest = 0.2, kHighest = 0.6, kDeepest = 2.4, kClearly = 1.35,
                     kStraight = 0.12;
    const cv::Size size(360, 84);
    const Rays rays = rays_of(plate, size.width);
    const auto [along, across] = footprint_of(rays, kFrom, kTo, size, {0, 0});
    cv::Rect2d box = box_of(rays, -0.2, kTo, {0, 0});
    box.x -= box.width * 0.1, box.y -= box.height * 0.1, box.width *= 1.2, box.height *= 1.2;
    const Source source = source_for(picture, box, std::min(along, across));
    cv::Mat ribbon;
    const auto straightest = [&](double from, double to, double step) {
        double best = 0;
        for (double drop = from; drop < to + step / 2; drop += step) {
            sample(source, rays, {drop, 0}, kFrom, kTo, size.height, ribbon, nullptr);
            best = std::max(best, straightness(ribbon));
        }
        return best;
    };
    const double rising = straightest(-kHighest, -kLowest, 0.1);
    return rising > kStraight && rising > kClearly * straightest(0, kDeepest, 0.1);
}

double find_corner(const Picture& picture, const Plate& plate) {
    if (!plate.has_corners()) return 0;
    // From just beyond the sides, so that the table shows where the radius is too small; not far inwards, where it
    // matters how the rim slopes.
    constexpr double kFrom = -0.04, kTo = 0.12, kMost = 0.7, kStep = 0.05, kTells = 1.02;
    const Slope usual{0.2, 0};
    const cv::Size size(480, 84);
    Plate rounded = plate;
    const Rays sharp = rays_of(plate, size.width);
    const auto [along, across] = footprint_of(sharp, kFrom, kTo, size, usual);
    const Source source = source_for(picture, box_of(sharp, kFrom, kTo, usual), std::min(along, across));
    cv::Mat ribbon;
    const auto at = [&](double radius) {
        rounded.corner = radius;
        sample(source, rays_of(rounded, size.width), usual, kFrom, kTo, size.height, ribbon, nullptr);
        return straightness(ribbon);
    };
    const double straight = at(0);
    double best = 0, most = straight;
    const auto consider = [&](double radius) {
        if (radius <= 0 || radius > kMost) return;
        if (const double score = at(radius); score > most) most = score, best = radius;
    };
    for (double radius = kStep; radius <= kMost; radius += kStep) consider(radius);
    for (double step = kStep / 2; step > 0.005; step /= 2)
        for (const double middle = best; const double to : {middle - step, middle + step}) consider(to);
    return most > kTells * straight ? best : 0;
}

cv::Mat upright(const Picture& picture, const Plate& plate, int size, double z) {
    const double step = 2.1 / size;
    const auto photo = [&](double x, double y) { return point_of(plate.photo_from_plate * cv::Vec4d(x, y, z, 1)); };
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
    for (int i = 0; i < 64; ++i) {
        const double u = -1.05 + 2.1 * i / 63;
        for (const cv::Point2d p : {photo(u, -1.05), photo(u, 1.05), photo(-1.05, u), photo(1.05, u)})
            x0 = std::min(x0, p.x), x1 = std::max(x1, p.x), y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
    }
    const double footprint =
        std::min(cv::norm(photo(step, 0) - photo(0, 0)), cv::norm(photo(0, step) - photo(0, 0)));
    const Source source = source_for(picture, {x0, y0, x1 - x0, y1 - y0}, footprint);
    const cv::Matx34d& p = plate.photo_from_plate;
    const cv::Matx33d photo_from_plane(p(0, 0), p(0, 1), p(0, 2) * z + p(0, 3), p(1, 0), p(1, 1),
                                       p(1, 2) * z + p(1, 3), p(2, 0), p(2, 1), p(2, 2) * z + p(2, 3));
    const cv::Matx33d plane_from_pixel(step, 0, -1.05 + step / 2, 0, step, -1.05 + step / 2, 0, 0, 1);
    const double o = 1 / source.step;
    const cv::Matx33d source_from_photo(o, 0, (0.5 - source.origin.x) * o - 0.5, 0, o,
                                        (0.5 - source.origin.y) * o - 0.5, 0, 0, 1);
    cv::Mat out;
    cv::warpPerspective(source.bgr, out, source_from_photo * photo_from_plane * plane_from_pixel, {size, size},
                        cv::INTER_LINEAR | cv::WARP_INVERSE_MAP, cv::BORDER_CONSTANT, cv::Scalar(255, 255, 255));
    return out;
}

}  // namespace footring::photo

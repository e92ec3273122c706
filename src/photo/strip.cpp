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

struct Ray {  // homogeneous photo point = foot + t * inwards
    Vec3d foot, inwards;
};
std::vector<Ray> rays_of(const Plate& plate, int columns, double drop) {
    const auto feet = plate.feet(columns);
    std::vector<Ray> rays;
    rays.reserve(feet.size());
    for (const auto& [at, in] : feet)
        rays.push_back({plate.photo_from_plate * cv::Vec4d(at.x, at.y, 0, 1),
                        plate.photo_from_plate * cv::Vec4d(in.x, in.y, -drop, 0)});
    return rays;
}
cv::Point2d point_of(const Vec3d& h) { return {h[0] / h[2], h[1] / h[2]}; }

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

cv::Rect2d box_of(const std::vector<Ray>& rays, double from, double to) {
    double x0 = 1e9, y0 = 1e9, x1 = -1e9, y1 = -1e9;
    for (std::size_t i = 0; i < rays.size(); i += 8)
        for (const double t : {from, to}) {
            const cv::Point2d p = point_of(rays[i].foot + rays[i].inwards * t);
            x0 = std::min(x0, p.x), x1 = std::max(x1, p.x), y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
        }
    return {x0, y0, std::max(1.0, x1 - x0), std::max(1.0, y1 - y0)};
}

// Photo px between neighbouring samples, along and across: the middle of all columns.
std::array<double, 2> footprint_of(const std::vector<Ray>& rays, double from, double to, cv::Size size) {
    std::vector<double> along, across;
    const double middle = (from + to) / 2, dt = (to - from) / size.height;
    for (std::size_t i = 0; i + 1 < rays.size(); i += 16) {
        const cv::Point2d p = point_of(rays[i].foot + rays[i].inwards * middle);
        along.push_back(cv::norm(point_of(rays[i + 1].foot + rays[i + 1].inwards * middle) - p));
        across.push_back(cv::norm(point_of(rays[i].foot + rays[i].inwards * (middle + dt)) - p));
    }
    const auto median = [](std::vector<double>& v) {
        const auto mid = v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2);
        std::nth_element(v.begin(), mid, v.end());
        return *mid;
    };
    return {median(along), median(across)};
}

void sample(const Source& source, const std::vector<Ray>& rays, double from, double to, int rows, cv::Mat& out,
            cv::Mat* seen) {
    const int columns = static_cast<int>(rays.size());
    cv::Mat_<cv::Vec2f> map(rows, columns);
    for (int r = 0; r < rows; ++r) {
        const double t = from + (r + 0.5) * (to - from) / rows;
        auto* line = map[r];
        for (int c = 0; c < columns; ++c) {
            const Ray& ray = rays[static_cast<std::size_t>(c)];
            const double w = 1 / (ray.foot[2] + t * ray.inwards[2]);
            const cv::Point2d p =
                source.at({(ray.foot[0] + t * ray.inwards[0]) * w, (ray.foot[1] + t * ray.inwards[1]) * w});
            line[c] = {static_cast<float>(p.x), static_cast<float>(p.y)};
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

// How straight a ribbon is: the share of its changes across that all columns have in common, row by row, so that
// one strong line does not outvote the rest.
double straightness(const cv::Mat& bgr) {
    cv::Mat_<cv::Vec3f> f;
    bgr.convertTo(f, CV_32F);
    cv::GaussianBlur(f, f, {7, 3}, 1.4, 0.7);
    const int rows = f.rows, columns = f.cols;
    double common = 0, all = 1e-6;
    for (int r = 1; r + 1 < rows; ++r) {
        Vec3d sum(0, 0, 0);
        double square = 1;
        for (int c = 0; c < columns; ++c) {
            cv::Vec3f d = f(r + 1, c) - f(r - 1, c);
            for (int k = 0; k < 3; ++k) d[k] = std::clamp(d[k], -60.f, 60.f);  // glints do not rule
            sum += d;
            square += static_cast<double>(d.dot(d));
        }
        common += sum.dot(sum) / columns / std::sqrt(square);
        all += std::sqrt(square);
    }
    return common / all;
}
}  // namespace

Strip unroll(const Picture& picture, const Plate& plate, double from, double to, cv::Size size, double drop) {
    Strip strip;
    strip.from = from, strip.to = to, strip.drop = drop;
    const auto rays = rays_of(plate, size.width, drop);
    const auto [along, across] = footprint_of(rays, from, to, size);
    const Source source = source_for(picture, box_of(rays, from, to), std::min(along, across));
    sample(source, rays, from, to, size.height, strip.bgr, &strip.seen);
    return strip;
}

double find_drop(const Picture& picture, const Plate& plate) {
    // Straightness over a coarse range, then a parabola through the best three. Where nothing tells (no tilt, no
    // structure), the usual slope of a plate's rim is as good as any, and makes no difference either.
    constexpr double kUsual = 0.2, kFrom = 0.04, kTo = 0.42, kStep = 0.1;
    constexpr int kSteps = 10;
    const cv::Size size(480, 112);
    const auto flat = rays_of(plate, size.width, kUsual);
    const auto [along, across] = footprint_of(flat, kFrom, kTo, size);
    cv::Rect2d box = box_of(flat, -0.05, kTo);
    box.x -= box.width * 0.1, box.y -= box.height * 0.1, box.width *= 1.2, box.height *= 1.2;
    const Source source = source_for(picture, box, std::min(along, across));
    std::array<double, kSteps + 1> score{};
    cv::Mat ribbon;
    const auto at = [&](double drop) {
        sample(source, rays_of(plate, size.width, drop), kFrom, kTo, size.height, ribbon, nullptr);
        return straightness(ribbon);
    };
    for (int i = 0; i <= kSteps; ++i) score[static_cast<std::size_t>(i)] = at(i * kStep);
    const auto best = static_cast<int>(std::max_element(score.begin(), score.end()) - score.begin());
    auto ordered = score;
    std::sort(ordered.begin(), ordered.end());
    if (ordered.back() < 1.02 * ordered.front() + 0.002) return kUsual;
    double low = std::max(0, best - 1) * kStep, high = std::min(kSteps, best + 1) * kStep;
    for (int i = 0; i < 5; ++i) {  // golden section
        const double a = high - (high - low) * 0.618, b = low + (high - low) * 0.618;
        if (at(a) > at(b)) high = b;
        else low = a;
    }
    return (low + high) / 2;
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

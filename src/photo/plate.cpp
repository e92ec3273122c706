// The rim of a Plate as a curve by arc length.
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/outline.h"

namespace footring::photo {

namespace {
constexpr double kTurn = 2 * std::numbers::pi;

Plate::Foot foot_of_ellipse(double m, double b) {
    const double c = std::cos(m), s = std::sin(m), n = std::hypot(b * c, s);
    return {{c, b * s}, {-b * c / n, -s / n}};
}

// Arc length from m = 0, of an ellipse with semi-axes 1 and b; Simpson's rule over eighths of a turn is exact to
// 1e-9 for the ovals that plates have (b > 0.5).
double arc(double m, double b) {
    const auto speed = [&](double x) { return std::hypot(std::sin(x), b * std::cos(x)); };
    const int steps = 2 * std::max(4, static_cast<int>(std::ceil(64 * m / kTurn)));
    const double h = m / steps;
    double sum = speed(0) + speed(m);
    for (int i = 1; i < steps; ++i) sum += (i % 2 ? 4 : 2) * speed(i * h);
    return sum * h / 3;
}

// The corners of a square or octagonal piece in the plate frame.
std::vector<cv::Point2d> corners_of(const Plate& plate) {
    const cv::Matx34d& p = plate.photo_from_plate;
    const cv::Matx33d plate_from_photo =
        cv::Matx33d(p(0, 0), p(0, 1), p(0, 3), p(1, 0), p(1, 1), p(1, 3), p(2, 0), p(2, 1), p(2, 3)).inv();
    std::vector<cv::Point2d> corners;
    for (const Point& corner : plate.outline.corners) {
        const cv::Point2d m = mat_from_px(corner);
        const cv::Vec3d h = plate_from_photo * cv::Vec3d(m.x, m.y, 1);
        corners.emplace_back(h[0] / h[2], h[1] / h[2]);
    }
    return corners;
}

// s = 0 where the curve crosses +x; from there towards +y, whichever way the corners were listed.
class Polygon {
  public:
    explicit Polygon(std::vector<cv::Point2d> corners) : corners_(std::move(corners)) {
        double area = 0;
        const std::size_t n = corners_.size();
        for (std::size_t i = 0; i < n; ++i) area += corners_[i].cross(corners_[(i + 1) % n]);
        if (area < 0) std::reverse(corners_.begin(), corners_.end());
        for (std::size_t i = 0; i < n; ++i) length_ += cv::norm(corners_[(i + 1) % n] - corners_[i]);
        double at = 0;
        for (std::size_t i = 0; i < n; ++i) {
            const cv::Point2d a = corners_[i], b = corners_[(i + 1) % n];
            if (a.y < 0 && b.y >= 0 && a.x + b.x > 0) start_ = at + cv::norm(b - a) * (-a.y) / (b.y - a.y);
            at += cv::norm(b - a);
        }
    }
    Plate::Foot at(double s) const {
        double left = std::fmod(start_ + s * length_, length_);
        const std::size_t n = corners_.size();
        for (std::size_t i = 0; i < n; ++i) {
            const cv::Point2d a = corners_[i], d = corners_[(i + 1) % n] - a;
            const double length = cv::norm(d);
            if (left <= length || i + 1 == n) {
                // Towards the middle, so that rings further in have as many corners and nothing is torn at these;
                // of such a length that each step goes one inwards.
                const cv::Point2d at = a + d * (left / length), in(-d.y / length, d.x / length);
                const double away = -at.dot(in);
                return {at, away > 1e-6 ? at * (-1 / away) : in};
            }
            left -= length;
        }
        return {};
    }

  private:
    std::vector<cv::Point2d> corners_;
    double length_ = 0, start_ = 0;
};

bool angular(const Plate& plate) {
    return (plate.outline.kind == OutlineKind::kSquare || plate.outline.kind == OutlineKind::kOctagonal) &&
           plate.outline.corners.size() >= 3;
}
}  // namespace

Plate::Foot Plate::at(double s) const {
    s -= std::floor(s);
    if (angular(*this)) return Polygon(corners_of(*this)).at(s);
    if (aspect == 1) return foot_of_ellipse(kTurn * s, 1);
    const double whole = arc(kTurn, aspect);
    double m = kTurn * s;
    for (int i = 0; i < 8; ++i) m -= (arc(m, aspect) - s * whole) / std::hypot(std::sin(m), aspect * std::cos(m));
    return foot_of_ellipse(m, aspect);
}

std::vector<Plate::Foot> Plate::feet(int n) const {
    std::vector<Foot> all;
    all.reserve(static_cast<std::size_t>(n));
    if (angular(*this)) {
        const Polygon polygon(corners_of(*this));
        for (int i = 0; i < n; ++i) all.push_back(polygon.at((i + 0.5) / n));
        return all;
    }
    const double whole = aspect == 1 ? kTurn : arc(kTurn, aspect);
    double m = 0, gone = 0;  // Newton from the foot before it
    for (int i = 0; i < n; ++i) {
        const double target = (i + 0.5) / n * whole;
        if (aspect == 1) {
            m = target;
        } else {
            for (int k = 0; k < 3; ++k) {
                const auto speed = [&](double x) { return std::hypot(std::sin(x), aspect * std::cos(x)); };
                const double h = (target - gone) / speed(m);  // Simpson over the small step
                gone += h / 6 * (speed(m) + 4 * speed(m + h / 2) + speed(m + h));
                m += h;
            }
        }
        all.push_back(foot_of_ellipse(m, aspect));
    }
    return all;
}

}  // namespace footring::photo

// The rim of a Plate as a curve by arc length.
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/outline.h"

namespace footring::photo {

namespace {
constexpr double kWholeTurn = 2 * std::numbers::pi;

Plate::Foot foot_of_ellipse(double m, double b) {
    const double c = std::cos(m), s = std::sin(m), n = std::hypot(b * c, s);
    return {{c, b * s}, {-b * c / n, -s / n}};
}

// Arc length from m = 0, of an ellipse with semi-axes 1 and b; Simpson's rule over eighths of a turn is exact to
// 1e-9 for the ovals that plates have (b > 0.5).
double arc(double m, double b) {
    const auto speed = [&](double x) { return std::hypot(std::sin(x), b * std::cos(x)); };
    const int steps = 2 * std::max(4, static_cast<int>(std::ceil(64 * m / kWholeTurn)));
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

// s = 0 where the curve crosses +x; from there towards +y, whichever way the corners were listed. Corners are arcs
// of `radius`, as far as the sides leave room for them.
class Polygon {
  public:
    Polygon(std::vector<cv::Point2d> corners, double radius) {
        double area = 0;
        const std::size_t n = corners.size();
        for (std::size_t i = 0; i < n; ++i) area += corners[i].cross(corners[(i + 1) % n]);
        if (area < 0) std::reverse(corners.begin(), corners.end());
        for (std::size_t i = 0; i < n; ++i)  // half a side at most may bend
            radius = std::min(radius, 0.49 * cv::norm(corners[(i + 1) % n] - corners[i]) / half_turn(corners, i));
        for (std::size_t i = 0; i < n; ++i) {
            const cv::Point2d a = corners[i], b = corners[(i + 1) % n], way = (b - a) / cv::norm(b - a),
                              in(-way.y, way.x);
            const double before = radius * half_turn(corners, i), after = radius * half_turn(corners, (i + 1) % n),
                         straight = cv::norm(b - a) - before - after, away = std::max(1e-6, -a.dot(in));
            if (a.y < 0 && b.y >= 0 && a.x + b.x > 0)
                start_ = length_ + std::clamp(cv::norm(b - a) * -a.y / (b.y - a.y) - before, 0.0, straight);
            parts_.push_back({a + way * before, way, in, straight, 0, away, away});
            length_ += straight;
            if (radius <= 0) continue;
            const cv::Point2d c = corners[(i + 2) % n], next = (c - b) / cv::norm(c - b), next_in(-next.y, next.x);
            const double turn = std::atan2(way.cross(next), way.dot(next));
            parts_.push_back({b - way * after, way, in, radius * turn, 1 / radius, away, -c.dot(next_in)});
            length_ += radius * turn;
        }
    }
    Plate::Foot at(double s) const {
        double left = std::fmod(start_ + s * length_, length_);
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            const Part& p = parts_[i];
            if (left > p.length && i + 1 < parts_.size()) {
                left -= p.length;
                continue;
            }
            const double m = left * p.bend;
            const cv::Point2d at = p.bend > 0 ? p.from + (p.way * std::sin(m) + p.in * (1 - std::cos(m))) / p.bend
                                              : p.from + p.way * left;
            // Towards the middle, so that rings further in have as many corners and nothing is torn at these; of
            // such a length that each step from a side goes one inwards.
            const double away = p.away + (p.away_after - p.away) * left / std::max(1e-9, p.length);
            return {at, at * (-1 / away)};
        }
        return {};
    }

  private:
    struct Part {
        cv::Point2d from, way, in;  // where it begins, which way it goes there, which way lies inwards
        double length, bend;        // bend: 1 / radius; 0: straight
        double away, away_after;    // of the side, and the one after it, from the middle
    };
    // Tangent of half the angle by which the outline turns at a corner.
    static double half_turn(const std::vector<cv::Point2d>& corners, std::size_t i) {
        const std::size_t n = corners.size();
        const cv::Point2d before = corners[i] - corners[(i + n - 1) % n], after = corners[(i + 1) % n] - corners[i];
        return std::tan(std::atan2(before.cross(after), before.dot(after)) / 2);
    }
    std::vector<Part> parts_;
    double length_ = 0, start_ = 0;
};
}  // namespace

bool Plate::has_corners() const {
    return (outline.kind == OutlineKind::kSquare || outline.kind == OutlineKind::kOctagonal) &&
           outline.corners.size() >= 3;
}

Plate::Foot Plate::at(double s) const {
    s -= std::floor(s);
    if (has_corners()) return Polygon(corners_of(*this), corner).at(s);
    if (aspect == 1) return foot_of_ellipse(kWholeTurn * s, 1);
    const double whole = arc(kWholeTurn, aspect);
    double m = kWholeTurn * s;
    for (int i = 0; i < 8; ++i) m -= (arc(m, aspect) - s * whole) / std::hypot(std::sin(m), aspect * std::cos(m));
    return foot_of_ellipse(m, aspect);
}

std::vector<Plate::Foot> Plate::feet(int n) const {
    std::vector<Foot> all;
    all.reserve(static_cast<std::size_t>(n));
    if (has_corners()) {
        const Polygon polygon(corners_of(*this), corner);
        for (int i = 0; i < n; ++i) all.push_back(polygon.at((i + 0.5) / n));
        return all;
    }
    const double whole = aspect == 1 ? kWholeTurn : arc(kWholeTurn, aspect);
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

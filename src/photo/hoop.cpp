// SPDX-License-Identifier: Apache-2.0
#include "photo/hoop.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/picture.h"

namespace footring::photo {

namespace {

// Real roots of x^3 + a x^2 + b x + c.
std::vector<double> roots_of(double a, double b, double c) {
    const double q = (a * a - 3 * b) / 9, r = (2 * a * a * a - 9 * a * b + 27 * c) / 54;
    if (r * r < q * q * q) {
        const double t = std::acos(std::clamp(r / std::sqrt(q * q * q), -1.0, 1.0)), s = -2 * std::sqrt(q);
        return {s * std::cos(t / 3) - a / 3, s * std::cos((t + 2 * std::numbers::pi) / 3) - a / 3,
                s * std::cos((t - 2 * std::numbers::pi) / 3) - a / 3};
    }
    const double big = -std::copysign(std::cbrt(std::abs(r) + std::sqrt(r * r - q * q * q)), r);
    return {big + (big != 0 ? q / big : 0) - a / 3};
}
}  // namespace

cv::Point2d Hoop::at(double f) const {
    const cv::Vec2d p = shape * cv::Vec2d(std::cos(f), std::sin(f));
    return {centre.x + p[0], centre.y + p[1]};
}
cv::Point2d Hoop::outwards(double f) const {
    const cv::Vec2d n = shape.inv().t() * cv::Vec2d(std::cos(f), std::sin(f));
    return cv::Point2d(n[0], n[1]) * (1 / cv::norm(n));
}

Axes axes_of(const Hoop& hoop) {
    // shape * shape^T has the squares of the semi-axes as eigenvalues.
    const cv::Matx22d m = hoop.shape * hoop.shape.t();
    const double mean = (m(0, 0) + m(1, 1)) / 2, half = (m(0, 0) - m(1, 1)) / 2, root = std::hypot(half, m(0, 1));
    Axes out{std::sqrt(mean + root), std::sqrt(std::max(0.0, mean - root)), 0.5 * std::atan2(m(0, 1), half)};
    if (out.turn >= std::numbers::pi / 2) out.turn -= std::numbers::pi;
    return out;
}
Hoop hoop_of(cv::Point2d centre, const Axes& axes) {
    const double c = std::cos(axes.turn), s = std::sin(axes.turn);
    return {centre, cv::Matx22d(axes.a * c, -axes.b * s, axes.a * s, axes.b * c)};
}
Hoop hoop_of(const Ellipse& e) {
    return hoop_of(mat_from_px(e.centre), Axes{e.a, e.b, e.angle_deg * std::numbers::pi / 180});
}
Ellipse ellipse_of(const Hoop& hoop) {
    const Axes axes = axes_of(hoop);
    return {px_from_mat(hoop.centre), axes.a, axes.b,
            std::clamp(axes.turn * 180 / std::numbers::pi, -90.0, std::nextafter(90.0, 0.0))};
}
double perimeter(const Axes& axes) {
    const double h = std::pow((axes.a - axes.b) / (axes.a + axes.b), 2);
    return std::numbers::pi * (axes.a + axes.b) * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h)));
}
Hoop rescaled(const Hoop& hoop, double scale) {
    const cv::Point2d half(0.5, 0.5);
    return {(hoop.centre + half) * scale - half, hoop.shape * scale};
}

cv::Matx33d unit_from_photo(const Hoop& hoop) {
    const cv::Matx22d m = hoop.shape.inv();
    return {m(0, 0), m(0, 1), -m(0, 0) * hoop.centre.x - m(0, 1) * hoop.centre.y,
            m(1, 0), m(1, 1), -m(1, 0) * hoop.centre.x - m(1, 1) * hoop.centre.y,
            0,       0,       1};
}
cv::Matx33d conic_of(const Hoop& hoop) {
    const cv::Matx33d u = unit_from_photo(hoop);
    return u.t() * cv::Matx33d::diag(cv::Vec3d(1, 1, -1)) * u;
}
std::optional<Hoop> hoop_of(const cv::Matx33d& conic) {
    const double a = conic(0, 0), b = conic(0, 1), c = conic(1, 1), d = conic(0, 2), e = conic(1, 2),
                 f = conic(2, 2);
    const double det = a * c - b * b;
    if (!(det > 1e-14 * (a + c) * (a + c))) return std::nullopt;
    const cv::Point2d centre((b * e - c * d) / det, (b * d - a * e) / det);
    const double at_centre = d * centre.x + e * centre.y + f;
    const double scale = -at_centre;  // (p - centre)^T Q (p - centre) = scale
    const double mean = (a + c) / 2, root = std::hypot((a - c) / 2, b);
    const double large = mean + std::copysign(root, mean), small = mean - std::copysign(root, mean);
    if (!(scale / large > 0) || !(scale / small > 0)) return std::nullopt;
    Axes axes{std::sqrt(scale / small), std::sqrt(scale / large), 0};
    // The longer axis belongs to the eigenvalue that is nearer nought.
    axes.turn = 0.5 * std::atan2(-2 * b * std::copysign(1.0, mean), (c - a) * std::copysign(1.0, mean));
    if (axes.turn >= std::numbers::pi / 2) axes.turn -= std::numbers::pi;
    if (!std::isfinite(axes.a) || !std::isfinite(axes.b) || axes.b <= 0) return std::nullopt;
    return hoop_of(centre, axes);
}

double distance_from(const Hoop& hoop, cv::Point2d p) {
    const cv::Matx22d inverse = hoop.shape.inv();
    const cv::Vec2d u = inverse * cv::Vec2d(p.x - hoop.centre.x, p.y - hoop.centre.y);
    const double rho = cv::norm(u);
    if (rho < 1e-9) return -1e9;
    return (rho - 1) / cv::norm(inverse.t() * (u * (1 / rho)));
}
double round_of(const Hoop& hoop, cv::Point2d p) {
    const cv::Vec2d u = hoop.shape.inv() * cv::Vec2d(p.x - hoop.centre.x, p.y - hoop.centre.y);
    return std::atan2(u[1], u[0]);
}

void Scatter::add(cv::Point2d p, double weight) {
    const double x = (p.x - origin_.x) / unit_, y = (p.y - origin_.y) / unit_;
    const std::array<double, 6> d{x * x, x * y, y * y, x, y, 1};
    for (int i = 0; i < 6; ++i) {
        const double w = weight * d[static_cast<std::size_t>(i)];
        for (int j = i; j < 6; ++j) sums_(i, j) += w * d[static_cast<std::size_t>(j)];
    }
}
void Scatter::add(const Scatter& other) { sums_ += other.sums_; }

std::optional<Hoop> Scatter::fit() const {
    cv::Matx33d s1, s2, s3;
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            s1(i, j) = sums_(std::min(i, j), std::max(i, j));
            s2(i, j) = sums_(i, j + 3);
            s3(i, j) = sums_(std::min(i, j) + 3, std::max(i, j) + 3);
        }
    bool regular = false;
    const cv::Matx33d s3_inverse = s3.inv(cv::DECOMP_LU, &regular);
    if (!regular) return std::nullopt;
    const cv::Matx33d t = -(s3_inverse * s2.t()), m = s1 + s2 * t;
    // m v = k C v with C = (0 0 2; 0 -1 0; 2 0 0); the ellipse has v^T C v > 0.
    const cv::Matx33d n(m(2, 0) / 2, m(2, 1) / 2, m(2, 2) / 2, -m(1, 0), -m(1, 1), -m(1, 2), m(0, 0) / 2,
                        m(0, 1) / 2, m(0, 2) / 2);
    const double trace = n(0, 0) + n(1, 1) + n(2, 2);
    const double minors = n(0, 0) * n(1, 1) - n(0, 1) * n(1, 0) + n(0, 0) * n(2, 2) - n(0, 2) * n(2, 0) +
                          n(1, 1) * n(2, 2) - n(1, 2) * n(2, 1);
    for (const double root : roots_of(-trace, minors, -cv::determinant(n))) {
        cv::Matx33d k = n;
        for (int i = 0; i < 3; ++i) k(i, i) -= root;
        cv::Vec3d best(0, 0, 0);
        for (int i = 0; i < 3; ++i) {
            const int j = (i + 1) % 3;
            const cv::Vec3d a(k(i, 0), k(i, 1), k(i, 2)), b(k(j, 0), k(j, 1), k(j, 2)), v = a.cross(b);
            if (cv::norm(v) > cv::norm(best)) best = v;
        }
        const double length = cv::norm(best);
        if (!(length > 0)) continue;
        const cv::Vec3d v = best * (1 / length);
        if (!(4 * v[0] * v[2] - v[1] * v[1] > 0)) continue;
        const cv::Vec3d w = t * v;
        const auto hoop =
            hoop_of(cv::Matx33d(v[0], v[1] / 2, w[0] / 2, v[1] / 2, v[2], w[1] / 2, w[0] / 2, w[1] / 2, w[2]));
        if (hoop) return Hoop{origin_ + hoop->centre * unit_, hoop->shape * unit_};
    }
    return std::nullopt;
}

std::optional<Hoop> direct_fit(std::span<const cv::Point2d> points) {
    if (points.size() < 5) return std::nullopt;
    cv::Point2d mean(0, 0);
    for (const auto& p : points) mean += p;
    mean *= 1 / static_cast<double>(points.size());
    double spread = 0;
    for (const auto& p : points) spread += cv::norm(p - mean);
    Scatter scatter(mean, std::max(1e-9, spread / static_cast<double>(points.size())));
    for (const auto& p : points) scatter.add(p);
    return scatter.fit();
}

std::array<double, 5> change_basis(double f) {
    return {1, std::cos(f), std::sin(f), std::cos(2 * f), std::sin(2 * f)};
}
Hoop changed(const Hoop& hoop, const Change& c) {
    const cv::Vec2d shift = hoop.shape * cv::Vec2d(c[1], c[2]);
    return {hoop.centre + cv::Point2d(shift[0], shift[1]),
            hoop.shape * cv::Matx22d(1 + c[0] + c[3], c[4], c[4], 1 + c[0] - c[3])};
}

std::optional<RobustFit> robust_fit(const Hoop& start, std::span<const cv::Point2d> points,
                                    std::span<const double> weights, double reach) {
    constexpr int kRounds = 12;
    RobustFit out{start, reach / 3, std::vector<double>(points.size(), 1), {}};
    std::vector<double> rests(points.size()), near;
    for (int round = 0; round < kRounds; ++round) {
        const cv::Matx22d inverse = out.hoop.shape.inv();
        cv::Matx<double, 5, 5> normal = cv::Matx<double, 5, 5>::zeros();
        cv::Vec<double, 5> right(0, 0, 0, 0, 0);
        for (std::size_t i = 0; i < points.size(); ++i) {
            const cv::Vec2d u =
                inverse * cv::Vec2d(points[i].x - out.hoop.centre.x, points[i].y - out.hoop.centre.y);
            const double rho = cv::norm(u);
            if (rho < 1e-6) {
                rests[i] = 1e9, out.weights[i] = 0;
                continue;
            }
            const double px = 1 / cv::norm(inverse.t() * (u * (1 / rho)));  // px for each unit of radius
            rests[i] = (rho - 1) * px;
            const double k =
                rests[i] / std::min(reach, std::max(4.7 * out.sigma, 0.4));  // Tukey's constant for 95 %
            out.weights[i] = k * k < 1 ? (1 - k * k) * (1 - k * k) : 0;
            const double w = out.weights[i] * (weights.empty() ? 1 : weights[i]);
            if (w <= 0) continue;
            const double cf = u[0] / rho, sf = u[1] / rho;
            const std::array<double, 5> basis{1, cf, sf, cf * cf - sf * sf, 2 * cf * sf};
            for (int r = 0; r < 5; ++r) {
                const double br = basis[static_cast<std::size_t>(r)] * px;
                right[r] += w * br * rests[i];
                for (int c = r; c < 5; ++c) normal(r, c) += w * br * basis[static_cast<std::size_t>(c)] * px;
            }
        }
        for (int r = 0; r < 5; ++r)
            for (int c = 0; c < r; ++c) normal(r, c) = normal(c, r);
        bool regular = false;
        const cv::Matx<double, 5, 5> inverse_normal = normal.inv(cv::DECOMP_CHOLESKY, &regular);
        if (!regular) return std::nullopt;
        const cv::Vec<double, 5> step = inverse_normal * right;
        Change change;
        double most = 0;
        for (std::size_t i = 0; i < 5; ++i) {
            change[i] = std::clamp(step[static_cast<int>(i)], -0.2, 0.2);
            most = std::max(most, std::abs(change[i]));
        }
        out.hoop = changed(out.hoop, change);
        const Axes axes = axes_of(out.hoop);
        if (!(axes.b > 0.05 * axes.a) || !std::isfinite(axes.a)) return std::nullopt;
        // The spread of those within reach.
        near.clear();
        for (const double r : rests)
            if (std::abs(r) < reach) near.push_back(std::abs(r));
        if (near.size() < 5) return std::nullopt;
        // By the third nearest, so that shadows along half of the rim do not widen it.
        const auto third = near.size() / 3;
        std::nth_element(near.begin(), near.begin() + static_cast<std::ptrdiff_t>(third), near.end());
        out.sigma = near[third] / 0.4307;
        out.covariance = inverse_normal * (std::max(out.sigma, 0.02) * std::max(out.sigma, 0.02));
        if (round > 2 && most * axes.a < 0.005) break;
    }
    return out;
}

}  // namespace footring::photo

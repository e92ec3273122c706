// SPDX-License-Identifier: Apache-2.0
#include "photo/pose.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>
#include <vector>

#include "photo/card_layout.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

// Phones see the world through 24 to 28 mm (35 mm equivalent), cropped a little more; some through 50.
constexpr double kUsualEquivalent = 26.5, kUsualSpread = 0.10, kUsualTail = 2;  // of the logarithm; Student's t
constexpr double kStatedSpread = 0.02;                                          // EXIF rounds to whole millimetres
constexpr double kFullFrameDiagonal = 43.27;                                    // mm
constexpr double kRoundness = 0.004;  // plates are round to about this, long against short
constexpr double kHeightSigmaMm = 0.5;
// Share of the radius: which of the edges of a lip was followed. Measured on 80 rendered photographs whose rim is
// known.
constexpr double kLipSigma = 0.003;
constexpr double kLeastCornerSigma = 0.12;  // px: printing and lens, below which residuals say nothing
constexpr double kRoundFrom = 0.955;        // short / long, measured: from here on a piece is round

double usual_focal(cv::Size size) {
    return kUsualEquivalent / kFullFrameDiagonal * std::hypot(size.width, size.height);
}

// turn (Rodrigues), place of the card's origin in the camera frame in mm, logarithm of the focal length
using State = cv::Vec<double, 7>;

struct CardCorner {
    cv::Point2d mm, px;
};

class Adjustment {
  public:
    Adjustment(const RimFound& rim, const View& view)
        : view_(view),
          middle_((view.size.width - 1) / 2.0, (view.size.height - 1) / 2.0),
          conic_(conic_of(rim.hoop)) {
        for (int id = 0; id < kMarkers; ++id) {
            const auto k = static_cast<std::size_t>(id);
            if (!view.card->seen.seen[k]) continue;
            const auto mm = marker_mm(id);
            for (std::size_t i = 0; i < 4; ++i)
                corners_.push_back({mm[i], mat_from_px(view.card->seen.markers[k][i])});
        }
        corner_sigma_ = std::max(kLeastCornerSigma, view.card->sigma_px);
    }

    cv::Matx33d camera(const State& s) const {
        const double f = std::exp(s[6]);
        return {f, 0, middle_.x, 0, f, middle_.y, 0, 0, 1};
    }
    static cv::Matx33d turn(const State& s) {
        cv::Matx33d r;
        cv::Rodrigues(cv::Vec3d(s[0], s[1], s[2]), r);
        return r;
    }
    // Photo from mm in the plane at `height` above the table.
    cv::Matx33d photo_from_plane(const State& s, double height) const {
        const cv::Matx33d r = turn(s);
        cv::Matx33d m = r;
        for (int i = 0; i < 3; ++i) m(i, 2) = s[3 + i] - height * r(i, 2);  // r's z points away from the camera
        return camera(s) * m;
    }
    std::optional<Hoop> hoop_in_plane(const State& s, double height) const {
        const cv::Matx33d h = photo_from_plane(s, height);
        return hoop_of(cv::Matx33d(h.t() * conic_ * h));
    }

    struct Answer {
        State state;
        double cost = 1e300;
        cv::Matx<double, 7, 7> covariance;
    };
    Answer solve(double focal, bool circle) const {
        Answer out;
        std::vector<cv::Point3d> mm;
        std::vector<cv::Point2d> px;
        for (const auto& c : corners_) mm.emplace_back(c.mm.x, c.mm.y, 0), px.push_back(c.px);
        const cv::Matx33d k(focal, 0, middle_.x, 0, focal, middle_.y, 0, 0, 1);
        cv::Vec3d rotation, place;
        if (!cv::solvePnP(mm, px, k, cv::noArray(), rotation, place, false, cv::SOLVEPNP_ITERATIVE)) return out;
        State now(rotation[0], rotation[1], rotation[2], place[0], place[1], place[2], std::log(focal));
        double lambda = 1e-3;
        std::vector<double> rest, other;
        std::vector<std::array<double, 7>> rows;
        double cost = residuals(now, circle, rest);
        for (int round = 0; round < 25; ++round) {
            const double weight = focal_weight(now);
            rows.assign(rest.size(), {});
            for (int p = 0; p < 7; ++p) {
                const double step = p < 3 || p == 6 ? 1e-5 : 1e-3;
                State moved = now;
                moved[p] += step;
                residuals(moved, circle, other);
                for (std::size_t i = 0; i < rest.size(); ++i)
                    rows[i][static_cast<std::size_t>(p)] = (other[i] - rest[i]) / step;
            }
            // Student's prior by weights: its row is that of a normal one with the weight of the present place.
            rows.back().fill(0);
            rows.back()[6] = weight;
            std::vector<double> r = rest;
            r.back() = weight * (now[6] - log_prior());
            cv::Matx<double, 7, 7> normal = cv::Matx<double, 7, 7>::zeros();
            cv::Vec<double, 7> right;
            for (std::size_t i = 0; i < r.size(); ++i)
                for (std::size_t a = 0; a < 7; ++a) {
                    right[static_cast<int>(a)] -= rows[i][a] * r[i];
                    for (std::size_t b = 0; b < 7; ++b)
                        normal(static_cast<int>(a), static_cast<int>(b)) += rows[i][a] * rows[i][b];
                }
            bool better = false;
            for (int attempt = 0; attempt < 6 && !better; ++attempt) {
                cv::Matx<double, 7, 7> damped = normal;
                for (int i = 0; i < 7; ++i) damped(i, i) *= 1 + lambda;
                const State next = now + damped.solve(right, cv::DECOMP_CHOLESKY);
                const double next_cost = residuals(next, circle, other);
                if (std::isfinite(next_cost) && next_cost < cost) {
                    const double gain = cost - next_cost;
                    now = next, cost = next_cost, rest = other;
                    lambda = std::max(1e-9, lambda / 5);
                    better = gain > 1e-7 * (1 + cost);
                    if (!better) break;
                } else {
                    lambda *= 8;
                }
            }
            out.covariance = normal.inv(cv::DECOMP_CHOLESKY);
            if (!better) break;
        }
        out.state = now;
        out.cost = cost;
        return out;
    }
    double corner_sigma() const { return corner_sigma_; }

  private:
    double log_prior() const { return std::log(view_.focal_px ? *view_.focal_px : usual_focal(view_.size)); }
    double focal_weight(const State& s) const {  // square root of the weight
        if (view_.focal_px) return 1 / kStatedSpread;
        const double z = (s[6] - log_prior()) / kUsualSpread;
        return std::sqrt((kUsualTail + 1) / (kUsualTail + z * z)) / kUsualSpread;
    }
    double residuals(const State& s, bool circle, std::vector<double>& out) const {
        out.clear();
        double cost = 0;
        const cv::Matx33d h = photo_from_plane(s, 0);
        for (const auto& c : corners_) {
            const cv::Point2d d = (through(h, c.mm) - c.px) * (1 / corner_sigma_);
            out.push_back(d.x);
            out.push_back(d.y);
            cost += d.dot(d);
        }
        if (circle) {
            const auto hoop = hoop_in_plane(s, view_.rim_height_mm);
            double c = 1e3, d = 1e3;
            if (hoop) {
                const Axes axes = axes_of(*hoop);
                const double off = std::log(axes.a / axes.b) / kRoundness;
                c = off * std::cos(2 * axes.turn), d = off * std::sin(2 * axes.turn);
            }
            out.push_back(c);
            out.push_back(d);
            cost += c * c + d * d;
        }
        const double z = s[6] - log_prior();
        out.push_back(focal_weight(s) * z);
        cost += view_.focal_px ? std::pow(z / kStatedSpread, 2)
                               : (kUsualTail + 1) * std::log1p(z * z / (kUsualTail * kUsualSpread * kUsualSpread));
        return cost;
    }

    const View& view_;
    cv::Point2d middle_;
    cv::Matx33d conic_;
    std::vector<CardCorner> corners_;
    double corner_sigma_;
};

double tilt_between(const cv::Vec3d& normal, const cv::Vec3d& sight) {
    return std::acos(std::clamp(std::abs(normal.dot(sight)) / cv::norm(normal) / cv::norm(sight), 0.0, 1.0)) * 180 /
           std::numbers::pi;
}

// Frame of the plate: x along the long axis, or for a round piece to the right of the picture; y down in it.
struct Frame {
    cv::Vec3d x, y, up, at;  // camera frame; `up` towards the camera
};
cv::Matx34d projection(const cv::Matx33d& camera, const Frame& frame, double unit) {
    cv::Matx34d m;
    for (int i = 0; i < 3; ++i) {
        m(i, 0) = frame.x[i] * unit;
        m(i, 1) = frame.y[i] * unit;
        m(i, 2) = frame.up[i] * unit;
        m(i, 3) = frame.at[i];
    }
    m = camera * m;
    return m * (1 / m(2, 3));
}

Plate with_card(const RimFound& rim, const View& view) {
    const Adjustment adjustment(rim, view);
    const double usual = view.focal_px.value_or(usual_focal(view.size));
    const auto best_of = [&](bool circle) {
        Adjustment::Answer best;
        for (const double factor : {1.0, 1.6, 0.75}) {
            const auto answer = adjustment.solve(usual * factor, circle);
            if (answer.cost < best.cost) best = answer;
            if (view.focal_px) break;
        }
        return best;
    };
    Plate plate;
    Adjustment::Answer answer = best_of(true);
    auto hoop = adjustment.hoop_in_plane(answer.state, view.rim_height_mm);
    bool round = false;
    if (hoop && answer.cost < 1e200) {
        const Axes axes = axes_of(*hoop);
        // The corners must allow the circle: a pose that bends them for its sake shows an oval.
        const auto free = best_of(false);
        const auto free_hoop = adjustment.hoop_in_plane(free.state, view.rim_height_mm);
        const double freely = free_hoop ? axes_of(*free_hoop).b / axes_of(*free_hoop).a : 1;
        round = axes.b / axes.a > 0.985 && freely > 0.9 && (freely > kRoundFrom || answer.cost < free.cost + 20);
        if (!round) answer = free, hoop = free_hoop;
    }
    if (!hoop || answer.cost > 1e200) return plate;
    const Axes axes = axes_of(*hoop);
    const double measured = axes.b / axes.a;

    // First-order doubt of the mean diameter: numeric derivatives by the state, and by the height.
    const auto mean_radius = [&](const State& s, double height) {
        const auto r = adjustment.hoop_in_plane(s, height);
        if (!r) return std::sqrt(axes.a * axes.b);
        const Axes x = axes_of(*r);
        return std::sqrt(x.a * x.b);
    };
    const double radius = mean_radius(answer.state, view.rim_height_mm);
    cv::Vec<double, 7> slope;
    for (int p = 0; p < 7; ++p) {
        const double step = p < 3 || p == 6 ? 1e-4 : 1e-2;
        State moved = answer.state;
        moved[p] += step;
        slope[p] = (mean_radius(moved, view.rim_height_mm) - radius) / step;
    }
    const double by_pose = slope.dot(answer.covariance * slope);
    const double by_height = (mean_radius(answer.state, view.rim_height_mm + kHeightSigmaMm) - radius);
    const Axes px = axes_of(rim.hoop);
    const double by_rim =
        radius * std::hypot(std::sqrt(std::max(0.0, rim.covariance(0, 0))), std::hypot(0.3 / px.a, kLipSigma));
    const double sigma = std::sqrt(by_pose + by_height * by_height + by_rim * by_rim);

    double a = axes.a, b = axes.b;
    if (round) {  // most of the difference between long and short is error
        const double mean = std::sqrt(a * b), half = 0.35 * std::log(a / b) / 2;
        a = mean * std::exp(half), b = mean * std::exp(-half);
    }
    plate.outline.kind = round ? OutlineKind::kRound : OutlineKind::kOval;
    plate.aspect = round ? 1 : measured;
    plate.outline.long_mm = 2 * a;
    plate.outline.short_mm = 2 * b;
    plate.outline.sigma_mm = 2 * sigma;
    plate.outline.rim_height_mm = view.rim_height_mm;
    plate.outline.long_per_height = 2 * by_height / kHeightSigmaMm;
    const double unit = round ? std::sqrt(a * b) : a;
    plate.mm_per_unit = unit;
    plate.mm_per_unit_sigma = sigma;

    const cv::Matx33d turn = Adjustment::turn(answer.state);
    const cv::Vec3d ex(turn(0, 0), turn(1, 0), turn(2, 0)), ey(turn(0, 1), turn(1, 1), turn(2, 1)),
        down(turn(0, 2), turn(1, 2), turn(2, 2));
    Frame frame;
    frame.up = -down;
    frame.at = cv::Vec3d(answer.state[3], answer.state[4], answer.state[5]) - down * view.rim_height_mm +
               ex * hoop->centre.x + ey * hoop->centre.y;
    if (round) {
        cv::Vec3d right(1, 0, 0);
        right -= down * right.dot(down);
        frame.x = right / cv::norm(right);
    } else {
        frame.x = ex * std::cos(axes.turn) + ey * std::sin(axes.turn);
        if (frame.x[0] < 0) frame.x = -frame.x;
    }
    frame.y = down.cross(frame.x);
    plate.photo_from_plate = projection(adjustment.camera(answer.state), frame, unit);
    plate.outline.tilt_deg = tilt_between(frame.up, frame.at);
    return plate;
}

// The two ways in which a circle of radius 1 can lie so that it is seen as the hoop; camera frame.
struct CirclePose {
    cv::Vec3d normal, centre;  // normal towards the camera
};
std::vector<CirclePose> circle_poses(const Hoop& hoop, const cv::Matx33d& camera) {
    const cv::Matx33d q = camera.t() * conic_of(hoop) * camera;
    cv::Mat values, vectors;
    cv::eigen(cv::Mat(q), values, vectors);  // descending
    cv::Vec3d l(values.at<double>(0), values.at<double>(1), values.at<double>(2));
    std::array<cv::Vec3d, 3> v;
    for (int i = 0; i < 3; ++i)
        v[static_cast<std::size_t>(i)] = {vectors.at<double>(i, 0), vectors.at<double>(i, 1),
                                          vectors.at<double>(i, 2)};
    // Two positive values, one negative: the cone's axis belongs to the negative one.
    const double g = std::sqrt(std::max(0.0, (l[0] - l[1]) / (l[0] - l[2])));
    const double h = std::sqrt(std::max(0.0, (l[1] - l[2]) / (l[0] - l[2])));
    std::vector<CirclePose> out;
    for (const double side : {1.0, -1.0}) {
        cv::Vec3d n = v[0] * (side * g) + v[2] * h;
        // The centre is the pole of the plane's line at infinity: Q^-1 n, scaled below.
        cv::Vec3d c = q.inv() * n;
        if (c[2] < 0) c = -c;
        if (n.dot(c) > 0) n = -n;
        // Scale: the plane n . x = n . c cuts the cone in a circle of radius 1.
        cv::Vec3d x = n.cross(cv::Vec3d(0, 1, 0));
        if (cv::norm(x) < 1e-3) x = n.cross(cv::Vec3d(1, 0, 0));
        x /= cv::norm(x);
        // On c + r x: (c + r x)^T Q (c + r x) = 0.
        const double a = x.dot(q * x), b = x.dot(q * c), d = c.dot(q * c);
        const double root = b * b - a * d;
        if (!(root > 0) || std::abs(a) < 1e-300) continue;
        const double r = std::abs((-b + std::sqrt(root)) / a);
        if (!(r > 0) || !std::isfinite(r)) continue;
        out.push_back({n, c * (1 / r)});
    }
    return out;
}

// Natural logarithm of how much better an oval seen from above explains the rim than a circle
// seen aslant does, without a card. Rims of ovals have one width all round, so that rings further in are longer for
// their width; a circle's rings all look alike. Cameras are held level, and seldom more than 45 degrees aslant.
double oval_rather_than_round(const RimFound& rim) {
    constexpr double kAspectSigma = 0.014;  // of a ring's short / long axis, by its depth and the fit
    constexpr double kMostOfOne = 6;        // no single ring decides alone: it may be an ornament
    const Axes outer = axes_of(rim.hoop);
    const double aspect = outer.b / outer.a;
    double sum = -3;  // what cannot be told is round: most pieces are
    double rings = 0;
    std::vector<double> used;
    for (const auto& hoop : rim.inner) {
        const Axes inner = axes_of(hoop);
        const double scale = inner.a / outer.a;
        if (scale > 0.985 || scale < 0.45) continue;
        if (cv::norm(hoop.centre - rim.hoop.centre) > 0.15 * outer.b) continue;
        if (std::abs(std::remainder(inner.turn - outer.turn, std::numbers::pi)) > 0.12 + 0.1 * (aspect > 0.9))
            continue;
        if (std::any_of(used.begin(), used.end(), [&](double u) { return std::abs(u - scale) < 0.03; })) continue;
        used.push_back(scale);
        const double width = 1 - scale, as_oval = (aspect - width) / (1 - width), is = inner.b / inner.a;
        const double round_off = (is - aspect) / kAspectSigma, oval_off = (is - as_oval) / kAspectSigma;
        rings += std::clamp((std::min(round_off * round_off, 30.0) - std::min(oval_off * oval_off, 30.0)) / 2,
                            -kMostOfOne, kMostOfOne);
    }
    sum += std::clamp(rings, -12.0, 12.0);
    const double tilt = std::acos(std::clamp(aspect, 0.0, 1.0)) * 180 / std::numbers::pi;
    if (tilt > 20) {
        const double roll = std::abs(outer.turn) * 180 / std::numbers::pi;  // of the long axis from the horizontal
        sum += std::min(4.0, std::max(0.0, roll - 8) / 6);
    }
    sum += std::min(4.0, std::pow(std::max(0.0, tilt - 30) / 15, 2));
    return sum;
}

Plate without_card(const RimFound& rim, const View& view) {
    const double focal = view.focal_px.value_or(usual_focal(view.size));
    const cv::Matx33d camera(focal, 0, (view.size.width - 1) / 2.0, 0, focal, (view.size.height - 1) / 2.0, 0, 0,
                             1);
    Plate plate;
    Frame frame;
    const Axes axes = axes_of(rim.hoop);
    const double oval = axes.b / axes.a > 0.93 ? -10 : oval_rather_than_round(rim);
    if (oval > 0) {
        if (auto from_above = oval_aslant(rim, view, 0)) {
            from_above->notes.emplace_back(
                "Without the scale card the tilt of an oval piece is not known: it was taken to be seen "
                "from straight above.");
            return *from_above;
        }
        return plate;
    } else {
        const auto poses = circle_poses(rim.hoop, camera);
        if (poses.empty()) return plate;
        // Photographs are taken standing up: the far side is up.
        const CirclePose& pose = poses.size() > 1 && poses[1].normal[1] < poses[0].normal[1] ? poses[1] : poses[0];
        frame.up = pose.normal;
        frame.at = pose.centre;
        cv::Vec3d right(1, 0, 0);
        right -= frame.up * right.dot(frame.up);
        frame.x = right / cv::norm(right);
        plate.outline.kind = OutlineKind::kRound;
        if (oval > -3 && axes.b / axes.a < 0.85)
            plate.notes.emplace_back(
                "A round piece seen aslant and an oval one look alike here: it was taken to be round. "
                "A scale card beside it would tell.");
    }
    frame.y = (-frame.up).cross(frame.x);
    plate.photo_from_plate = projection(camera, frame, 1);
    plate.outline.tilt_deg = tilt_between(frame.up, frame.at);
    return plate;
}

}  // namespace

std::optional<Plate> oval_aslant(const RimFound& rim, const View& view, double tilt_deg) {
    const double focal = view.focal_px.value_or(usual_focal(view.size)), tilt = tilt_deg * std::numbers::pi / 180;
    const cv::Matx33d camera(focal, 0, (view.size.width - 1) / 2.0, 0, focal, (view.size.height - 1) / 2.0, 0, 0,
                             1);
    Frame frame;
    frame.up = cv::Vec3d(0, -std::sin(tilt), -std::cos(tilt));
    const cv::Vec3d ex(1, 0, 0), ey = (-frame.up).cross(ex);
    const cv::Vec3d sight = camera.inv() * cv::Vec3d(rim.hoop.centre.x, rim.hoop.centre.y, 1);
    if (!(frame.up.dot(sight) < -1e-3)) return std::nullopt;
    const cv::Vec3d middle = sight * (-1 / frame.up.dot(sight));  // in a plane one unit away
    const cv::Matx33d photo_from_plane =
        camera * cv::Matx33d(ex[0], ey[0], middle[0], ex[1], ey[1], middle[1], ex[2], ey[2], middle[2]);
    const auto hoop = hoop_of(cv::Matx33d(photo_from_plane.t() * conic_of(rim.hoop) * photo_from_plane));
    if (!hoop) return std::nullopt;
    const Axes axes = axes_of(*hoop);
    frame.x = ex * std::cos(axes.turn) + ey * std::sin(axes.turn);
    if (frame.x[0] < 0) frame.x = -frame.x;
    frame.y = (-frame.up).cross(frame.x);
    frame.at = middle + ex * hoop->centre.x + ey * hoop->centre.y;
    Plate plate;
    plate.outline.kind = OutlineKind::kOval;
    plate.outline.rim = ellipse_of(rim.hoop);
    plate.outline.seen = rim.seen;
    plate.outline.tilt_deg = tilt_between(frame.up, frame.at);
    plate.aspect = axes.b / axes.a;
    plate.photo_from_plate = projection(camera, frame, axes.a);
    return plate;
}

Plate plate_of(const RimFound& rim, const View& view) {
    Plate plate;
    if (view.card) plate = with_card(rim, view);
    if (plate.outline.kind == OutlineKind::kNone) plate = without_card(rim, view);
    plate.outline.rim = ellipse_of(rim.hoop);
    plate.outline.seen = rim.seen;
    return plate;
}

Plate plate_of(const PolygonFound& polygon, const View& view) {
    RimFound as_rim;
    as_rim.hoop = polygon.touching;
    as_rim.seen = polygon.seen;
    as_rim.sigma_px = polygon.sigma_px;
    Plate plate = plate_of(as_rim, view);
    if (plate.outline.kind == OutlineKind::kNone) return plate;
    if (!view.card) plate.notes.clear();  // they speak of round and oval pieces
    const bool square = polygon.corners.size() == 4;
    if (plate.outline.kind == OutlineKind::kOval && view.card && plate.aspect < 0.9) {
        plate.outline.kind = OutlineKind::kOther;
        plate.notes.emplace_back(
            "No piece was found: what has straight sides in the picture is neither square nor octagonal.");
    } else {
        plate.outline.kind = square ? OutlineKind::kSquare : OutlineKind::kOctagonal;
        plate.aspect = view.card ? *plate.outline.short_mm / *plate.outline.long_mm : 1;
    }
    for (const auto& c : polygon.corners) plate.outline.corners.push_back(px_from_mat(c));
    // x runs to the middle of the side that is furthest right.
    cv::Point2d right(-1e9, 0);
    for (std::size_t i = 0; i < polygon.corners.size(); ++i) {
        const cv::Point2d m = (polygon.corners[i] + polygon.corners[(i + 1) % polygon.corners.size()]) * 0.5;
        if (m.x > right.x) right = m;
    }
    const cv::Matx34d& p = plate.photo_from_plate;
    const cv::Matx33d plane(p(0, 0), p(0, 1), p(0, 3), p(1, 0), p(1, 1), p(1, 3), p(2, 0), p(2, 1), p(2, 3));
    const cv::Point2d on = through(plane.inv(), right);
    const double turn = std::atan2(on.y, on.x), c = std::cos(turn), s = std::sin(turn);
    plate.photo_from_plate = p * cv::Matx44d(c, -s, 0, 0, s, c, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1);
    return plate;
}

}  // namespace footring::photo

// The renderer of photo/test_scene.h, and facts that it must keep to be believed.
// SPDX-License-Identifier: Apache-2.0
#include "photo/test_scene.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/aruco.hpp>
#include <opencv2/imgproc.hpp>

#include "book/colour.h"

namespace footring::photo::testing {

namespace {
using cv::Vec3d;
constexpr double kPi = std::numbers::pi;

double linear_of(double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); }
double srgb_of(double v) {
    v = std::clamp(v, 0.0, 1.0);
    return v <= 0.0031308 ? v * 12.92 : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}
Vec3d linear_bgr(const book::Rgb& c) { return {linear_of(c.b), linear_of(c.g), linear_of(c.r)}; }

// Smooth noise 0..1 on a lattice, periodic in x.
class Noise {
  public:
    Noise(std::uint64_t seed, int across, int down) : grid_(down + 2, across) {
        cv::RNG random(seed * 7919 + 13);
        random.fill(grid_, cv::RNG::UNIFORM, 0.0f, 1.0f);
    }
    double at(double x, double y) const {  // x in [0, 1), y in lattice steps
        const double fx = x * grid_.cols, fy = std::clamp(y, 0.0, grid_.rows - 1.001);
        const int ix = static_cast<int>(std::floor(fx)), iy = static_cast<int>(fy);
        const double ux = ease(fx - ix), uy = ease(fy - iy);
        const auto g = [&](int r, int c) {
            return static_cast<double>(grid_(r, ((c % grid_.cols) + grid_.cols) % grid_.cols));
        };
        return std::lerp(std::lerp(g(iy, ix), g(iy, ix + 1), ux), std::lerp(g(iy + 1, ix), g(iy + 1, ix + 1), ux),
                         uy);
    }

  private:
    static double ease(double u) { return u * u * (3 - 2 * u); }
    cv::Mat_<float> grid_;
};

// The curve of the rim: the nearest foot of a point, its distance inwards and arc length.
class Rim {
  public:
    explicit Rim(double aspect) : b_(aspect) {
        double sum = 0;
        arc_.push_back(0);
        for (int i = 0; i < kSteps; ++i) {
            const double m = (i + 0.5) * 2 * kPi / kSteps;
            sum += std::hypot(std::sin(m), b_ * std::cos(m));
            arc_.push_back(sum);
        }
        for (double& a : arc_) a /= sum;
    }
    struct Near {
        double s, t;
        cv::Point2d inwards;
    };
    Near near(cv::Point2d p) const {
        if (b_ == 1) {
            const double r = std::hypot(p.x, p.y), m = std::atan2(p.y, p.x);
            const double s = m / (2 * kPi);
            return {s < 0 ? s + 1 : s, 1 - r, r > 1e-9 ? cv::Point2d(-p.x / r, -p.y / r) : cv::Point2d(0, 0)};
        }
        double m = std::atan2(p.y / b_, p.x);
        for (int i = 0; i < 12; ++i) {  // Newton on the foot of the normal
            const double c = std::cos(m), s = std::sin(m), dx = c - p.x, dy = b_ * s - p.y;
            const double f = -dx * s + b_ * dy * c, d = s * s + b_ * b_ * c * c - dx * c - b_ * dy * s;
            const double step = std::clamp(f / (std::abs(d) > 1e-6 ? std::abs(d) : 1e-6), -0.3, 0.3);
            m -= step;
            if (std::abs(step) < 1e-7) break;
        }
        const double c = std::cos(m), s = std::sin(m), n = std::hypot(b_ * c, s);
        const cv::Point2d inwards(-b_ * c / n, -s / n);
        const double turn = m / (2 * kPi);
        return {s_of(turn - std::floor(turn)), (p.x - c) * inwards.x + (p.y - b_ * s) * inwards.y, inwards};
    }

  private:
    static constexpr int kSteps = 4096;
    double s_of(double turn) const {
        const double x = std::min(turn, 0.9999999) * kSteps;
        const int i = static_cast<int>(x);
        return std::lerp(arc_[static_cast<std::size_t>(i)], arc_[static_cast<std::size_t>(i) + 1], x - i);
    }
    double b_;
    std::vector<double> arc_;
};

double sample(const cv::Mat& m, double u, double v, int channel) {
    const double x = std::clamp(u * m.cols - 0.5, 0.0, m.cols - 1.0),
                 y = std::clamp(v * m.rows - 0.5, 0.0, m.rows - 1.0);
    const int ix = static_cast<int>(x), iy = static_cast<int>(y), jx = std::min(ix + 1, m.cols - 1),
              jy = std::min(iy + 1, m.rows - 1);
    const auto at = [&](int r, int c) {
        return m.type() == CV_32FC1 ? static_cast<double>(m.at<float>(r, c))
                                    : m.at<cv::Vec4b>(r, c)[channel] / 255.0;
    };
    return std::lerp(std::lerp(at(iy, ix), at(iy, jx), x - ix), std::lerp(at(jy, ix), at(jy, jx), x - ix), y - iy);
}

// What covers a point of the glaze.
struct Paint {
    double cover = 0;
    Vec3d albedo{0, 0, 0};  // linear B, G, R
    bool metal = false;
};
struct Stuff {
    Vec3d albedo;
    bool metal = false;
};
Stuff stuff_of(const std::string& finish) {
    if (finish == "gold") return {{0.34, 0.70, 0.96}, true};  // reflectance of gold, platinum and silver, roughly
    if (finish == "platinum") return {{0.54, 0.59, 0.64}, true};
    if (finish == "silver") return {{0.86, 0.90, 0.92}, true};
    return {linear_bgr(book::rgb_of_hex(book::ink_of(finish).base)), false};
}

class Painter {
  public:
    Painter(const SceneSpec& spec) : spec_(spec), coarse_(spec.seed, 7, 3) {
        if (spec.border) {
            const auto& b = *spec.border;
            border_ = stuff_of(b.finish);
            if (b.wear > 0) {
                const int across = std::max(8, static_cast<int>(2 * kPi / b.wear_patch));
                patches_.emplace(spec.seed + 5, across,
                                 std::max(3, static_cast<int>((b.to - b.from) / b.wear_patch) + 2));
                threshold_ = find_threshold();
            }
        }
        for (std::size_t i = 0; i < spec.lines.size(); ++i) {
            lines_.push_back(stuff_of(spec.lines[i].finish));
            line_wear_.emplace_back(spec.seed + 31 + i, 90, 2);
        }
        if (spec.centre) centre_ = stuff_of(spec.centre->finish);
    }
    double wear() const { return worn_; }

    Paint at(const Rim::Near& near, cv::Point2d p) const {
        Paint paint;
        const auto lay = [&](double cover, const Stuff& stuff) {
            if (cover <= paint.cover) return;
            paint = {cover, stuff.albedo, stuff.metal};
        };
        for (std::size_t i = 0; i < lines_.size(); ++i) {
            const auto& line = spec_.lines[i];
            if (std::abs(near.t - line.at) > line.width / 2) continue;
            if (line.wear > 0 && line_wear_[i].at(near.s, 0.5) < std::lerp(0.15, 0.85, line.wear)) continue;
            lay(1, lines_[i]);
        }
        if (spec_.border) {
            double u = 0, v = 0;
            if (place(near.s, near.t, u, v) && !worn_away(near.s, near.t)) {
                Stuff stuff = border_;
                lay(colour(spec_.border->tile, u, v, stuff), stuff);
            }
        }
        if (spec_.centre) {
            const auto& c = *spec_.centre;
            const double a = c.angle_deg * kPi / 180, dx = p.x - c.middle.x, dy = p.y - c.middle.y;
            const double u = (dx * std::cos(a) + dy * std::sin(a)) / (2 * c.radius) + 0.5,
                         v = (-dx * std::sin(a) + dy * std::cos(a)) / (2 * c.radius) + 0.5;
            if (u >= 0 && u < 1 && v >= 0 && v < 1) {
                Stuff stuff = centre_;
                lay(colour(c.tile, u, v, stuff), stuff);
            }
        }
        return paint;
    }

  private:
    bool place(double s, double t, double& u, double& v) const {
        const auto& b = *spec_.border;
        v = (t - b.from) / (b.to - b.from);
        if (v < 0 || v >= 1) return false;
        const double x = (s - b.phase) * b.repeats + 0.5, f = std::floor(x);
        u = x - f;
        const int index = ((static_cast<int>(f) % b.repeats) + b.repeats) % b.repeats;
        return std::find(b.left_out.begin(), b.left_out.end(), index) == b.left_out.end();
    }
    static double colour(const cv::Mat& tile, double u, double v, Stuff& stuff) {
        if (tile.type() == CV_32FC1) return sample(tile, u, v, 0);
        const double cover = sample(tile, u, v, 3);
        if (cover > 0)
            for (int c = 0; c < 3; ++c) stuff.albedo[c] = linear_of(sample(tile, u, v, c));
        return cover;
    }
    double loss_at(double s, double t) const {  // large: lost late
        const auto& b = *spec_.border;
        return 0.7 * patches_->at(s, (t - b.from) / b.wear_patch) + 0.3 * coarse_.at(s, 0.5);
    }
    bool worn_away(double s, double t) const { return patches_ && loss_at(s, t) < threshold_; }
    double find_threshold() {
        std::vector<std::pair<double, double>> all;  // loss value, ink
        double sum = 0, u = 0, v = 0;
        for (int i = 0; i < 2000; ++i)
            for (int j = 0; j < 24; ++j) {
                const double s = (i + 0.5) / 2000,
                             t = std::lerp(spec_.border->from, spec_.border->to, (j + 0.5) / 24);
                if (!place(s, t, u, v)) continue;
                Stuff ignored;
                const double ink = colour(spec_.border->tile, u, v, ignored);
                if (ink <= 0) continue;
                all.emplace_back(loss_at(s, t), ink);
                sum += ink;
            }
        std::sort(all.begin(), all.end());
        double lost = 0;
        for (const auto& [value, ink] : all) {
            if (lost >= spec_.border->wear * sum) {
                worn_ = lost / sum;
                return value;
            }
            lost += ink;
        }
        worn_ = 1;
        return 2;
    }

    const SceneSpec& spec_;
    Stuff border_, centre_;
    std::vector<Stuff> lines_;
    std::vector<Noise> line_wear_;
    Noise coarse_;
    std::optional<Noise> patches_;
    double threshold_ = 0, worn_ = 0;
};

struct Camera {
    Vec3d at, right, down, ahead;
    double focal = 1;
    cv::Point2d middle;
    cv::Matx34d photo_from_world() const {
        const cv::Matx33d k(focal, 0, middle.x, 0, focal, middle.y, 0, 0, 1);
        const cv::Matx33d r(right[0], right[1], right[2], down[0], down[1], down[2], ahead[0], ahead[1], ahead[2]);
        const Vec3d t = -(r * at);
        return k * cv::Matx34d(r(0, 0), r(0, 1), r(0, 2), t[0], r(1, 0), r(1, 1), r(1, 2), t[1], r(2, 0), r(2, 1),
                               r(2, 2), t[2]);
    }
};
Camera camera_of(const SceneSpec& spec) {
    const double tilt = spec.tilt_deg * kPi / 180, roll = spec.roll_deg * kPi / 180;
    const Vec3d right(1, 0, 0), down(0, std::cos(tilt), -std::sin(tilt));
    Camera c;
    c.ahead = {0, -std::sin(tilt), -std::cos(tilt)};
    c.right = right * std::cos(roll) + down * std::sin(roll);
    c.down = down * std::cos(roll) - right * std::sin(roll);
    c.at = -c.ahead * spec.distance;
    c.focal = spec.fill * spec.size.height / 2 * spec.distance;
    c.middle = {spec.size.width / 2.0 - 0.5 + spec.off.x * spec.size.height,
                spec.size.height / 2.0 - 0.5 + spec.off.y * spec.size.height};
    return c;
}
cv::Point2d project(const cv::Matx34d& m, Vec3d p) {
    const Vec3d h = m * cv::Vec4d(p[0], p[1], p[2], 1);
    return {h[0] / h[2], h[1] / h[2]};
}

cv::Mat card_image(double px_per_mm) {
    const auto px = [&](double mm) { return static_cast<int>(std::lround(mm * px_per_mm)); };
    cv::Mat card(px(53.98), px(85.60), CV_8UC1, cv::Scalar(250));
    const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
    const double xs[] = {4, 85.6 - 16, 85.6 - 16, 4}, ys[] = {4, 4, 53.98 - 16, 53.98 - 16};
    for (int id = 0; id < 4; ++id) {
        cv::Mat marker;
        cv::aruco::drawMarker(dictionary, id, px(12), marker, 1);
        marker.copyTo(card(cv::Rect(px(xs[id]), px(ys[id]), marker.cols, marker.rows)));
    }
    const double left[] = {15.8, 26.8, 37.8, 48.8, 59.8};
    const int grey[] = {243, 200, 160, 122, 85};
    for (int i = 0; i < 5; ++i) card(cv::Rect(px(left[i]), px(53.98 / 2 - 6), px(10), px(12))).setTo(grey[i]);
    return card;
}
}  // namespace

double depth_at(const SceneSpec& spec, double t) {
    // the rim slopes evenly; a quarter wave leads down into the well, which is flat
    const double well = spec.verge + 0.12, fall = 0.05;
    if (t <= spec.verge) return -spec.drop * std::max(t, 0.0);
    const double at_verge = -spec.drop * spec.verge, u = std::min(1.0, (t - spec.verge) / (well - spec.verge));
    // cubic from slope -drop to slope 0
    const double h = well - spec.verge, drop = -spec.drop * h, end = at_verge - fall;
    const double u2 = u * u, u3 = u2 * u;
    return (2 * u3 - 3 * u2 + 1) * at_verge + (u3 - 2 * u2 + u) * drop + (-2 * u3 + 3 * u2) * end;
}

Scene render(const SceneSpec& spec) {
    Scene scene;
    const Rim rim(spec.aspect);
    const Painter painter(spec);
    const Camera camera = camera_of(spec);
    const double unit_mm = spec.diameter_mm / 2, turn = spec.turn_deg * kPi / 180;
    const cv::Matx34d photo_from_world = camera.photo_from_world();
    const cv::Matx44d world_from_plate(std::cos(turn), -std::sin(turn), 0, 0, std::sin(turn), std::cos(turn), 0, 0,
                                       0, 0, 1, 0, 0, 0, 0, 1);
    scene.wear = painter.wear();
    Plate& plate = scene.plate;
    plate.photo_from_plate = photo_from_world * world_from_plate;
    plate.aspect = spec.aspect;
    plate.mm_per_unit = unit_mm;
    plate.mm_per_unit_sigma = 0.001 * unit_mm;
    plate.outline.kind = spec.aspect == 1 ? OutlineKind::kRound : OutlineKind::kOval;
    plate.outline.seen = 1;
    plate.outline.tilt_deg = spec.tilt_deg;
    plate.outline.long_mm = spec.diameter_mm;
    plate.outline.short_mm = spec.diameter_mm * spec.aspect;
    plate.outline.sigma_mm = 0.2;
    std::vector<cv::Point2f> curve;
    for (int i = 0; i < 360; ++i) {
        const double m = i * kPi / 180;
        curve.push_back(project(plate.photo_from_plate, {std::cos(m), spec.aspect * std::sin(m), 0}));
    }
    const cv::RotatedRect box = cv::fitEllipseDirect(curve);
    const bool tall = box.size.height > box.size.width;
    double angle = box.angle + (tall ? 90 : 0);
    angle = std::fmod(angle + 90, 180.0) - 90;
    plate.outline.rim = {px_from_mat({box.center.x, box.center.y}), std::max(box.size.width, box.size.height) / 2.0,
                         std::min(box.size.width, box.size.height) / 2.0, angle};

    const double table_z = -spec.height_mm / unit_mm;
    constexpr double kCardPx = 12;
    const cv::Mat card = card_image(kCardPx);
    const double card_turn = spec.card_turn_deg * kPi / 180;
    const auto world_of_card = [&](double x, double y) -> Vec3d {
        return {(spec.card_at_mm.x + x * std::cos(card_turn) - y * std::sin(card_turn)) / unit_mm,
                (spec.card_at_mm.y + x * std::sin(card_turn) + y * std::cos(card_turn)) / unit_mm, table_z};
    };
    {
        const Vec3d o = world_of_card(0, 0), ex = world_of_card(1, 0) - o, ey = world_of_card(0, 1) - o;
        const cv::Matx<double, 4, 3> world_from_card(ex[0], ey[0], o[0], ex[1], ey[1], o[1], ex[2], ey[2], o[2], 0,
                                                     0, 1);
        scene.photo_from_card = photo_from_world * world_from_card;
    }

    const Vec3d glaze = linear_bgr(book::rgb_of_lab(spec.glaze_lab));
    const Vec3d table = linear_bgr(book::rgb_of_lab(spec.table_lab));
    const Noise grain(spec.seed + 77, 160, 14), room(spec.seed + 99, 9, 6);
    const Vec3d light = spec.light / cv::norm(spec.light);
    const double flat = spec.ambient + (1 - spec.ambient) * light[2];

    // specks, in the plate frame
    scene.area_dm2 = kPi * unit_mm * unit_mm * spec.aspect / 10000;
    cv::Mat_<uchar> speck_map;
    constexpr int kSpeckMap = 2000;  // for the plate frame -1 .. 1
    if (spec.specks_per_dm2 > 0) {
        speck_map = cv::Mat_<uchar>::zeros(kSpeckMap, kSpeckMap);
        cv::RNG random(spec.seed + 5);
        const int wanted = static_cast<int>(std::lround(spec.specks_per_dm2 * scene.area_dm2));
        while (scene.specks < wanted) {
            const cv::Point2d p(random.uniform(-1.0, 1.0), random.uniform(-1.0, 1.0));
            if (p.x * p.x + p.y * p.y / (spec.aspect * spec.aspect) > 0.97) continue;
            ++scene.specks;
            const double radius = random.uniform(0.25, 0.5) / unit_mm * kSpeckMap / 2;
            cv::circle(speck_map,
                       {static_cast<int>((p.x + 1) / 2 * kSpeckMap * 16),
                        static_cast<int>((p.y + 1) / 2 * kSpeckMap * 16)},
                       static_cast<int>(radius * 16), 255, cv::FILLED, cv::LINE_AA, 4);
        }
    }

    cv::Mat_<cv::Vec3f> out(spec.size);
    const auto shade = [&](double px, double py) -> Vec3d {
        const Vec3d ray = camera.right * ((px - camera.middle.x) / camera.focal) +
                          camera.down * ((py - camera.middle.y) / camera.focal) + camera.ahead;
        const auto hit = [&](double z) { return camera.at + ray * ((z - camera.at[2]) / ray[2]); };
        const auto plate_of = [&](const Vec3d& w) {
            return cv::Point2d(w[0] * std::cos(turn) + w[1] * std::sin(turn),
                               -w[0] * std::sin(turn) + w[1] * std::cos(turn));
        };
        Vec3d w = hit(0);
        cv::Point2d p = plate_of(w);
        Rim::Near near = rim.near(p);
        if (near.t >= 0) {
            for (int i = 0; i < 6; ++i) {  // down to the surface
                const double z = depth_at(spec, near.t);
                w = hit(z);
                p = plate_of(w);
                near = rim.near(p);
            }
            const double step = 1e-4;
            double slope = (depth_at(spec, near.t + step) - depth_at(spec, std::max(0.0, near.t - step))) /
                           (near.t < step ? near.t + step : 2 * step);
            double along = 0;  // slope along the rim, of relief
            if (spec.relief > 0 && near.t > 0.01 && near.t < 0.06) {
                const double m = 2 * kPi * spec.relief_repeats, v = (near.t - 0.01) / 0.05;
                const double bump = std::sin(v * kPi), wave = std::cos(m * near.s);
                along = -spec.relief * bump * m / (2 * kPi) * std::sin(m * near.s) / 2;
                slope += spec.relief * std::cos(v * kPi) * kPi / 0.05 * (1 + wave) / 2;
            }
            const cv::Point2d in(near.inwards.x * std::cos(turn) - near.inwards.y * std::sin(turn),
                                 near.inwards.x * std::sin(turn) + near.inwards.y * std::cos(turn));
            Vec3d normal(-slope * in.x + along * in.y, -slope * in.y - along * in.x, 1);
            normal /= cv::norm(normal);
            Paint paint = painter.at(near, p);
            Vec3d albedo = glaze;
            if (!speck_map.empty()) {
                const int c = static_cast<int>((p.x + 1) / 2 * kSpeckMap),
                          r = static_cast<int>((p.y + 1) / 2 * kSpeckMap);
                if (c >= 0 && r >= 0 && c < kSpeckMap && r < kSpeckMap) albedo *= 1 - 0.8 * speck_map(r, c) / 255.0;
            }
            Vec3d ray1 = ray / cv::norm(ray);
            const Vec3d mirror = ray1 - normal * (2 * ray1.dot(normal));
            double lit = (spec.ambient + (1 - spec.ambient) * std::max(0.0, normal.dot(light))) / flat;
            const double gloss = spec.highlight * std::pow(std::max(0.0, mirror.dot(light)), 250.0) * 2.5;
            if (spec.shadow > 0) {
                const double around = std::clamp((w[1] - 0.2) / 0.4, 0.0, 1.0);
                lit *= 1 - spec.shadow * around * std::clamp(1 - (near.t - 0.08) / 0.05, 0.0, 1.0);
            }
            // what a metal mirrors: the lamp, and a room of darker and brighter places
            const double turn_of_mirror = std::atan2(mirror[1], mirror[0]) / (2 * kPi);
            const double around =
                0.06 + 0.9 * std::pow(room.at(turn_of_mirror - std::floor(turn_of_mirror), 1 + 3 * mirror[2]), 1.6);
            const double metal =
                (around + 1.5 * std::pow(std::max(0.0, mirror.dot(light)), 40.0)) * std::min(1.0, lit);
            Vec3d colour = albedo * lit;
            const Vec3d ink = paint.metal ? paint.albedo * metal : paint.albedo * lit;
            colour = colour * (1 - paint.cover) + ink * paint.cover;
            const double sheen = paint.metal ? 1 - paint.cover : 1;
            return colour + Vec3d(1, 1, 1) * (gloss * sheen);
        }
        w = hit(table_z);
        if (spec.card) {
            const double dx = w[0] * unit_mm - spec.card_at_mm.x, dy = w[1] * unit_mm - spec.card_at_mm.y;
            const double x = dx * std::cos(card_turn) + dy * std::sin(card_turn),
                         y = -dx * std::sin(card_turn) + dy * std::cos(card_turn);
            const int c = static_cast<int>(x * kCardPx), r = static_cast<int>(y * kCardPx);
            if (x >= 0 && y >= 0 && c < card.cols && r < card.rows) {
                const double v = linear_of(card.at<uchar>(r, c) / 255.0);
                return {v, v, v};
            }
        }
        const double far = std::hypot(w[0] + 0.12, w[1] + 0.15);
        const double dark = 0.45 * std::clamp(1 - (far - 0.9) / 0.25, 0.0, 1.0);  // the plate's shadow on the table
        const double x = w[0] * 0.11, wave = grain.at(x - std::floor(x), 6 + 2 * w[1]);
        return table * ((0.75 + 0.5 * wave) * (1 - dark));
    };

    const cv::Point2d middle = project(photo_from_world, {0, 0, 0});
    const double reach = spec.fill * spec.size.height / 2 * 1.35;
    cv::parallel_for_(cv::Range(0, spec.size.height), [&](const cv::Range& rows) {
        for (int y = rows.start; y < rows.end; ++y)
            for (int x = 0; x < spec.size.width; ++x) {
                const bool on_plate = std::hypot(x - middle.x, y - middle.y) < reach;
                const int n = on_plate || spec.card ? 2 : 1;
                Vec3d sum(0, 0, 0);
                for (int j = 0; j < n; ++j)
                    for (int i = 0; i < n; ++i) sum += shade(x + (i + 0.5) / n - 0.5, y + (j + 0.5) / n - 0.5);
                sum /= n * n;
                for (int c = 0; c < 3; ++c) out(y, x)[c] = static_cast<float>(sum[c] * spec.gain[c]);
            }
    });
    if (spec.blur_px > 0) cv::GaussianBlur(out, out, {}, spec.blur_px);
    cv::RNG random(spec.seed + 17);
    cv::Mat_<cv::Vec3f> noise(spec.size);
    random.fill(noise, cv::RNG::NORMAL, 0.0, spec.noise);
    cv::Mat_<cv::Vec3b> bgr(spec.size);
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x)
            for (int c = 0; c < 3; ++c)
                bgr(y, x)[c] = cv::saturate_cast<uchar>(
                    255 * (srgb_of(static_cast<double>(out(y, x)[c])) + static_cast<double>(noise(y, x)[c])));
    scene.picture.bgr = bgr;
    scene.picture.focal_px = camera.focal;
    scene.picture.type = "image/png";
    return scene;
}

TEST(TestScene, ShowsItsBorderWhereTheGeometrySaysItLies) {
    SceneSpec spec;
    spec.size = {800, 600};
    spec.tilt_deg = 30;
    spec.turn_deg = 25;
    spec.noise = 0;
    spec.highlight = 0;
    spec.border =
        SceneBorder{.tile = cv::Mat(10, 10, CV_32FC1, cv::Scalar(1)), .from = 0.10, .to = 0.16, .finish = "blue"};
    const Scene scene = render(spec);
    const auto blueness = [&](double t, double s) {
        const double m = 2 * kPi * s, r = 1 - t;
        const cv::Point2d p =
            project(scene.plate.photo_from_plate, {r * std::cos(m), r * std::sin(m), depth_at(spec, t)});
        const auto c =
            scene.picture.bgr.at<cv::Vec3b>(static_cast<int>(std::lround(p.y)), static_cast<int>(std::lround(p.x)));
        return c[0] - c[2];
    };
    for (const double s : {0.0, 0.2, 0.45, 0.7, 0.95}) {
        EXPECT_GT(blueness(0.13, s), 40) << s;
        EXPECT_LT(blueness(0.08, s), 10) << s;
        EXPECT_LT(blueness(0.18, s), 10) << s;
    }
}

TEST(TestScene, WearsAwayTheShareThatItSays) {
    SceneSpec spec;
    spec.size = {600, 450};
    spec.noise = spec.blur_px = 0;
    spec.highlight = 0;
    spec.tilt_deg = 0;
    spec.border = SceneBorder{.tile = cv::Mat(10, 10, CV_32FC1, cv::Scalar(1)), .finish = "blue"};
    const auto blue = [&] {
        cv::Mat mask;
        const Scene scene = render(spec);
        cv::Mat hsv;
        cv::cvtColor(scene.picture.bgr, hsv, cv::COLOR_BGR2HSV);
        cv::inRange(hsv, cv::Scalar(95, 90, 0), cv::Scalar(130, 255, 255), mask);
        return std::pair{cv::countNonZero(mask), scene.wear};
    };
    const auto [whole, none] = blue();
    spec.border->wear = 0.4;
    const auto [left, lost] = blue();
    EXPECT_EQ(none, 0);
    EXPECT_NEAR(lost, 0.4, 0.01);
    EXPECT_NEAR(1 - static_cast<double>(left) / whole, lost, 0.05);  // mixed pixels at the patches' edges
}

TEST(TestScene, ShowsACardWhoseMarkersLieWhereItsHomographyPutsThem) {
    SceneSpec spec;
    spec.size = {1400, 900};
    spec.card = true;
    const Scene scene = render(spec);
    std::vector<std::vector<cv::Point2f>> corners;
    std::vector<int> ids;
    cv::Mat large;  // the markers are 35 px: the plain detector wants more
    cv::resize(scene.picture.bgr, large, {}, 2, 2, cv::INTER_CUBIC);
    cv::aruco::detectMarkers(large, cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50), corners, ids);
    ASSERT_GE(ids.size(), 3u);
    for (std::size_t i = 0; i < ids.size(); ++i) {
        const double x = ids[i] == 0 || ids[i] == 3 ? 4 : 85.6 - 16, y = ids[i] < 2 ? 4 : 53.98 - 16;
        const Vec3d h = scene.photo_from_card * Vec3d(x, y, 1);
        EXPECT_NEAR((corners[i][0].x - 0.5) / 2, h[0] / h[2], 1.5);
        EXPECT_NEAR((corners[i][0].y - 0.5) / 2, h[1] / h[2], 1.5);
    }
}

}  // namespace footring::photo::testing

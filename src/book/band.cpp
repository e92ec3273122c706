// SPDX-License-Identifier: Apache-2.0
#include "book/band.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <memory>
#include <numbers>

namespace footring::book {

namespace {
constexpr double kPi = std::numbers::pi;

double norm(Point p) { return std::hypot(p.x, p.y); }

// A corner polygon with the middle of a side at the top; `apothem` from the centre to a side.
struct Corners {
    int sides;
    double apothem, radius;
};

// `rail`: for a border, which turns more gently than the plate, or its motifs would be torn at the corner.
Corners corners_of(const Plate& plate, double inset, bool rail = false) {
    const double apothem = plate.rx - inset;
    if (rail) return {plate.outline == Outline::kSquare ? 4 : 8, apothem, apothem * 0.46};
    if (plate.outline == Outline::kSquare) return {4, apothem, std::max(5.0, 26 - inset * 0.3)};
    return {8, apothem, std::max(4.0, 16 - inset * 0.2)};
}

// Points of a closed line at equal parameter steps, clockwise from the top.
std::vector<Point> sampled(const Plate& plate, double inset, int count, bool rail = false) {
    std::vector<Point> points;
    points.reserve(static_cast<std::size_t>(count));
    const double rx = plate.rx - inset, ry = plate.ry - inset;
    if (plate.outline == Outline::kSquare || plate.outline == Outline::kOctagonal) {
        const Corners c = corners_of(plate, inset, rail);
        const double turn = 2 * kPi / c.sides, half = c.apothem * std::tan(turn / 2);
        const double cut = c.radius * std::tan(turn / 2);  // of each side, taken by the rounding
        const double flat = half - cut, arc = c.radius * turn, side = 2 * flat + arc;
        for (int i = 0; i < count; ++i) {
            double s = side * c.sides * i / count;
            const int k = std::min(c.sides - 1, static_cast<int>(s / side));
            s -= k * side;
            Point p;  // of the top side and the corner after it
            if (s <= flat) {
                p = {s, -c.apothem};
            } else if (s <= flat + arc) {
                const double angle = (s - flat) / c.radius;
                p = {flat + c.radius * std::sin(angle), -c.apothem + c.radius * (1 - std::cos(angle))};
            } else {  // first half of the next side: mirrored at the corner, that is turned back from its middle
                const double back = side - s;
                const Point q{-back, -c.apothem};
                p = {q.x * std::cos(turn) - q.y * std::sin(turn), q.x * std::sin(turn) + q.y * std::cos(turn)};
            }
            const double a = k * turn;
            points.push_back(plate.centre +
                             Point{p.x * std::cos(a) - p.y * std::sin(a), p.x * std::sin(a) + p.y * std::cos(a)});
        }
        return points;
    }
    for (int i = 0; i < count; ++i) {
        const double a = 2 * kPi * i / count;
        // An outline of another kind is drawn gently lobed: plainly no circle, and no particular one either.
        const double lobes = plate.outline == Outline::kOther ? 1 - 0.018 * (1 - std::cos(12 * a)) : 1;
        points.push_back(plate.centre + Point{rx * lobes * std::sin(a), -ry * lobes * std::cos(a)});
    }
    return points;
}

// A closed line by arc length: where, and which way is out.
struct Rail {
    std::vector<Point> points, out;
    std::vector<double> along;  // one longer than points: the last entry is the whole length

    explicit Rail(std::vector<Point> line) : points(std::move(line)) {
        const std::size_t n = points.size();
        along.push_back(0);
        for (std::size_t i = 0; i < n; ++i) {
            along.push_back(along.back() + norm(points[(i + 1) % n] - points[i]));
            const Point ahead = points[(i + 1) % n] - points[(i + n - 1) % n];
            const double length = norm(ahead);
            out.push_back({ahead.y / length, -ahead.x / length});
        }
    }
    Point at(double s, double outwards) const {
        const double whole = along.back();
        s -= std::floor(s / whole) * whole;
        const auto next = std::upper_bound(along.begin(), along.end(), s);
        const auto i = static_cast<std::size_t>(next - along.begin()) - 1;
        const std::size_t n = points.size(), a = std::min(i, n - 1), b = (a + 1) % n;
        const double f = (s - along[a]) / std::max(1e-9, along[a + 1] - along[a]);
        const Point p = points[a] + (points[b] - points[a]) * f, o = out[a] + (out[b] - out[a]) * f;
        return p + o * outwards;
    }
};
// Tenths of a unit, relative, without needless characters: most of a drawing's bytes are paths, and a tenth is a
// quarter of a pixel at 480.
class PathWriter {
  public:
    void move(Point p) {
        number('M', tenth(p.x)), number(' ', tenth(p.y)), pen_x_ = tenth(p.x), pen_y_ = tenth(p.y);
    }
    void curve(Point a, Point b, Point to) {
        number('c', tenth(a.x) - pen_x_), number(' ', tenth(a.y) - pen_y_);
        number(' ', tenth(b.x) - pen_x_), number(' ', tenth(b.y) - pen_y_);
        number(' ', tenth(to.x) - pen_x_), number(' ', tenth(to.y) - pen_y_);
        pen_x_ = tenth(to.x), pen_y_ = tenth(to.y);
    }
    std::string text;

  private:
    static long tenth(double v) { return std::lround(v * 10); }
    void number(char before, long tenths) {  // a minus sign separates as well as a blank
        if (before != ' ' || tenths >= 0) text += before;
        if (tenths < 0) text += '-';
        const long size = std::labs(tenths);
        if (size >= 10 || size == 0) text += std::to_string(size / 10);
        if (size % 10 != 0) text += '.', text += static_cast<char>('0' + size % 10);
    }
    long pen_x_ = 0, pen_y_ = 0;
};
}  // namespace

std::string num(double value, int digits) {
    std::string text = fmt::format("{:.{}f}", value, digits);
    if (text.find('.') != std::string::npos) {
        while (text.back() == '0') text.pop_back();
        if (text.back() == '.') text.pop_back();
    }
    return text == "-0" ? "0" : text;
}

std::string smooth_path(const std::vector<Point>& p, bool closed) {
    const auto n = static_cast<int>(p.size());
    if (n < 2) return {};
    const auto get = [&](int i) {
        return p[static_cast<std::size_t>(closed ? (i + n) % n : std::clamp(i, 0, n - 1))];
    };
    PathWriter path;
    path.move(p[0]);
    for (int i = 0; i < (closed ? n : n - 1); ++i)  // Catmull-Rom: tangents are a sixth of the chord around
        path.curve(get(i) + (get(i + 1) - get(i - 1)) * (1.0 / 6), get(i + 1) - (get(i + 2) - get(i)) * (1.0 / 6),
                   get(i + 1));
    return closed ? path.text + "Z" : path.text;
}

std::string circle_path(Point c, double rx, double ry) {
    return fmt::format("M{0} {1}a{2} {3} 0 1 1 0 {4}a{2} {3} 0 1 1 0 {5}Z", num(c.x), num(c.y - ry), num(rx),
                       num(ry), num(2 * ry), num(-2 * ry));
}

Band between(const Band& band, double t0, double t1) {
    Band out = band;
    out.height = band.height * (t1 - t0);
    out.at = [at = band.at, t0, t1](double s, double t) { return at(s, t0 + (t1 - t0) * t); };
    out.curve = [curve = band.curve, t0, t1](double t) { return curve(t0 + (t1 - t0) * t); };
    return out;
}

Band portion(const Band& band, double s0, double s1) {
    Band out = band;
    out.length = s1 - s0;
    out.closed = false;
    out.girth = band.girth > 0 ? band.girth : band.length;
    out.at = [at = band.at, s0](double s, double t) { return at(s0 + s, t); };
    out.curve = [at = out.at, length = out.length](double t) {
        std::vector<Point> points;
        const int steps = std::max(4, static_cast<int>(length / 12));
        for (int i = 0; i <= steps; ++i) points.push_back(at(length * i / steps, t));
        return smooth_path(points, false);
    };
    return out;
}

Band straight(Point top_left, double length, double height) {
    Band band;
    band.length = length;
    band.height = height;
    band.at = [=](double s, double t) { return top_left + Point{s, t * height}; };
    band.curve = [=](double t) {
        return fmt::format("M{} {}h{}", num(top_left.x), num(top_left.y + t * height), num(length));
    };
    return band;
}

std::string Plate::line(double inset) const {
    if (outline == Outline::kRound || outline == Outline::kOval) return circle_path(centre, rx - inset, ry - inset);
    if (outline == Outline::kOther) return smooth_path(sampled(*this, inset, 48), true);
    const Corners c = corners_of(*this, inset);
    const double turn = 2 * kPi / c.sides, flat = c.apothem * std::tan(turn / 2) - c.radius * std::tan(turn / 2);
    std::string d;
    for (int k = 0; k < c.sides; ++k) {
        const auto spun = [&](double x, double y) {
            const double a = k * turn;
            return centre + Point{x * std::cos(a) - y * std::sin(a), x * std::sin(a) + y * std::cos(a)};
        };
        const Point from = spun(-flat, -c.apothem), to = spun(flat, -c.apothem);
        if (k == 0) d = fmt::format("M{} {}", num(from.x), num(from.y));
        else d += fmt::format("A{0} {0} 0 0 1 {1} {2}", num(c.radius), num(from.x), num(from.y));
        d += fmt::format("L{} {}", num(to.x), num(to.y));
    }
    const Point first = centre + Point{-flat, -c.apothem};
    return d + fmt::format("A{0} {0} 0 0 1 {1} {2}Z", num(c.radius), num(first.x), num(first.y));
}

Band Plate::band(double inset_outer, double inset_inner) const {
    const double middle = (inset_outer + inset_inner) / 2, height = inset_inner - inset_outer;
    const auto rail = std::make_shared<const Rail>(sampled(*this, middle, 720, height > 8));
    Band band;
    band.length = rail->along.back();
    band.height = height;
    band.closed = true;
    // A chord of length c leaves a circle of radius r by c^2 / 8r; 0.12 is not seen at any size that we draw.
    const double r = outline == Outline::kSquare || outline == Outline::kOctagonal
                         ? corners_of(*this, middle, true).radius
                         : std::min(rx, ry) - middle;
    band.slice = std::max(4.0, std::sqrt(8 * 0.12 * std::max(4.0, r)));
    band.at = [rail, height](double s, double t) { return rail->at(s, (0.5 - t) * height); };
    band.curve = [plate = *this, inset_outer, height](double t) { return plate.line(inset_outer + t * height); };
    return band;
}

double Plate::reach(double inset) const {
    const double a = rx - inset, b = ry - inset;
    if (outline == Outline::kSquare) return a - corners_of(*this, inset).radius * 0.3;
    if (outline == Outline::kOctagonal) return a * 0.78;
    return 0.94 * a * b / std::hypot(a, b);
}

}  // namespace footring::book

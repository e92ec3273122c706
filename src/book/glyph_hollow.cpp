// A hollow piece from the side, seen a little from above. The body and the lid are turned surfaces; ornaments are
// laid on bands of them, so that a border narrows towards the sides as it does on a real cup.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>

#include "base/text.h"
#include "book/glyph_canvas.h"
#include "book/silhouette.h"

namespace footring::book {

namespace {
constexpr double kPi = std::numbers::pi;

// From the silhouette's units to the drawing's.
struct View {
    double scale = 1;
    Point origin;  // of the lip's middle, in the drawing
    Point operator()(double x, double y) const { return {origin.x + x * scale, origin.y + y * scale}; }
};

class Wall {
  public:
    Wall(std::vector<Turning> profile, const Silhouette& s, bool body, View view)
        : profile_(std::move(profile)), tilt_(s.tilt), view_(view) {
        if (body) beak_ = s.beak, beak_rise_ = s.beak_rise, beak_depth_ = s.beak_depth, back_rise_ = s.back_rise;
    }
    double top() const { return profile_.front().y; }
    double bottom() const { return profile_.back().y; }

    // Hermite through the profile; beyond its ends the radius stays.
    double radius(double y) const {
        if (y <= top()) return profile_.front().r;
        if (y >= bottom()) return profile_.back().r;
        std::size_t i = 0;
        while (profile_[i + 1].y < y) ++i;
        const auto slope = [&](std::size_t k) {
            const std::size_t a = k == 0 ? 0 : k - 1, b = std::min(k + 1, profile_.size() - 1);
            return (profile_[b].r - profile_[a].r) / (profile_[b].y - profile_[a].y);
        };
        const double h = profile_[i + 1].y - profile_[i].y, u = (y - profile_[i].y) / h;
        const double u2 = u * u, u3 = u2 * u;
        return (2 * u3 - 3 * u2 + 1) * profile_[i].r + (u3 - 2 * u2 + u) * h * slope(i) +
               (3 * u2 - 2 * u3) * profile_[i + 1].r + (u3 - u2) * h * slope(i + 1);
    }
    // angle 0 faces us, -90 degrees is the left side (where a beak is), 180 the back.
    Point at(double angle, double y) const {
        const double r = radius(y), sine = std::sin(angle);
        const double near = std::clamp(1 - (y - top()) / beak_depth_, 0.0, 1.0), fade = near * near;
        const double left = std::pow(std::max(0.0, -sine), 5) * fade,
                     right = std::pow(std::max(0.0, sine), 5) * fade;
        return view_(r * sine - beak_ * left,
                     y + tilt_ * r * std::cos(angle) - beak_rise_ * left - back_rise_ * right);
    }
    std::vector<Point> arc(double y, double from, double to, int steps) const {
        std::vector<Point> points;
        for (int i = 0; i <= steps; ++i) points.push_back(at(from + (to - from) * i / steps, y));
        return points;
    }
    std::string ring(double y) const {  // all the way round
        std::vector<Point> points = arc(y, -kPi, kPi, 20);
        points.pop_back();
        return smooth_path(points, true);
    }
    // The front between two heights, or the back seen from inside.
    Band band(double y0, double y1, bool back = false) const {
        const auto wall = std::make_shared<const Wall>(*this);
        const double middle = (y0 + y1) / 2, r = radius(middle) * view_.scale;
        Band band;
        band.length = kPi * r;
        band.girth = 2 * band.length;
        band.counted = false;
        band.height = std::max(0.5, (y1 - y0) * view_.scale);
        band.slice = std::max(4.5, r * 0.2);
        band.at = [wall, y0, y1, back, length = band.length](double s, double t) {
            const double angle = (s / length - 0.5) * kPi;
            return wall->at(back ? kPi - angle : angle, y0 + t * (y1 - y0));
        };
        band.curve = [wall, y0, y1, back](double t) {
            const double y = y0 + t * (y1 - y0);
            return smooth_path(back ? wall->arc(y, 1.5 * kPi, 0.5 * kPi, 8) : wall->arc(y, -kPi / 2, kPi / 2, 8),
                               false);
        };
        return band;
    }
    // Outline of the front, from y0 to the bottom.
    std::string front(double y0, double y1) const {
        std::vector<Point> side, other;
        const int steps = std::clamp(static_cast<int>((y1 - y0) / 5), 3, 14);
        for (int i = 0; i <= steps; ++i) {
            side.push_back(at(-kPi / 2, y0 + (y1 - y0) * i / steps));
            other.push_back(at(kPi / 2, y1 + (y0 - y1) * i / steps));
        }
        return smooth_path(side, false) + joined(arc(y1, -kPi / 2, kPi / 2, 8)) + joined(other) +
               joined(arc(y0, kPi / 2, -kPi / 2, 10)) + "Z";
    }

  private:
    static std::string joined(const std::vector<Point>& points) {  // continues a path
        return "L" + smooth_path(points, false).substr(1);
    }
    std::vector<Turning> profile_;
    double tilt_, beak_ = 0, beak_rise_ = 0, beak_depth_ = 26, back_rise_ = 0;
    View view_;
};

struct Box {
    double left = 0, right = 0, top = 0, bottom = 0;
};

constexpr double kFinial = 0.16;  // its radius over the lid's
double finial_radius(const Silhouette& s) {
    return s.lid.empty() ? 0 : std::clamp(s.lid.back().r * kFinial, 5.0, 7.5);
}
double spout_reach(const Silhouette& s) { return s.spout == Spout::kTea ? 36 : s.spout == Spout::kCoffee ? 30 : 0; }

Box box_of(const Silhouette& s) {
    double widest = 0, bottom = 0;
    for (const Turning& t : s.body) widest = std::max(widest, t.r), bottom = std::max(bottom, t.y + s.tilt * t.r);
    Box box{-widest, widest, -s.tilt * s.body.front().r, bottom};
    const double out = s.handle_out * 1.02;
    if (s.handles != Handles::kNone) box.right = std::max(box.right, s.body.front().r + out);
    for (const Turning& t : s.body)
        if (s.handles != Handles::kNone && t.y >= s.handle_top && t.y <= s.handle_bottom)
            box.right = std::max(box.right, t.r * 0.9 + out);
    if (s.handles == Handles::kBoth) box.left = std::min(box.left, -box.right);
    box.left = std::min({box.left, -s.body.front().r - s.beak, -widest - spout_reach(s)});
    box.top = std::min(box.top, -s.beak_rise);
    if (!s.lid.empty()) box.top = std::min(box.top, s.lid.front().y - 2.6 * finial_radius(s));
    return box;
}

View fit(const Silhouette& s, double width, double height) {
    const Box box = box_of(s);
    View view;
    view.scale = std::min({width / (box.right - box.left), height / (box.bottom - box.top), 1.9});
    view.origin = {100 - view.scale * (box.left + box.right) / 2,
                   3 + height / 2 - view.scale * (box.top + box.bottom) / 2};
    return view;
}

// A handle as a band along its middle line; side -1 is left.
Band handle_band(const Silhouette& s, const Wall& wall, const View& view, int side, double thick) {
    const double top = s.handle_top, low = s.handle_bottom, drop = low - top;
    const double r0 = wall.radius(top) - 1, r1 = wall.radius(low) - 1, far = std::max(r0, r1) + s.handle_out;
    const double lift = s.back_rise * 0.8;
    const std::array<Point, 4> p{Point{r0, top - lift},
                                 {far + s.handle_out * 0.16, top - drop * 0.22 - lift},
                                 {far + s.handle_out * 0.1, top + drop * 0.62},
                                 {r1, low}};
    const auto on = [p, side, view](double u) {
        const double v = 1 - u, a = v * v * v, b = 3 * v * v * u, c = 3 * v * u * u, d = u * u * u;
        return view(side * (a * p[0].x + b * p[1].x + c * p[2].x + d * p[3].x),
                    a * p[0].y + b * p[1].y + c * p[2].y + d * p[3].y);
    };
    Band band;
    Point before = on(0);
    for (int i = 1; i <= 40; ++i) {
        const Point here = on(i / 40.0);
        band.length += std::hypot(here.x - before.x, here.y - before.y);
        before = here;
    }
    band.height = thick;
    band.counted = false;
    band.slice = 5;
    band.at = [on, side, thick, length = band.length](double along, double t) {
        const double u = std::clamp(along / length, 0.0, 1.0);
        const Point a = on(std::max(0.0, u - 0.01)), b = on(std::min(1.0, u + 0.01));
        const double n = std::hypot(b.x - a.x, b.y - a.y);
        const Point out{side * (b.y - a.y) / n, -side * (b.x - a.x) / n};
        return on(u) + out * ((0.5 - t) * thick);
    };
    band.curve = [at = band.at, length = band.length](double t) {
        std::vector<Point> points;
        for (int i = 0; i <= 10; ++i) points.push_back(at(length * i / 10, t));
        return smooth_path(points, false);
    };
    return band;
}

std::string spout_path(const Silhouette& s, const Wall& wall, const View& view) {
    const auto at = [&](double x, double y) {
        const Point p = view(-x, y);
        return num(p.x) + " " + num(p.y);
    };
    const double r = wall.radius(40);
    if (s.spout == Spout::kTea)
        return fmt::format("M{}C{} {} {}Q{} {}C{} {} {}Z", at(wall.radius(20) - 4, 20), at(r + 8, 22),
                           at(r + 14, 8), at(r + 26, -5), at(r + 33, -9), at(r + 36, -2), at(r + 28, 14),
                           at(r + 20, 44), at(wall.radius(62) - 2, 64));
    return fmt::format("M{}C{} {} {}Q{} {}C{} {} {}Z", at(wall.radius(46) - 3, 46), at(r + 8, 42), at(r + 9, 18),
                       at(r + 19, 2), at(r + 25, -2), at(r + 28, 5), at(r + 19, 28), at(r + 22, 70),
                       at(wall.radius(96) - 3, 97));
}

class Piece {
  public:
    Piece(Canvas& canvas, const Glyph& glyph, const Silhouette& s, View view, std::optional<Inset> inside_again)
        : canvas_(canvas),
          glyph_(glyph),
          s_(s),
          view_(view),
          body_(s.body, s, true, view),
          lid_(s.lid.empty() ? s.body : s.lid, s, false, view),
          inside_again_(inside_again) {}

    std::string draw();

  private:
    const GlyphPlace& at(Place place) const { return glyph_.at[static_cast<std::size_t>(place)]; }
    std::string shell(const std::string& path, std::string_view fill) const {
        return fmt::format("<path d='{}' fill='{}' stroke='{}' stroke-width='.9' stroke-linejoin='round'/>", path,
                           fill, kOutside);
    }
    std::string handles();
    std::string vessel();
    std::string inside();
    std::string bodywork();
    std::string rim();
    std::string foot();
    std::string edge();
    std::string lid();
    std::string finial();
    double foot_top() const { return body_.bottom() - std::min(5.0, 0.12 * body_.bottom()); }

    Canvas& canvas_;
    const Glyph& glyph_;
    const Silhouette& s_;
    View view_;
    Wall body_, lid_;
    std::optional<Inset> inside_again_;
};

std::string Piece::handles() {
    if (s_.handles == Handles::kNone) return {};
    std::string tubes, art;
    Region region;
    for (const int side : {1, -1}) {
        if (side < 0 && s_.handles == Handles::kRight) break;
        const Band tube = handle_band(s_, body_, view_, side, 7.5);
        const std::string path = tube.curve(0.5);
        tubes += fmt::format(
            "<g fill='none' stroke-linecap='round'><path d='{0}' stroke='{1}' stroke-width='8.6'/><path d='{0}' "
            "stroke='{2}' stroke-width='6.9'/><path d='{3}' stroke='{4}' stroke-opacity='.5' "
            "stroke-width='1.6'/></g>",
            path, kOutside, canvas_.ground, tube.curve(0.84), canvas_.ground_dark);
        art += band_art(canvas_, between(tube, 0.06, 0.94), at(Place::kHandle), {3.2, 0.45});
        std::vector<Point> ring;
        for (int i = 0; i <= 10; ++i) ring.push_back(tube.at(tube.length * i / 10, -0.15));
        for (int i = 10; i >= 0; --i) ring.push_back(tube.at(tube.length * i / 10, 1.15));
        region.area += smooth_path(ring, true);
        region.trace += path;
        region.halo += tube.curve(-0.3);
        region.queries.push_back(tube.at(tube.length * 0.46, 0.5));
    }
    region.query_size = 13;
    return place_group(canvas_, Place::kHandle, at(Place::kHandle), tubes + art, region);
}

std::string Piece::vessel() {
    const std::string shade = canvas_.define(
        "turned",
        fmt::format(
            "<linearGradient id='{0}'><stop offset='0' stop-color='{1}' stop-opacity='.75'/><stop offset='.2' "
            "stop-color='{1}' stop-opacity='.1'/><stop offset='.36' stop-color='{2}' stop-opacity='.5'/><stop "
            "offset='.6' stop-color='{1}' stop-opacity='0'/><stop offset='1' stop-color='{1}' "
            "stop-opacity='.95'/></linearGradient>",
            canvas_.id("turned"), canvas_.ground_dark, canvas_.ground_light));
    std::string out;
    if (s_.spout != Spout::kNone) {
        const std::string spout = spout_path(s_, body_, view_);
        out +=
            shell(spout, canvas_.ground) + fmt::format("<path d='{}' fill='{}' fill-opacity='.5'/>", spout, shade);
    }
    const std::string front = body_.front(0, body_.bottom());
    out += shell(front, canvas_.ground) + fmt::format("<path d='{}' fill='{}'/>", front, shade);
    // Facets say square or octagonal where the silhouette alone would not.
    std::vector<double> facets;
    if (glyph_.outline == Outline::kOctagonal) facets = {-1.18, -0.39, 0.39, 1.18};
    if (glyph_.outline == Outline::kSquare) facets = {-0.6, 0.95};
    for (const double angle : facets) {
        std::vector<Point> points;
        for (int i = 0; i <= 8; ++i) points.push_back(body_.at(angle, body_.bottom() * i / 8));
        out += fmt::format("<path d='{}' fill='none' stroke='{}' stroke-opacity='.8' stroke-width='1.1'/>",
                           smooth_path(points, false), canvas_.ground_dark);
    }
    return out;
}

std::string Piece::inside() {
    const std::string mouth = body_.ring(0);
    const std::string depth = canvas_.define(
        "depth",
        fmt::format("<linearGradient id='{}' x1='0' y1='0' x2='0' y2='1'><stop offset='0' stop-color='{}'/><stop "
                    "offset='1' stop-color='{}'/></linearGradient>",
                    canvas_.id("depth"), mix(canvas_.ground, canvas_.ground_dark, 0.25),
                    mix(canvas_.ground, canvas_.ground_dark, 0.95)));
    std::string art = shell(mouth, depth);
    if (!s_.lid.empty()) return art;
    const GlyphPlace& place = at(Place::kInside);
    const double seen = 2 * s_.tilt * s_.body.front().r;  // of the back wall, in the middle
    const std::string clip = canvas_.define(
        "mouth", fmt::format("<clipPath id='{}'><path d='{}'/></clipPath>", canvas_.id("mouth"), mouth));
    art += fmt::format("<g clip-path='{}'>{}</g>", clip,
                       band_art(canvas_, body_.band(seen * 0.08, std::min(seen * 0.62, body_.bottom() * 0.5), true),
                                place, {2.4, 0.3}));
    Region region;
    region.area = region.halo = mouth;
    region.trace = body_.band(seen * 0.3, seen * 0.32, true).curve(0);
    region.queries = {body_.at(kPi, seen * 0.5)};
    region.query_size = 13;
    if (inside_again_) add_inset(canvas_, Place::kInside, place, *inside_again_, art, region);
    return place_group(canvas_, Place::kInside, place, art, region);
}

std::string Piece::bodywork() {
    const GlyphPlace& place = at(Place::kBody);
    const double y0 = s_.rim + 2, y1 = foot_top() - 1, high = y1 - y0;
    Region region;
    region.area = body_.front(y0, y1);
    if (s_.spout != Spout::kNone) region.area = spout_path(s_, body_, view_) + region.area;
    region.trace = body_.front(y0 + high * 0.12, y1 - high * 0.12);
    region.halo = body_.front(y0, y1);
    region.queries = {body_.at(0, y0 + high * 0.42)};
    region.query_size = std::clamp(high * view_.scale * 0.6, 12.0, 34.0);
    const bool along = std::ranges::all_of(place.ornaments, [&](Ref<Ornament> o) {
        const OrnamentKind kind = canvas_.book[o].kind;
        return runs_along(canvas_.book, o) || kind == OrnamentKind::kLine || kind == OrnamentKind::kBand ||
               kind == OrnamentKind::kSolid || kind == OrnamentKind::kRelief;
    });
    std::string art;
    if (along || place.ornaments.empty()) {
        const bool whole =
            !place.ornaments.empty() && canvas_.book[place.ornaments[0]].kind == OrnamentKind::kSolid;
        const double cut = whole ? 0 : std::max(0.0, (high - 26) / 2) + high * 0.04;
        art = band_art(canvas_, body_.band(y0 + cut, y1 - cut), place, {2.4, 0.5});
    } else {
        const double half = std::min(high * 0.5, body_.radius(y0 + high * 0.45) * 0.72) * view_.scale;
        art = spot_art(canvas_, body_.at(0, y0 + high * 0.46), half, place);
    }
    return place_group(canvas_, Place::kBody, place, art, region);
}

std::string Piece::rim() {
    const Band band = body_.band(2.6, s_.rim);
    Region region;
    region.area = body_.front(1.6, s_.rim + 1);
    region.trace = band.curve(0.12) + band.curve(0.88);
    region.halo = body_.front(2.4, s_.rim + 0.6);
    region.queries = {band.at(band.length * 0.5, 0.5), band.at(band.length * 0.24, 0.5),
                      band.at(band.length * 0.76, 0.5)};
    region.query_size = std::clamp(band.height * 0.85, 9.0, 18.0);
    return place_group(canvas_, Place::kRim, at(Place::kRim), band_art(canvas_, band, at(Place::kRim), {2.4, 0.4}),
                       region);
}

std::string Piece::foot() {
    const Band band = body_.band(foot_top(), body_.bottom() - 0.4);
    Region region;
    region.area = body_.front(foot_top(), body_.bottom());
    region.trace = band.curve(0.6);
    region.halo = body_.front(foot_top() - 0.5, body_.bottom() + 1);
    region.queries = {band.at(band.length * 0.5, 0.6)};
    region.query_size = 11;
    region.thin = true;
    return place_group(canvas_, Place::kFoot, at(Place::kFoot),
                       band_art(canvas_, band, at(Place::kFoot), {2.4, 0.6}), region);
}

std::string Piece::edge() {
    const bool open = s_.lid.empty();
    const double y0 = open ? -0.8 : 0.3, y1 = y0 + 3;
    Band band = body_.band(y0, y1);
    band.curve = [&, open, y0](double t) {
        const double y = y0 + 3 * t;
        return open ? body_.ring(y) : smooth_path(body_.arc(y, -kPi / 2, kPi / 2, 10), false);
    };
    Region region;
    region.area = body_.front(-2.5, 2.4);
    region.trace = region.halo = band.curve(0.35);
    region.queries = {body_.at(0.9, 0.5)};
    region.query_size = 12;
    region.thin = true;
    return place_group(canvas_, Place::kEdge, at(Place::kEdge),
                       band_art(canvas_, band, at(Place::kEdge), {2.8, 0.35}), region);
}

std::string Piece::lid() {
    const GlyphPlace& place = at(Place::kLid);
    const double top = lid_.top(), high = -top;
    // Seen from above, the back of a low lid's rim may stand over its crown: the outline is that of both together.
    const std::string crown = lid_.front(top, 0), rim = lid_.ring(0), knob = lid_.ring(top);
    std::string art = fmt::format(
        "<g fill='{0}' stroke='{1}' stroke-width='1.8' stroke-linejoin='round'><path d='{2}'/><path "
        "d='{3}'/></g><g fill='{0}'><path d='{2}'/><path d='{3}'/></g><path d='{3}' fill='url(#{4})'/>",
        canvas_.ground, kOutside, rim, crown + knob, canvas_.id("turned"));
    art += fmt::format("<path d='{}' fill='none' stroke='{}' stroke-width='.9'/>",
                       smooth_path(lid_.arc(0, -kPi / 2, kPi / 2, 8), false), kOutside);
    art += band_art(canvas_, lid_.band(top * 0.68, top * 0.06), place, {2.4, 0.82});
    Region region;
    region.area = crown;
    region.trace = lid_.front(top * 0.8, top * 0.14);
    region.halo = crown;
    region.queries = {lid_.at(0, top * 0.4), lid_.at(-0.8, top * 0.3), lid_.at(0.8, top * 0.3)};
    region.query_size = std::clamp(high * view_.scale * 0.45, 10.0, 18.0);
    return place_group(canvas_, Place::kLid, place, art, region);
}

std::string Piece::finial() {
    const GlyphPlace& place = at(Place::kFinial);
    const double r = finial_radius(s_) * view_.scale;
    const Point seat = view_(0, lid_.top());
    const Point knob{seat.x, seat.y - r * 1.35};
    const std::string ball = circle_path(knob, r, r * 0.92);
    const std::string neck = fmt::format("M{} {}q{} {} {} {}h{}q{} {} {} {}Z", num(knob.x - r * 0.5), num(knob.y),
                                         num(r * 0.15), num(r), num(-r * 0.5), num(r * 1.55), num(r * 1.7),
                                         num(-r * 0.65), num(-r * 0.5), num(-r * 0.5), num(-r * 1.55));
    std::string art = shell(neck, canvas_.ground) + shell(ball, canvas_.ground);
    GlyphPlace shown = place;
    // A knob is too small for a motif: whatever is on it picks it out in its ink.
    std::string picked;
    if (shown.state == GlyphPlace::State::kDecorated || shown.state == GlyphPlace::State::kWorn) {
        if (shown.ornaments.size() == 1 && canvas_.book[shown.ornaments[0]].kind == OrnamentKind::kLine) {
            Band waist;
            waist.length = 2 * r;
            waist.height = r * 0.7;
            waist.at = [knob, r](double s, double t) {
                return Point{knob.x - r + s, knob.y + (t - 0.5) * r * 0.7};
            };
            waist.curve = [knob, r](double t) {
                return fmt::format("M{} {}q{} {} {} 0", num(knob.x - r), num(knob.y + (t - 0.5) * r * 0.7), num(r),
                                   num(r * 0.6), num(2 * r));
            };
            art += band_art(canvas_, waist, shown, {2.6, 0.5});
        } else {
            art += knob_art(canvas_, knob, r * 0.94, shown);
        }
    }
    art += fmt::format(
        "<path d='{}' fill='none' stroke='{}' stroke-width='1.4' stroke-linecap='round' stroke-opacity='.8'/>",
        fmt::format("M{} {}q{} {} {} {}", num(knob.x - r * 0.5), num(knob.y - r * 0.05), num(r * 0.05),
                    num(-r * 0.42), num(r * 0.5), num(-r * 0.5)),
        "#ffffff");
    Region region;
    region.area = ball + neck;
    region.trace = circle_path(knob, r * 0.8, r * 0.74);
    region.halo = circle_path(knob, r + 2, r * 0.92 + 2);
    region.queries = {knob};
    region.query_size = r * 1.7;
    return place_group(canvas_, Place::kFinial, place, art, region);
}

std::string Piece::draw() {
    std::string out = handles() + vessel() + inside() + bodywork() + foot() + rim();
    if (!s_.lid.empty()) out += lid() + finial();
    return out + edge();  // last: a lid covers all of the lip but its front
}

bool present(const GlyphPlace& at) {
    return at.state != GlyphPlace::State::kUnknown && at.state != GlyphPlace::State::kBare;
}
}  // namespace

std::string draw_hollow(Canvas& canvas, const Glyph& glyph) {
    const auto at = [&](Place place) -> const GlyphPlace& { return glyph.at[static_cast<std::size_t>(place)]; };
    std::string name;
    if (!glyph.form_id.empty())
        if (const auto form = find<Form>(canvas.book, glyph.form_id, "glyph")) name = canvas.book[*form].name;
    const Silhouette& s =
        silhouette_of(glyph.form_id, name, present(at(Place::kLid)) || present(at(Place::kFinial)));

    std::vector<Place> extra;
    const auto wants = [&](Place place) {
        if (shown_as_inset(at(place))) extra.push_back(place);
    };
    // What lies inside is seen foreshortened at best, so it is shown once more in full.
    if (at(Place::kInside).picked_out || present(at(Place::kInside))) extra.push_back(Place::kInside);
    for (const Place place : {Place::kCentre, Place::kVerge, Place::kUnderside}) wants(place);
    if (s.handles == Handles::kNone) wants(Place::kHandle);
    if (s.lid.empty()) wants(Place::kLid), wants(Place::kFinial);

    const double r = extra.empty() ? 0 : std::min(16.0, 96.0 / static_cast<double>(extra.size()) - 2.5);
    const double room = extra.empty() ? 0 : 2 * r + 12, pitch = std::max(2 * r + 6, 27.0);
    std::vector<Inset> discs;
    for (std::size_t i = 0; i < extra.size(); ++i) {
        const double x = 100 + (static_cast<double>(i) - (static_cast<double>(extra.size()) - 1) / 2) * pitch;
        discs.push_back({{x, 199 - r - 9}, r, {x, 198}, "middle"});
    }
    const bool open_inside = s.lid.empty() && !extra.empty() && extra[0] == Place::kInside;
    Piece piece(canvas, glyph, s, fit(s, 188, 194 - room), open_inside ? std::optional(discs[0]) : std::nullopt);
    std::string out = piece.draw();
    for (std::size_t i = open_inside ? 1 : 0; i < extra.size(); ++i)
        out += inset(canvas, extra[i], at(extra[i]), discs[i]);
    return out;
}

}  // namespace footring::book

// A plate from above. Distances are from the edge inwards, in units of a drawing 200 wide.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/glyph_canvas.h"

namespace footring::book {

namespace {
// A dinner plate's rim is a little over a third of its radius; the well's edge is where the verge line runs.
constexpr double kEdgeLine = 2.2, kEdgeInner = 5, kRimOuter = 5.5, kRimInner = 32, kVergeLine = 35, kWell = 38;

const GlyphPlace& at(const Glyph& glyph, Place place) { return glyph.at[static_cast<std::size_t>(place)]; }

// What a flat form's words tell of its build.
struct Build {
    bool seat = false;  // where a cup stands
    bool deep = false;  // a wall in place of a rim
    bool lugs = false;  // two flat handles
};
Build build_of(const Book& book, const Glyph& glyph) {
    std::string words = lower(glyph.form_id);
    if (!glyph.form_id.empty())
        if (const auto form = find<Form>(book, glyph.form_id, "glyph")) words += " " + lower(book[*form].name);
    const auto any = [&](std::initializer_list<std::string_view> parts) {
        return std::ranges::any_of(parts, [&](std::string_view p) { return words.find(p) != std::string::npos; });
    };
    Build build;
    build.seat = any({"saucer"});
    build.deep = any({"nappy", "baker", "bowl", "fruit", "oatmeal", "coupe", "cereal", "sauce dish"});
    build.lugs = any({"lug", "handled", "two handles", "cake plate", "cake-plate"});
    return build;
}

std::string ground_of(Canvas& canvas, const Plate& plate, const Build& build) {
    std::string out = fmt::format("<path d='{}' fill='{}'/>", plate.line(0), canvas.ground);
    if (plate.outline != Outline::kSquare && plate.outline != Outline::kOctagonal) {
        // The well darkens a little towards its wall.
        const std::string well = canvas.define(
            "well",
            fmt::format("<radialGradient id='{0}'><stop offset='.6' stop-color='{1}' stop-opacity='0'/><stop "
                        "offset='.97' stop-color='{1}' stop-opacity='.34'/><stop offset='1' stop-color='{1}' "
                        "stop-opacity='0'/></radialGradient>",
                        canvas.id("well"), canvas.ground_dark));
        out += fmt::format("<path d='{}' fill='{}'/>", plate.line(kVergeLine), well);
    }
    if (build.deep) {  // the wall darkens downwards
        const std::string wall = canvas.define(
            "wall",
            fmt::format("<radialGradient id='{0}'><stop offset='.6' stop-color='{1}' stop-opacity='.5'/><stop "
                        "offset='.95' stop-color='{1}' stop-opacity='0'/></radialGradient>",
                        canvas.id("wall"), canvas.ground_dark));
        out += fmt::format("<path d='{}' fill='{}' fill-rule='evenodd'/>", plate.line(0) + plate.line(kVergeLine),
                           wall);
    }
    // The step from rim to well: a lit line outside a shaded one.
    out += fmt::format(
        "<g fill='none'><path d='{}' stroke='{}' stroke-width='1.6'/><path d='{}' stroke='{}' "
        "stroke-opacity='.6' stroke-width='1.4'/></g>",
        plate.line(kVergeLine - 1), canvas.ground_light, plate.line(kVergeLine + 0.6), canvas.ground_dark);
    if (build.seat)
        out += fmt::format("<path d='{}' fill='none' stroke='{}' stroke-opacity='.75' stroke-width='1.4'/>",
                           circle_path(plate.centre, 25, 25), canvas.ground_dark);
    return out;
}

Region ring_region(const Plate& plate, double outer, double inner) {
    Region region;
    region.area = plate.line(outer) + plate.line(inner);
    return region;
}

// Where a line leaves the centre in a direction, on the outline `inset` inside the edge; 0 is the top, clockwise.
Point on_outline(const Plate& plate, double inset, double share) {
    const Band band = plate.band(inset - 0.5, inset + 0.5);
    return band.at(band.length * share, 0.5);
}

std::string edge(Canvas& canvas, const Plate& plate, const GlyphPlace& place) {
    Region region = ring_region(plate, -2.5, kEdgeInner);
    region.trace = plate.line(kEdgeLine);
    region.halo = plate.line(-1.4);
    region.queries = {on_outline(plate, kEdgeLine + 1, 0.125)};
    region.query_size = 12;
    region.thin = true;
    return place_group(canvas, Place::kEdge, place, band_art(canvas, plate.band(0.6, 4.4), place, {3, 0.42}),
                       region);
}

std::string rim(Canvas& canvas, const Plate& plate, const GlyphPlace& place) {
    Region region = ring_region(plate, kRimOuter, kRimInner);
    region.trace = plate.line(kRimOuter + 2.5) + plate.line(kRimInner - 2.5);
    region.halo = plate.line(kRimOuter + 0.8) + plate.line(kRimInner - 0.8);
    for (const double share : {0.0, 0.25, 0.5, 0.75})
        region.queries.push_back(on_outline(plate, (kRimOuter + kRimInner) / 2, share));
    region.query_size = 18;
    return place_group(canvas, Place::kRim, place,
                       band_art(canvas, plate.band(kRimOuter + 0.5, kRimInner - 0.5), place, {2.6, 0.3}), region);
}

std::string verge(Canvas& canvas, const Plate& plate, const GlyphPlace& place) {
    Region region = ring_region(plate, kRimInner, kWell + 1);
    region.trace = plate.line(kVergeLine);
    region.halo = plate.line(kVergeLine);
    region.queries = {on_outline(plate, kVergeLine, 0.625)};
    region.query_size = 12;
    region.thin = true;
    // A ring through its own line would hide what it points at: the halo runs on either side.
    region.halo = plate.line(kRimInner) + plate.line(kWell);
    const bool motif = std::ranges::any_of(place.ornaments, [&](Ref<Ornament> o) {
        const OrnamentKind kind = canvas.book[o].kind;
        return kind != OrnamentKind::kLine && kind != OrnamentKind::kSolid;
    });
    const Band band =
        motif ? plate.band(kVergeLine - 4.5, kVergeLine + 4.5) : plate.band(kVergeLine - 1.7, kVergeLine + 1.7);
    return place_group(canvas, Place::kVerge, place, band_art(canvas, band, place, {2.2, 0.5}), region);
}

// Two lugs that stand out at the sides, drawn before the plate that covers their inner half.
std::string lugs(Canvas& canvas, const Plate& plate, const GlyphPlace& place) {
    Region region;
    std::string art;
    for (const int side : {-1, 1}) {
        const Plate lug{Outline::kRound, {plate.centre.x + side * (plate.rx - 1), plate.centre.y}, 13, 24};
        art += fmt::format("<path d='{}' fill='{}' stroke='{}' stroke-width='.9'/>", lug.line(0), canvas.ground,
                           kOutside);
        const Band ring = lug.band(1.4, 6.5);
        const double from = side > 0 ? 0 : 0.5;  // its outer half, from the top clockwise
        art += band_art(canvas, portion(ring, ring.length * (from + 0.04), ring.length * (from + 0.46)), place,
                        {2.8, 0.4});
        region.area += lug.line(-1);
        region.trace += lug.line(3);
        region.halo += lug.line(-1.5);
        region.queries.push_back({plate.centre.x + side * (plate.rx + 5.5), plate.centre.y});
    }
    region.query_size = 11;
    return place_group(canvas, Place::kHandle, place, art, region);
}

std::string centre(Canvas& canvas, const Plate& plate, const GlyphPlace& place) {
    const double half = plate.reach(kWell + 2);
    const double ring = std::min(half * 1.22, std::min(plate.rx, plate.ry) - kWell - 1);
    Region region;
    region.area = plate.line(kWell + 1);
    region.trace = circle_path(plate.centre, ring * 0.72, ring * 0.72);
    region.halo = circle_path(plate.centre, ring, ring);
    region.queries = {plate.centre};
    region.query_size = half * 0.8;
    if (place.state == GlyphPlace::State::kSomething)
        region.area = circle_path(plate.centre, ring * 0.9, ring * 0.9);
    return place_group(canvas, Place::kCentre, place, spot_art(canvas, plate.centre, half * 0.9, place), region);
}
}  // namespace

std::string draw_flat(Canvas& canvas, const Glyph& glyph) {
    const bool oval = glyph.outline == Outline::kOval;
    const Build build = build_of(canvas.book, glyph);
    std::vector<Place> extra;
    for (const Place place : {Place::kHandle, Place::kUnderside, Place::kFoot, Place::kBody, Place::kInside,
                              Place::kLid, Place::kFinial})
        if (shown_as_inset(at(glyph, place)) && !(place == Place::kHandle && build.lugs)) extra.push_back(place);

    Plate plate{glyph.outline, {100, oval ? 75.0 : 100.0}, 96, oval ? 71.0 : 96.0};
    // Four discs fit into the corners around a round plate; a square one, or more discs, makes room below.
    const bool corners = extra.empty() || (glyph.outline != Outline::kSquare && extra.size() <= 4);
    std::vector<Inset> places;
    const double bottom = oval ? 150 : 200;
    if (corners) {
        const double r = oval ? 12 : 13;
        places = {{{r + 1.5, bottom - r - 1.5}, r, {1.5, bottom - 2 * r - 5}, "start"},
                  {{198.5 - r, bottom - r - 1.5}, r, {198.5, bottom - 2 * r - 5}, "end"},
                  {{r + 1.5, r + 1.5}, r, {1.5, 2 * r + 10}, "start"},
                  {{198.5 - r, r + 1.5}, r, {198.5, 2 * r + 10}, "end"}};
    } else {
        const double r = std::min(14.0, 92.0 / static_cast<double>(extra.size()) - 1), room = 2 * r + 11;
        plate.rx *= (bottom - room) / bottom;
        plate.ry *= (bottom - room) / bottom;
        plate.centre.y = (bottom - room) / 2;
        for (std::size_t i = 0; i < extra.size(); ++i) {
            const double x = 100 + (static_cast<double>(i) - (static_cast<double>(extra.size()) - 1) / 2) *
                                       std::max(2 * r + 4, 28.0);
            places.push_back({{x, bottom - r - 8.5}, r, {x, bottom - 1}, "middle", extra.size() > 5 ? 5.8 : 7});
        }
    }
    std::string out;
    if (build.lugs) {
        const double narrower = (plate.rx - 12) / plate.rx;
        plate.rx *= narrower, plate.ry *= narrower;
        out = lugs(canvas, plate, at(glyph, Place::kHandle));
    }
    out += ground_of(canvas, plate, build);
    out += rim(canvas, plate, at(glyph, Place::kRim));
    out += centre(canvas, plate, at(glyph, Place::kCentre));
    out += verge(canvas, plate, at(glyph, Place::kVerge));
    out += fmt::format("<path d='{}' fill='none' stroke='{}' stroke-opacity='.7' stroke-width='.8'/>",
                       plate.line(0), kOutside);
    out += edge(canvas, plate, at(glyph, Place::kEdge));
    for (std::size_t i = 0; i < extra.size(); ++i) out += inset(canvas, extra[i], at(glyph, extra[i]), places[i]);
    return out;
}

}  // namespace footring::book

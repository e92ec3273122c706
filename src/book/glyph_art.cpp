// How ornaments are laid on a band or set alone, and how the states of a place show.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/text.h"
#include "book/drawings.h"
#include "book/glyph_canvas.h"

namespace footring::book {

namespace {
constexpr int kMostRepeats = 120, kMostSlices = 140;
constexpr double kBorderAspect = 1.8;  // a tile wider than this was drawn to be repeated

// The finish, shifted from the ground when it would not be seen on it (white enamel on white ware).
Ink seen_ink(const Canvas& canvas, const Ornament& ornament) {
    Ink ink = ink_of(ornament.finish);
    if (distance(ink.base, canvas.ground) < 16) {
        ink.base = mix(ink.base, canvas.ink, 0.35);
        ink.light = mix(ink.light, canvas.ink, 0.2);
        ink.dark = mix(ink.dark, canvas.ink, 0.5);
    }
    return ink;
}

std::string filled(const std::string& path, const std::string& paint, std::string_view more = {}) {
    return fmt::format("<path d='{}' fill='{}' fill-rule='evenodd'{}/>", path, paint, more);
}

// The area of a band as one path.
std::string area_of(const Band& band) {
    if (band.closed && !band.whole) return band.curve(0) + band.curve(1);
    const int steps = std::clamp(static_cast<int>(band.length / 8), 4, 24);
    std::string d;
    const auto add = [&](double s, double t) {
        const Point p = band.at(s, t);
        d += fmt::format("{}{} {}", d.empty() ? "M" : "L", num(p.x), num(p.y));
    };
    for (int i = 0; i <= steps; ++i) add(band.length * i / steps, 0);
    for (int i = steps; i >= 0; --i) add(band.length * i / steps, 1);
    return d + "Z";
}

struct Layout {
    double slot = 0, width = 0, height = 0;  // along the band; of one tile
    int count = 1;                           // once round
};

// As many tiles as recorded, else as the tile's shape demands. A tile may be stretched or squeezed by a third to
// meet its neighbours; beyond that it keeps its shape and stands apart, as separate sprigs do.
Layout layout(const Band& band, const Tile& tile, std::optional<int> repeats) {
    constexpr double kStretch = 1.35;
    const double round = band.girth > 0 ? band.girth : band.length, aspect = tile.width / tile.height;
    const double most = band.height * 0.92, least = band.height * 0.5;
    Layout out;
    const double wanted = repeats && *repeats > 0 ? static_cast<double>(*repeats) : round / (aspect * most * 0.96);
    out.count = static_cast<int>(std::clamp(std::round(wanted), 1.0, static_cast<double>(kMostRepeats)));
    if (!band.counted) {  // a smaller girth holds fewer
        const double natural = std::clamp(std::round(round / (aspect * most * 0.96)), 1.0, 1.0 * kMostRepeats);
        out.count = std::min(out.count, static_cast<int>(natural));
    }
    out.slot = round / out.count;
    out.height = std::clamp(out.slot / aspect, std::min(least, kStretch * out.slot / aspect), most);
    out.width = out.slot <= aspect * out.height * kStretch ? out.slot : aspect * out.height;
    return out;
}

// Drawn twice on the same spot: opaque ink stays as it is, but a stroke finer than a pixel keeps its colour on a
// small drawing. See-through parts would turn darker, so a sheer drawing is drawn once.
std::string strengthened(Canvas& canvas, const Tile& tile, const std::string& art) {
    if (tile.sheer) return fmt::format("<g{}>{}</g>", tile.filter, art);
    const std::string name = canvas.next_id();
    return fmt::format("<g id='{0}'{1}>{2}</g><use href='#{0}'/>", name, tile.filter, art);
}

// A tile cut into upright slices, each turned to follow the band, so that a straight drawing bends with the rim.
std::string lay_tiles(Canvas& canvas, const Band& band, const Tile& tile, std::optional<int> repeats) {
    const Layout plan = layout(band, tile, repeats);
    const bool touching = plan.width > plan.slot * 0.999;
    const int visible = band.closed ? plan.count : static_cast<int>(std::ceil(band.length / plan.slot)) | 1;
    int slices = static_cast<int>(std::ceil(plan.width / band.slice - 0.05));
    slices = std::clamp(slices, 1, std::max(1, kMostSlices / std::max(1, visible)));
    const double step = plan.width / slices, t0 = 0.5 - plan.height / band.height / 2, t1 = 1 - t0;

    // Straight slices gape at the outer side of a curve: each shows a little more of the tile than its share, as
    // much as the tightest corner needs. On a straight run the surplus lies on its neighbour's like.
    const double eps = std::min(0.5, step / 4), middle = band.length / 2;
    double gape = 0;
    for (int i = 0; i < 32; ++i) {
        const double s = band.length * (i + 0.5) / 32;
        const auto speed = [&](double t) {
            const Point d = band.at(s + eps, t) - band.at(s - eps, t);
            return std::hypot(d.x, d.y);
        };
        gape = std::max(gape, std::max(speed(t0), speed(t1)) / std::max(1e-6, speed(0.5)) - 1);
    }
    const double more = slices > 1 || touching ? step * std::min(gape, 1.0) / 2 + 0.12 : 0;
    const double scale = tile.width / plan.width, lap = 0.15 * scale;  // two edges that only met would show a seam

    // Another band may cut the same tile otherwise: what the cut depends on is in the name.
    const auto slice_name = [&](int k) {
        return fmt::format("{}s{}of{}{}{}", tile.id, k, slices, touching ? "t" : "a",
                           std::lround(more * scale * 100));
    };
    const double shown = (step + 2 * more) * scale;  // of the tile's width, in its units
    for (int k = 0; k < slices; ++k) {
        const std::string name = slice_name(k);
        if (!canvas.once(name)) continue;
        std::string uses = fmt::format("<use href='#{}'/>", canvas.id(tile.id));
        if (touching && k == 0)
            uses += fmt::format("<use href='#{}' x='{}'/>", canvas.id(tile.id), num(-tile.width + lap));
        if (touching && k == slices - 1)
            uses += fmt::format("<use href='#{}' x='{}'/>", canvas.id(tile.id), num(tile.width - lap));
        canvas.add_definition(
            fmt::format("<clipPath id='{0}c'><path d='M{1} 0h{2}v{3}h-{2}z'/></clipPath><g id='{0}' "
                        "clip-path='url(#{0}c)'>{4}</g>",
                        canvas.id(name), num((k * step - more) * scale), num(shown), num(tile.height), uses));
    }
    std::string out;
    const double start = band.whole ? plan.slot / 2 : band.closed ? 0 : middle;
    const int first = band.closed ? 0 : -(visible / 2), last = band.closed ? plan.count - 1 : visible / 2;
    for (int i = first; i <= last; ++i)
        for (int k = 0; k < slices; ++k) {
            const double s = start + i * plan.slot + (k + 0.5) * step - plan.width / 2;
            if (!band.closed && (s < step * 0.2 || s > band.length - step * 0.2)) continue;
            const Point top = band.at(s, t0), foot = band.at(s, t1);
            const Point run = (band.at(s + eps, 0.5) - band.at(s - eps, 0.5)) * (1 / (2 * eps));
            const Point across = run * ((step + 2 * more) / shown), down = (foot - top) * (1 / tile.height);
            const Point origin = top - across * ((k + 0.5) * step * scale);  // where the tile's corner comes to lie
            out += fmt::format("<use href='#{}' transform='matrix({} {} {} {} {} {})'/>", canvas.id(slice_name(k)),
                               num(across.x, 5), num(across.y, 5), num(down.x, 5), num(down.y, 5), num(origin.x),
                               num(origin.y));
        }
    return strengthened(canvas, tile, out);
}

// Embossing has no ink: short strokes, dark beside light.
std::string relief(const Canvas& canvas, const Band& band) {
    const double step = std::max(3.2, band.height * 0.24);
    const int count = std::clamp(static_cast<int>(band.length / step), 6, 140);
    std::string d, lit;
    for (int i = 0; i < count; ++i) {
        const double s = band.length * (i + 0.5) / count;
        const auto stroke = [&](double at) {
            const Point a = band.at(at, 0.16), b = band.at(at, 0.84);
            return fmt::format("M{} {}L{} {}", num(a.x), num(a.y), num(b.x), num(b.y));
        };
        d += stroke(s);
        lit += stroke(s + step * 0.3);
    }
    return fmt::format(
        "<g fill='none' stroke-width='{}' stroke-linecap='round'><path d='{}' stroke='{}' "
        "stroke-opacity='.34'/><path "
        "d='{}' stroke='{}'/></g>",
        num(step * 0.28), d, canvas.ink, lit, mix(canvas.ground, "#ffffff", 0.75));
}

bool is_motif(OrnamentKind kind) {
    return kind == OrnamentKind::kStamp || kind == OrnamentKind::kDecal || kind == OrnamentKind::kPrint;
}

bool has_word(const Ornament& ornament, std::string_view word) {
    return lower(ornament.name).find(word) != std::string::npos || ornament.id.find(word) != std::string::npos;
}

// The rings that an ornament consists of, when it is one of rings. Those of a metal become one where they touch, as
// the sheen models them; a line without a drawing takes its count from its name.
std::vector<Stripe> rings_of(const Ornament& ornament) {
    std::vector<Stripe> stripes;
    if (const auto shape = shape_of(ornament.drawing_data)) stripes = shape->stripes;
    else if (ornament.kind == OrnamentKind::kLine && has_word(ornament, "triple"))
        stripes = {{0, 0.22, {}}, {0.39, 0.61, {}}, {0.78, 1, {}}};
    else if (ornament.kind == OrnamentKind::kLine &&
             (has_word(ornament, "double") || has_word(ornament, "two lines")))
        stripes = {{0, 0.4, {}}, {0.68, 1, {}}};
    else if (ornament.kind == OrnamentKind::kLine) stripes = {{0, 1, {}}};
    if (!ink_of(ornament.finish).metal) return stripes;
    std::ranges::sort(stripes, {}, &Stripe::from);
    std::vector<Stripe> merged;
    for (const Stripe& s : stripes)
        if (merged.empty() || s.from > merged.back().to + 1e-3) merged.push_back({s.from, s.to, {}});
        else merged.back().to = std::max(merged.back().to, s.to);
    return merged;
}

// How broad a line is, of the width that a plain one has at that place.
double weight_of(const Ornament& ornament, const std::vector<Stripe>& rings) {
    const bool several = std::ranges::any_of(rings, [](const Stripe& s) { return s.from > 0.3; });
    const double weight = several ? 1.9 : 1;
    if (has_word(ornament, "hairline") || has_word(ornament, "hair line")) return weight * 0.5;
    if (has_word(ornament, "broad") || has_word(ornament, "wide")) return weight * 1.5;
    return weight;
}

std::string draw_rings(const Band& band, const std::vector<Stripe>& rings, const std::string& paint, bool dashed) {
    std::string out;
    for (const Stripe& ring : rings) {
        const double width = (ring.to - ring.from) * band.height;
        const std::string& ink = ring.colour.empty() ? paint : ring.colour;
        if (width > 6 && !dashed) out += filled(area_of(between(band, ring.from, ring.to)), ink);
        else out += line(band.curve((ring.from + ring.to) / 2), ink, std::max(0.5, width), dashed);
    }
    return out;
}

std::string one_band(Canvas& canvas, const Band& band, Ref<Ornament> ref, const LineStyle& style, bool dashed) {
    const Ornament& ornament = canvas.book[ref];
    const std::vector<Stripe> rings = rings_of(ornament);
    const bool drawn = rings.empty() && shape_of(ornament.drawing_data).has_value();
    if (drawn ? band.height >= 8 || is_motif(ornament.kind) : rings.empty() && is_motif(ornament.kind))
        return lay_tiles(canvas, band, canvas.tile(ref, false), ornament.repeats);
    const std::string paint = canvas.paint(seen_ink(canvas, ornament));
    if (ornament.kind == OrnamentKind::kRelief) return relief(canvas, band);
    if (ornament.kind == OrnamentKind::kLine) {
        const double half = style.width * weight_of(ornament, rings) / band.height / 2;
        return draw_rings(between(band, style.at - half, style.at + half), rings, paint, dashed);
    }
    if (ornament.kind == OrnamentKind::kSolid && band.height >= 8) {
        const bool own = rings.size() == 1 && !rings[0].colour.empty();
        return filled(area_of(band), own ? rings[0].colour : paint);
    }
    if (!rings.empty()) return draw_rings(between(band, 0.04, 0.96), rings, paint, dashed);
    if (band.height < 8) return line(band.curve(0.5), paint, band.height * 0.9, dashed);
    return filled(area_of(between(band, 0.3, 0.7)), paint) + line(band.curve(0.14), paint, 1.2) +
           line(band.curve(0.86), paint, 1.2);
}

std::string one_spot(Canvas& canvas, Point centre, double half, Ref<Ornament> ref) {
    const Ornament& ornament = canvas.book[ref];
    const Plate disc{Outline::kRound, centre, half, half};
    if (runs_along(canvas.book, ref)) {  // a border in a disc is cut larger, or nobody could tell it
        const Plate wide{Outline::kRound, centre, half * 1.3, half * 1.3};
        return one_band(canvas, wide.band(0, half * 0.8), ref, {}, false);
    }
    const bool drawn = rings_of(ornament).empty() && shape_of(ornament.drawing_data).has_value();
    if (!drawn && (!is_motif(ornament.kind) || !rings_of(ornament).empty())) {
        if (ornament.kind == OrnamentKind::kSolid)
            return filled(disc.line(0), canvas.paint(seen_ink(canvas, ornament)));
        if (ornament.kind == OrnamentKind::kRelief)
            return relief(canvas, disc.band(half * 0.1, half * 0.55)) +
                   line(disc.line(half * 0.7), canvas.ground_dark, 1.6);
        return one_band(canvas, disc.band(0, std::max(8.0, half * 0.3)), ref, {std::max(1.6, half * 0.07), 0.5},
                        false);
    }
    const Tile tile = canvas.tile(ref, true);
    const double scale = 2 * half / std::max(tile.width, tile.height);
    return strengthened(canvas, tile,
                        fmt::format("<use href='#{}' transform='translate({} {}) scale({})'/>", canvas.id(tile.id),
                                    num(centre.x - tile.width * scale / 2), num(centre.y - tile.height * scale / 2),
                                    num(scale, 4)));
}

// Traces of an ornament: faded, and rubbed through in blots.
std::string worn(Canvas& canvas, const std::string& art) {
    const std::string pattern = canvas.define(
        "rubbed",
        fmt::format("<pattern id='{0}' patternUnits='userSpaceOnUse' width='47' height='41' "
                    "patternTransform='rotate(17)'><path d='M3 6q8-9 15 0t-4 12q-13 2-11-12zM27 2q9 0 12 8t-7 "
                    "6-5-14zM20 25q10-6 14 3t-6 9-12-1 4-11zM40 27q7 2 5 8t-8 0 3-8zM2 27q6-2 7 4t-6 6-1-10z'/>"
                    "</pattern>",
                    canvas.id("rubbed")));
    const std::string mask = canvas.define(
        "wear",
        fmt::format("<mask id='{}' maskUnits='userSpaceOnUse' x='0' y='0' width='200' height='200'><rect "
                    "width='200' height='200' fill='#fff'/><rect width='200' height='200' fill='{}'/></mask>",
                    canvas.id("wear"), pattern));
    return fmt::format("<g mask='{}' opacity='.55'>{}</g>", mask, art);
}

// "?" as a drawing, so that no font decides how it looks.
std::string query(const Canvas& canvas, Point at, double size) {
    const std::string d = "M-4-4.6a4.3 4.3 0 1 1 6.4 4.1q-2.4 1.4-2.4 3.9M0 7.4v.1";
    return fmt::format(
        "<g transform='translate({} {}) scale({})' fill='none' stroke-linecap='round' "
        "stroke-linejoin='round'><path "
        "d='{}' stroke='{}' stroke-width='6'/><path d='{}' stroke='{}' stroke-width='2.2'/></g>",
        num(at.x), num(at.y), num(size / 18, 3), d, canvas.ground, d, canvas.ink);
}

std::string something(Canvas& canvas, const Region& region) {
    std::string out;
    if (region.thin) {
        out = fmt::format(
            "<path d='{}' fill='none' stroke='{}' stroke-opacity='.55' stroke-width='2.6' "
            "stroke-dasharray='2 2.4'/>",
            region.trace, canvas.ink);
    } else {
        const std::string hatch = canvas.define(
            "hatch",
            fmt::format("<pattern id='{}' patternUnits='userSpaceOnUse' width='5' height='5' "
                        "patternTransform='rotate(45)'><path d='M0 2.5H5' stroke='{}' stroke-opacity='.26' "
                        "stroke-width='1.1'/></pattern>",
                        canvas.id("hatch"), canvas.ink));
        out = filled(region.area, canvas.ink, " fill-opacity='.06'") + filled(region.area, hatch);
    }
    for (const Point at : region.queries) out += query(canvas, at, region.query_size);
    return out;
}

std::string dotted(const Canvas& canvas, const std::string& path) {
    return fmt::format(
        "<path d='{}' fill='none' stroke='{}' stroke-opacity='.5' stroke-width='1.5' "
        "stroke-linecap='round' stroke-dasharray='0 4.2'/>",
        path, canvas.ink);
}

std::string guessed(const Canvas& canvas, const std::string& path) {
    return fmt::format(
        "<path d='{}' fill='none' stroke='{}' stroke-opacity='.7' stroke-width='1.3' "
        "stroke-dasharray='6 4'/>",
        path, canvas.ink);
}

// A beaded ring: its beads tell it from a decoration and from the dashes of a guess without their colour. The page
// may set --glyph-accent; a reader that knows no custom properties takes the colour of the group.
std::string halo(const Canvas& canvas, const Region& region) {
    constexpr std::string_view kAccent = "#c5352b", kVar = "var(--glyph-accent,#c5352b)";
    return fmt::format(
        "<g fill='none' stroke='{0}' stroke-linecap='round' pointer-events='none'><path d='{1}' fill='{0}' "
        "fill-rule='evenodd' fill-opacity='.05' stroke='none'/><path d='{2}' stroke='{3}' stroke-width='4.2' "
        "stroke-opacity='.9'/><path d='{2}' stroke='{4}' stroke-width='1.3'/><path d='{2}' stroke='{4}' "
        "stroke-width='3.8' stroke-dasharray='0 9'/><path d='{2}' stroke='{4}' stroke-width='1.2' "
        "vector-effect='non-scaling-stroke'/></g>",
        kAccent, region.area, region.halo, canvas.ground_light, kVar);
}
}  // namespace

std::string line(const std::string& path, const std::string& paint, double width, bool dashed) {
    // The second stroke is a pixel wide at any size: it keeps a fine line in sight on a small drawing.
    return fmt::format(
        "<g fill='none' stroke='{0}'{3}><path d='{1}' stroke-width='{2}'/>{4}</g>", paint, path, num(width),
        dashed ? " stroke-dasharray='7 4'" : "",
        dashed ? "" : fmt::format("<path d='{}' stroke-width='1.1' vector-effect='non-scaling-stroke'/>", path));
}

bool runs_along(const Book& book, Ref<Ornament> ref) {
    const Ornament& ornament = book[ref];
    if (ornament.kind == OrnamentKind::kSolid) return false;
    const auto shape = shape_of(ornament.drawing_data);
    if (shape && !shape->stripes.empty()) return false;
    if (shape) return shape->width / shape->height >= kBorderAspect || ornament.repeats.value_or(1) > 1;
    return is_motif(ornament.kind) && ornament.repeats.value_or(1) > 1;
}

std::string band_art(Canvas& canvas, const Band& band, const GlyphPlace& place, const LineStyle& style) {
    using State = GlyphPlace::State;
    if (place.state != State::kDecorated && place.state != State::kWorn) return {};
    std::string art;
    if (place.ornaments.empty())
        art = line(band.curve(style.at), canvas.ink, std::max(style.width, band.height * 0.3), true);
    // Several are alternatives: each takes its part of the way round, and the eye sees that it is one or the other.
    const auto n = static_cast<double>(place.ornaments.size());
    for (std::size_t i = 0; i < place.ornaments.size(); ++i) {
        const double gap = band.length * 0.012, from = static_cast<double>(i) / n * band.length;
        const Band part = n < 2 ? band : portion(band, from + gap, from + band.length / n - gap);
        art += one_band(canvas, part, place.ornaments[i], style, place.doubtful);
    }
    return place.state == State::kWorn ? worn(canvas, art) : art;
}

std::string spot_art(Canvas& canvas, Point centre, double half, const GlyphPlace& place) {
    using State = GlyphPlace::State;
    if (place.state != State::kDecorated && place.state != State::kWorn) return {};
    std::string art;
    if (place.ornaments.empty())
        art = line(circle_path(centre, half * 0.7, half * 0.7), canvas.ink, half * 0.2, true);
    const std::size_t n = place.ornaments.size();
    if (n == 1) art = one_spot(canvas, centre, half, place.ornaments[0]);
    for (std::size_t i = 0; n > 1 && i < n; ++i) {
        const double each = 2 * half / static_cast<double>(n),
                     x = centre.x - half + each * (static_cast<double>(i) + 0.5);
        art += one_spot(canvas, {x, centre.y}, each * 0.46, place.ornaments[i]);
    }
    return place.state == State::kWorn ? worn(canvas, art) : art;
}

std::string knob_art(Canvas& canvas, Point centre, double radius, const GlyphPlace& place) {
    std::string paint = canvas.ink;
    if (!place.ornaments.empty()) paint = canvas.paint(seen_ink(canvas, canvas.book[place.ornaments[0]]));
    const std::string art = filled(circle_path(centre, radius, radius * 0.92), paint);
    return place.state == GlyphPlace::State::kWorn ? worn(canvas, art) : art;
}

std::string place_group(Canvas& canvas, Place place, const GlyphPlace& at, const std::string& art,
                        const Region& region) {
    using State = GlyphPlace::State;
    constexpr std::string_view kStates[] = {"unknown", "bare", "decorated", "something", "worn"};
    std::string out =
        fmt::format("<g data-place='{}' data-state='{}'{}{}><title>{}</title>", name_of(place),
                    kStates[static_cast<std::size_t>(at.state)], at.picked_out ? " data-differs='yes'" : "",
                    at.doubtful ? " data-sure='guess'" : "", xml_text(place_title(canvas.book, place, at)));
    out += art;
    if (at.state == State::kUnknown) out += dotted(canvas, region.trace);
    if (at.state == State::kSomething) out += something(canvas, region);
    if (at.doubtful && at.state != State::kUnknown && !region.thin) out += guessed(canvas, region.trace);
    if (at.picked_out) out += halo(canvas, region);
    return out +
           fmt::format("<path d='{}' fill='none' fill-rule='evenodd' pointer-events='all'/></g>", region.area);
}

void add_inset(Canvas& canvas, Place place, const GlyphPlace& at, const Inset& where, std::string& art,
               Region& region) {
    const Plate disc{Outline::kRound, where.centre, where.radius, where.radius};
    const double r = where.radius;
    region.area += disc.line(0);
    region.trace += disc.line(2.5);
    region.halo += disc.line(0.6);
    region.queries.push_back(where.centre);
    region.query_size = std::max(region.query_size, r * 1.1);
    art += fmt::format(
        "<path d='{}' fill='{}' stroke='{}' stroke-width='.8'/>{}<text x='{}' y='{}' text-anchor='{}' "
        "font-size='{}' fill='{}'>{}</text>",
        disc.line(0), canvas.ground, kOutside, spot_art(canvas, where.centre, r * 0.68, at), num(where.label.x),
        num(where.label.y), where.anchor, num(where.letter), kOutside, name_of(place));
}

std::string inset(Canvas& canvas, Place place, const GlyphPlace& at, const Inset& where) {
    std::string art;
    Region region;
    region.query_size = 0;
    add_inset(canvas, place, at, where, art, region);
    return place_group(canvas, place, at, art, region);
}

bool shown_as_inset(const GlyphPlace& at) {
    return at.picked_out || (at.state != GlyphPlace::State::kUnknown && at.state != GlyphPlace::State::kBare);
}

}  // namespace footring::book

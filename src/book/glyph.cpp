// SPDX-License-Identifier: Apache-2.0
#include "book/glyph.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/drawings.h"
#include "book/glyph_canvas.h"
#include "book/silhouette.h"

namespace footring::book {

namespace {
// A row that is not of this very form speaks of the forms that have such a place: "every form" gives a plate no
// handle, "hollow ware" gives a bowl none.
bool form_lacks(const Form& form, Place place, const On& on) {
    const bool attached = place == Place::kHandle || place == Place::kLid || place == Place::kFinial;
    if (on.form || !attached) return false;
    if (form.ware == Ware::kFlat) return !on.ware;
    if (!is_known_form(form.id, form.name)) return false;
    const Silhouette& side = silhouette_of(form.id, form.name, true);
    return place == Place::kHandle ? side.handles == Handles::kNone : side.lid.empty();
}

std::string title_of(const Book& book, Ref<Treatment> treatment, std::optional<Ref<Form>> form) {
    const Treatment& t = book[treatment];
    std::string title = t.number.empty() ? t.id : t.number;
    if (!t.name.empty()) title += " " + t.name;
    if (form) title += ", " + book[*form].name;
    return title;
}
}  // namespace

Glyph glyph_of(const Book& book, Ref<Treatment> treatment, std::optional<Ref<Form>> form) {
    Glyph glyph;
    const Treatment& row = book[treatment];
    if (form) {
        glyph.outline = book[*form].outline;
        glyph.ware = book[*form].ware;
        glyph.form_id = id_of(book, *form);
    }
    if (row.glaze) glyph.lab = book[*row.glaze].lab;
    glyph.title = title_of(book, treatment, form);
    const Decoration carried = decoration(book, treatment, form);
    for (std::size_t i = 0; i < kPlaces; ++i) {
        const auto place = static_cast<Place>(i);
        GlyphPlace& at = glyph.at[i];
        at.state = GlyphPlace::State::kBare;
        std::vector<Carried> here = carried[place];
        if (form)
            std::erase_if(here, [&](const Carried& c) {
                return form_lacks(book[*form], place, book.treatment_ornaments[c.row].on);
            });
        if (here.empty()) continue;
        std::ranges::stable_sort(here, std::greater{}, &Carried::share);
        at.state = GlyphPlace::State::kDecorated;
        double share = 0;
        for (const Carried& c : here) {
            at.ornaments.push_back(c.ornament);
            share += c.share;
        }
        at.doubtful = share < 0.5;  // as often bare as not
    }
    return glyph;
}

namespace {

std::string body_of(Canvas& canvas, const Glyph& glyph) {
    return glyph.ware == Ware::kHollow ? draw_hollow(canvas, glyph) : draw_flat(canvas, glyph);
}

std::string_view view_box_of(const Glyph& glyph) {
    return glyph.ware != Ware::kHollow && glyph.outline == Outline::kOval ? "0 0 200 150" : "0 0 200 200";
}

}  // namespace

std::string draw(const Book& book, const Glyph& glyph) {
    Canvas canvas(book, glyph.lab);
    const std::string body = body_of(canvas, glyph);
    return canvas.finish(view_box_of(glyph), glyph.title.empty() ? "A piece" : glyph.title,
                         glyph.ware == Ware::kHollow ? " data-ware='hollow'" : " data-ware='flat'", body);
}

std::vector<std::string> draw_layers(const Book& book, const Glyph& glyph) {
    Canvas canvas(book, glyph.lab);
    const std::string body = body_of(canvas, glyph);
    return canvas.layers(view_box_of(glyph), body);
}

std::string place_title(const Book& book, Place place, const GlyphPlace& at) {
    using State = GlyphPlace::State;
    std::string names;
    for (const Ref<Ornament> ref : at.ornaments) {
        const Ornament& ornament = book[ref];
        if (!names.empty()) names += " or ";
        names += ornament.name.empty() ? ornament.id : ornament.name;
        names += fmt::format(" ({}, {}", name_of(ornament.kind), ornament.finish);
        if (ornament.repeats) names += fmt::format(", {} repeats", *ornament.repeats);
        names += ")";
    }
    std::string text = std::string(name_of(place)) + ": ";
    switch (at.state) {
        case State::kUnknown:
            text += "not looked at";
            break;
        case State::kBare:
            text += "nothing there";
            break;
        case State::kDecorated:
            text += names.empty() ? "decorated" : names;
            break;
        case State::kSomething:
            text += "something, not recognised";
            break;
        case State::kWorn:
            text += names.empty() ? "traces of something" : "traces of " + names;
            break;
    }
    if (at.doubtful) text += "; a guess";
    if (at.picked_out) text += "; candidates differ here";
    return text;
}

std::string rim_strip(const Book& book, Ref<Ornament> ornament) {
    // The proportions of the plate's rim: its middle line is 19.3 times as long as the rim is wide.
    constexpr double kLength = 772, kTop = 6, kRim = 40;
    Canvas canvas(book, std::nullopt);
    GlyphPlace place;
    place.state = GlyphPlace::State::kDecorated;
    place.ornaments = {ornament};
    Band band = straight({4, kTop}, kLength, kRim);
    band.closed = band.whole = true;  // whole tiles, from the left end to the right
    band.curve = [](double t) { return fmt::format("M4 {}h{}", num(kTop + t * kRim), num(kLength)); };
    std::string body = fmt::format(
        "<path d='M4 {0}h{1}v{2}h-{1}z' fill='{3}'/><g fill='none' stroke='{4}' stroke-width='1'><path d='M4 "
        "{0}h{1}M4 "
        "{5}h{1}'/><path d='M4 {6}v4M197 {6}v4M390 {6}v4M583 {6}v4M776 {6}v4' stroke-opacity='.8'/></g>",
        num(kTop), num(kLength), num(kRim), canvas.ground, kOutside, num(kTop + kRim), num(kTop + kRim + 1));
    Region region;
    region.area = fmt::format("M4 {}h{}v{}h-{}z", num(kTop), num(kLength), num(kRim), num(kLength));
    region.trace = region.halo = region.area;
    body += place_group(canvas, Place::kRim, place, band_art(canvas, band, place, {3, 0.3}), region);
    const Ornament& row = book[ornament];
    return canvas.finish("0 0 780 52", (row.name.empty() ? row.id : row.name) + ", rim unrolled",
                         " data-strip='yes'", body);
}

}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/glyph_canvas.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdint>

#include "base/text.h"
#include "book/drawings.h"

namespace footring::book {

namespace {
constexpr std::string_view kPaper = "#fbf7ee";
constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

std::uint64_t fnv1a(std::string_view text) {
    std::uint64_t hash = 14695981039346656037ull;
    for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211ull;
    return hash;
}

// Length of the well-formed UTF-8 character that begins the text; 0 when it is none.
std::size_t character(std::string_view text) {
    const auto lead = static_cast<unsigned char>(text[0]);
    const std::size_t size = lead < 0x80 ? 1 : lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    return size <= text.size() && is_utf8(text.substr(0, size)) ? size : 0;
}

// A leaf from the point along a direction, as path data; lengths in the motif's own units.
std::string leaf(double x, double y, double dx, double dy) {
    const double wx = -dy * 0.32, wy = dx * 0.32;
    return fmt::format("M{} {}q{} {} {} {}q{} {} {} {}z", num(x), num(y), num(dx * 0.45 + wx), num(dy * 0.45 + wy),
                       num(dx), num(dy), num(-dx * 0.55 - wx), num(-dy * 0.55 - wy), num(-dx), num(-dy));
}

struct Motif {
    std::string markup;
    double width, height;
};

// Motifs that stand in for drawings that the pack does not have. They differ by kind and a little by ornament, so
// that two candidates do not look alike where their data say that they are not; none claims to be a likeness.
Motif border_motif(const Ornament& ornament, const std::string& paint, const std::string& leaves,
                   unsigned variant) {
    std::string d;
    const bool paired = variant & 1u;
    for (int i = 0; i < 3; ++i) {
        const double x = 5 + i * 8;
        d += leaf(x, 12, 5.5, -7.5);
        if (paired || i % 2 == 0) d += leaf(x, 12, 5.5, 7.5);
    }
    std::string markup = fmt::format(
        "<path d='M1 12H31' fill='none' stroke='{0}' stroke-width='1.3'/><path d='{1}' fill='{0}'/>", leaves, d);
    if (ornament.kind == OrnamentKind::kDecal)
        for (const auto& [x, y] : {std::pair{37.0, 8.0}, {37.0, 16.0}, {33.0, 12.0}, {41.0, 12.0}})
            markup += fmt::format("<circle cx='{}' cy='{}' r='4' fill='{}'/>", num(x), num(y), paint);
    else markup += fmt::format("<circle cx='37' cy='12' r='{}' fill='{}'/>", (variant & 2u) ? "5" : "3.6", paint);
    if (ornament.kind == OrnamentKind::kPrint)
        markup += fmt::format("<path d='M0 2.5H44M0 21.5H44' fill='none' stroke='{}' stroke-width='1.4'/>", paint);
    return {markup, 44, 24};
}

Motif spot_motif(const Ornament& ornament, const std::string& paint, const std::string& leaves, unsigned variant) {
    std::string d;
    const double reach = (variant & 1u) ? 1.0 : 0.85;
    for (const auto& [x, y, dx, dy] : {std::array{50.0, 66.0, 26.0, -8.0},
                                       {50.0, 66.0, -26.0, -8.0},
                                       {50.0, 78.0, 22.0, 4.0},
                                       {50.0, 78.0, -22.0, 4.0},
                                       {50.0, 54.0, 22.0, -20.0},
                                       {50.0, 54.0, -22.0, -20.0}})
        d += leaf(x, y, dx * reach, dy * reach);
    std::string markup = fmt::format(
        "<path d='M50 96V40' fill='none' stroke='{0}' stroke-width='3'/><path d='{1}' fill='{0}'/>", leaves, d);
    const double r = ornament.kind == OrnamentKind::kStamp ? 9 : 11;
    for (const auto& [x, y] : {std::pair{50.0, 14.0}, {36.0, 25.0}, {64.0, 25.0}, {42.0, 40.0}, {58.0, 40.0}})
        markup += fmt::format("<circle cx='{}' cy='{}' r='{}' fill='{}'/>", num(x), num(y), num(r), paint);
    markup += fmt::format("<circle cx='50' cy='28' r='6' fill='{}'/>", leaves);
    if (ornament.kind == OrnamentKind::kPrint)
        markup += fmt::format("<circle cx='50' cy='50' r='48' fill='none' stroke='{}' stroke-width='2.5'/>", paint);
    return {markup, 100, 100};
}
}  // namespace

std::string xml_text(std::string_view text) {
    std::string clean;
    clean.reserve(text.size());
    while (!text.empty()) {
        const std::size_t size = character(text);
        const std::string_view c = text.substr(0, std::max<std::size_t>(1, size));
        const bool control = size == 1 && static_cast<unsigned char>(c[0]) < 0x20 && c[0] != '\t' && c[0] != '\n';
        const bool not_xml = size == 0 || control || c == "\xEF\xBF\xBE" || c == "\xEF\xBF\xBF";
        clean += not_xml ? kReplacement : c;
        text.remove_prefix(c.size());
    }
    return escape_markup(clean);
}

Canvas::Canvas(const Book& b, const std::optional<Lab>& lab) : book(b) {
    ground = lab ? srgb_of_lab(*lab) : std::string(kPaper);
    dark = lab_of_rgb(rgb_of_hex(ground))[0] < 55;
    ground_dark = mix(ground, dark ? "#000000" : "#4a3b28", dark ? 0.35 : 0.16);
    ground_light = mix(ground, "#ffffff", dark ? 0.18 : 0.55);
    ink = dark ? "#f6efe0" : "#3b3025";
}

std::string Canvas::define(const std::string& name, const std::string& element) {
    if (once(name)) add_definition(element);
    return fmt::format("url(#{})", id(name));
}

std::string Canvas::paint(const Ink& finish) {
    if (!finish.metal) return finish.base;
    // One sheen over the whole drawing, as light falls on one piece.
    const std::string name = "m" + finish.base.substr(1);
    std::string stops;
    const std::pair<double, const std::string&> kStops[] = {
        {0, finish.dark},   {0.22, finish.base}, {0.36, finish.light}, {0.52, finish.base},
        {0.7, finish.dark}, {0.84, finish.base}, {1, finish.light}};
    for (const auto& [offset, colour] : kStops)
        stops += fmt::format("<stop offset='{}' stop-color='{}'/>", num(offset), colour);
    return define(
        name,
        fmt::format(
            "<linearGradient id='{}' gradientUnits='userSpaceOnUse' spreadMethod='reflect' x1='10' y1='0' x2='190' "
            "y2='200'>{}</linearGradient>",
            id(name), stops));
}

Tile Canvas::tile(Ref<Ornament> ref, bool spot) {
    const Ornament& ornament = book[ref];
    const Ink finish = ink_of(ornament.finish);
    if (const auto shape = shape_of(ornament.drawing_data)) {
        Tile out{fmt::format("t{}", ref.at), shape->width, shape->height, true, shape->sheer, {}};
        if (once(out.id))
            add_definition(
                fmt::format("<image id='{}' width='{}' height='{}' preserveAspectRatio='none' href='{}'/>",
                            id(out.id), num(out.width), num(out.height), ornament.drawing_data));
        if (shape->one_ink) {
            const std::string name = "f" + finish.base.substr(1);
            out.filter = fmt::format(
                " filter='{}'",
                define(name,
                       fmt::format("<filter id='{}' color-interpolation-filters='sRGB'><feFlood flood-color='{}'/>"
                                   "<feComposite in2='SourceAlpha' operator='in'/></filter>",
                                   id(name), finish.base)));
        }
        return out;
    }
    const auto variant = static_cast<unsigned>(fnv1a(ornament.id) >> 16);
    const std::string leaves = finish.mixed ? "#5f7f55" : finish.base;
    const Motif motif = spot ? spot_motif(ornament, finish.base, leaves, variant)
                             : border_motif(ornament, finish.base, leaves, variant);
    Tile out{fmt::format("{}{}", spot ? "c" : "b", ref.at), motif.width, motif.height, false, false, {}};
    if (once(out.id)) add_definition(fmt::format("<g id='{}'>{}</g>", id(out.id), motif.markup));
    return out;
}

namespace {

// The names behind kMark in `text` that follow `before` it.
std::set<std::string> marked_names(std::string_view text, std::string_view before) {
    const std::string sought = std::string(before) + kMark;
    std::set<std::string> out;
    for (std::size_t at = text.find(sought); at != text.npos; at = text.find(sought, at + 1)) {
        const std::size_t begin = at + sought.size();
        out.emplace(text.substr(begin, text.find_first_of("')", begin) - begin));
    }
    return out;
}

std::string with_ids(std::string_view svg, std::string_view prefix) {
    std::string out;
    out.reserve(svg.size() + svg.size() / 8);
    for (const char c : svg)
        if (c == kMark) out += prefix;
        else out += c;
    return out;
}

}  // namespace

std::string Canvas::finish(std::string_view view_box, std::string_view title, std::string_view attributes,
                           const std::string& body) const {
    const std::string svg = fmt::format(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='{}' role='img' aria-labelledby='{}'{}><title id='{}'>{}"
        "</title><defs>{}</defs>{}</svg>",
        view_box, id("title"), attributes, id("title"), xml_text(title), fmt::join(definitions_, ""), body);
    return with_ids(svg, fmt::format("g{:010x}-", fnv1a(svg) & 0xFFFFFFFFFFull));
}

std::vector<std::string> Canvas::layers(std::string_view view_box, const std::string& body) const {
    constexpr std::string_view kPlace = "<g data-place='";
    std::vector<std::string> parts;
    bool shared = false;  // the last part stands alone, because others may have it too
    for (std::size_t at = 0; at < body.size();) {
        const std::size_t end = std::min(body.find(kPlace, at + 1), body.size());
        const std::string part = body.substr(at, end - at);
        const bool repeats = part.find("<use") != part.npos;
        if (parts.empty() || shared || repeats) parts.emplace_back();
        parts.back() += part;
        shared = repeats;
        at = end;
    }
    std::vector<std::string> out;
    for (const std::string& part : parts) {
        std::set<std::string> wanted = marked_names(part, "#");
        std::vector<bool> taken(definitions_.size(), false);
        for (bool more = true; more;) {  // definitions name others, before or behind them
            more = false;
            for (std::size_t i = 0; i < definitions_.size(); ++i) {
                if (taken[i]) continue;
                const auto own = marked_names(definitions_[i], "id='");
                if (!std::ranges::any_of(own, [&](const std::string& name) { return wanted.contains(name); }))
                    continue;
                taken[i] = more = true;
                wanted.merge(marked_names(definitions_[i], "#"));
            }
        }
        std::string definitions;
        for (std::size_t i = 0; i < definitions_.size(); ++i)
            if (taken[i]) definitions += definitions_[i];
        out.push_back(
            with_ids(fmt::format("<svg xmlns='http://www.w3.org/2000/svg' viewBox='{}'><defs>{}</defs>{}</svg>",
                                 view_box, definitions, part),
                     "g-"));
    }
    return out;
}

}  // namespace footring::book

// book/glyph.h - a treatment drawn from its data: a plate from above, or a hollow piece from the side, as SVG.
//   Drawings of the pack are embedded as data: images, so nothing in them can run or load. Deterministic.
//   viewBox is 0 0 200 200 for round, square and octagonal ware and hollow ware, 0 0 200 150 for oval ware.
//   Every place is one <g data-place="rim" data-state="decorated" ...> with a <title> and a transparent area over
//   all of it, so that a page can make it clickable; data-differs="yes" and data-sure="guess" mark the other two
//   notes. A place that the form does not show is drawn as a small named disc, but only when something is known of
//   it. Ids are unique to the content, so many glyphs can stand in one page. There is no style sheet, style
//   attribute, script or font; a page that inlines it may set --glyph-accent, and its content policy must allow
//   img-src data:.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/decoration.h"

namespace footring::book {

struct GlyphPlace {
    enum class State { kUnknown, kBare, kDecorated, kSomething, kWorn };
    State state = State::kUnknown;
    std::vector<Ref<Ornament>> ornaments;
    bool picked_out = false;  // ringed, because candidates differ here
    bool doubtful = false;    // drawn dashed: a guess
};
struct Glyph {
    Outline outline = Outline::kRound;
    Ware ware = Ware::kFlat;
    std::string form_id;                       // chooses the silhouette of a hollow piece
    std::optional<std::array<double, 3>> lab;  // ground colour; absent: paper
    std::array<GlyphPlace, kPlaces> at;
    std::string title;  // accessible name
};

Glyph glyph_of(const Book&, Ref<Treatment>, std::optional<Ref<Form>>);
std::string draw(const Book&, const Glyph&);
// The same as SVG documents without titles that give the drawing when drawn one over another. Each place that
// repeats a tile stands alone, because it costs most to turn into pixels and many treatments share it: equal layers
// are equal texts.
std::vector<std::string> draw_layers(const Book&, const Glyph&);

// The rim unrolled: the ornament's tile repeated along a ribbon, `repeats` times or as the tile's width demands.
std::string rim_strip(const Book&, Ref<Ornament>);

// sRGB "#rrggbb" of a CIE Lab (D50) colour, clipped to the gamut.
std::string srgb_of_lab(const std::array<double, 3>& lab);

}  // namespace footring::book

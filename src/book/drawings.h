// book/drawings.h - the drawings of a pack as a page may show them. The reader of packs keeps each ornament's as
//   Ornament::drawing_data, so that drawing a glyph reads no file.
//   in      the bytes of a file
//   out     a "data:" URI: an image, in which nothing runs and from which nothing is loaded. Empty (a schematic
//   motif
//           is drawn then) when the file is over kMostDrawingBytes, is neither SVG nor PNG, or declares entities
//           (which can grow without bound when they are expanded).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace footring::book {

inline constexpr std::size_t kMostDrawingBytes = 256 * 1024;

// The data: URI of one file's bytes; empty when they are no drawing that we show.
std::string data_uri(std::string_view bytes);

// What a drawing needs to be laid out. Absent when the text is no data: URI that data_uri could have made.
struct Stripe {
    double from, to;     // 0 at the top of the drawing, 1 at its bottom
    std::string colour;  // "#rrggbb"; empty: that of the finish
};
struct DrawingShape {
    double width = 1, height = 1;  // in the drawing's own units
    bool one_ink = false;          // an SVG all in black or currentColor: the finish gives its colour
    bool sheer = false;            // it has see-through parts
    std::vector<Stripe> stripes;  // an SVG of nothing but bars from its left end to its right, in order of painting
};
std::optional<DrawingShape> shape_of(std::string_view drawing_data);

// The file's bytes again, and whether they are SVG (else PNG). Absent as above.
struct DrawingBytes {
    std::string bytes;
    bool svg = false;
};
std::optional<DrawingBytes> bytes_of(std::string_view drawing_data);

}  // namespace footring::book

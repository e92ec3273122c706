// book/glyph_canvas.h - what the parts of a glyph share while it is drawn: ground, inks, definitions. Private to
// book.
//   Ids are written as kMark + name; finish() replaces kMark by a prefix made from the content, so that many glyphs
//   stand in one page without sharing an id. kMark is a control byte, which xml_text never lets through.
//   No style attribute or element is written: a page's content policy need not allow them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "book/band.h"
#include "book/colour.h"
#include "book/glyph.h"

namespace footring::book {

inline constexpr char kMark = '\x01';
// Lines and words that stand on the page and not on the piece: 3:1 or more on light and on dark paper, because a
// drawing shown as an image does not learn the colours of its page.
inline constexpr std::string_view kOutside = "#81786a";

// Escaped for XML text and attributes; what XML 1.0 cannot hold (control bytes, broken UTF-8) becomes U+FFFD.
std::string xml_text(std::string_view);

// A drawing, or a schematic in its stead, as a definition of width x height that can be used many times.
struct Tile {
    std::string id;
    double width = 1, height = 1;
    bool drawn = false;  // from the pack, not a schematic
    bool sheer = false;  // with see-through parts
    std::string filter;  // attribute text that gives a one-ink drawing its finish, or empty
};

class Canvas {
  public:
    Canvas(const Book& book, const std::optional<Lab>& ground);

    const Book& book;
    std::string ground, ground_dark, ground_light;  // the glaze, shaded and lit
    std::string ink;                                // for quiet lines and marks on the ground
    bool dark = false;

    std::string paint(const Ink&);                                            // a colour, or the sheen of a metal
    std::string define(const std::string& name, const std::string& element);  // once; returns "url(#name)"
    std::string id(const std::string& name) const { return kMark + name; }
    std::string next_id() { return id("u" + std::to_string(++uses_)); }
    bool once(const std::string& name) { return names_.insert(name).second; }
    void add_definition(const std::string& element) { definitions_.push_back(element); }

    // `spot`: to stand alone (a medallion), else to be repeated along a band. Only for kinds that are motifs.
    Tile tile(Ref<Ornament>, bool spot);

    // The whole document: the root element around title, definitions and body, ids made unique.
    std::string finish(std::string_view view_box, std::string_view title, std::string_view attributes,
                       const std::string& body) const;
    // The body as documents to be drawn one over another, each with the definitions that it needs: see
    // draw_layers().
    std::vector<std::string> layers(std::string_view view_box, const std::string& body) const;

  private:
    std::set<std::string> names_;
    std::vector<std::string> definitions_;
    int uses_ = 0;
};

// glyph_art.cpp
struct LineStyle {
    double width = 2.4;  // of a plain line
    double at = 0.5;     // where it runs across the band
};
std::string band_art(Canvas&, const Band&, const GlyphPlace&, const LineStyle&);
// `half`: half the side of the square around the centre.
std::string spot_art(Canvas&, Point centre, double half, const GlyphPlace&);
// A knob, filled with the ink of what is on it.
std::string knob_art(Canvas&, Point centre, double radius, const GlyphPlace&);
bool runs_along(const Book&, Ref<Ornament>);  // a border rather than a motif that stands alone
std::string line(const std::string& path, const std::string& paint, double width, bool dashed = false);

// What a place covers, for its states and for the pointer.
struct Region {
    std::string area;            // closed path data, fill-rule evenodd
    std::string trace;           // where its dotted or dashed outline runs; may be open
    std::string halo;            // where the ring of a picked-out place runs
    std::vector<Point> queries;  // where "?" stands when something is there that nobody recognised
    double query_size = 14;
    bool thin = false;  // a line: something is shown as a broken line, not as a texture
};
// <g data-place> with title, art, state and hit area.
std::string place_group(Canvas&, Place, const GlyphPlace&, const std::string& art, const Region&);
std::string place_title(const Book&, Place, const GlyphPlace&);

// Small discs for places that the drawing has no room for.
struct Inset {
    Point centre;
    double radius;
    Point label;
    std::string_view anchor;  // start, middle, end
    double letter = 7;        // size of its name
};
std::string inset(Canvas&, Place, const GlyphPlace&, const Inset&);
// The same to be joined to a place that is also drawn elsewhere: adds to its art and region.
void add_inset(Canvas&, Place, const GlyphPlace&, const Inset&, std::string& art, Region&);
bool shown_as_inset(const GlyphPlace&);  // something was recorded there, or candidates differ

std::string draw_flat(Canvas&, const Glyph&);
std::string draw_hollow(Canvas&, const Glyph&);

}  // namespace footring::book

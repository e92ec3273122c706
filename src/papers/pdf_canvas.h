// papers/pdf_canvas.h - a PDF being drawn: text in lines, pictures, rules, and the tree of tags. Private to this
// room.
//   Lengths are in points (1/72 in), y grows downwards, text is placed by the top of its line.
//   Fonts are EB Garamond (12 and 08: drawn for text and for small text) and Lato; both are embedded as subsets.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cairo.h>
#include <pango/pango.h>

#include <map>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "papers/drawings.h"
#include "papers/hyphenate.h"
#include "papers/paper.h"

namespace footring::papers {

constexpr double mm(double length) { return length * 72 / 25.4; }

struct Colour {
    double r = 0, g = 0, b = 0;
};
inline constexpr Colour kInk{0.11, 0.10, 0.09}, kFaint{0.40, 0.37, 0.34}, kRule{0.72, 0.68, 0.62},
    kAccent{0.52, 0.29, 0.16}, kWash{0.965, 0.95, 0.925};

struct Face {
    const char* family = "EB Garamond 12";
    double size = 10.5, leading = 14;
    bool bold = false, italic = false;
    Colour ink = kInk;
    const char* features = "";  // OpenType, as in CSS
    double tracking = 0;        // pt between letters
    bool justified = false;
    bool divided = true;  // words may be divided
    bool right = false;   // lines end at the right edge
};

struct GObjectFree {
    void operator()(void* object) const;
};
struct CairoFree {
    void operator()(cairo_t* c) const { cairo_destroy(c); }
    void operator()(cairo_surface_t* s) const { cairo_surface_destroy(s); }
};

// A paragraph cut into lines, each ready to be drawn.
struct SetLine {
    std::shared_ptr<PangoLayout> layout;
    Colour ink;
    double indent = 0;    // from the left edge
    double width = 0;     // as set
    double baseline = 0;  // below the top of the line
    struct Link {
        double from, to;  // pt from the left edge
        std::string target;
    };
    std::vector<Link> links;
};
struct SetText {
    std::vector<SetLine> lines;
    double leading = 0;
    double height() const { return leading * static_cast<double>(lines.size()); }
};

struct Tag {
    const char* name;  // "P", "H1", "Table", ... of ISO 32000-1, 14.8.4
    unsigned long id;  // two neighbours with the same are one element
    friend bool operator==(const Tag&, const Tag&) = default;
};

class Canvas {
  public:
    // `when` is the date of making that the file names: ISO 8601.
    static Expected<std::unique_ptr<Canvas>> open(Sheet, const Paper&, const std::string& when);

    SetText set(const Text&, const Face&, double width);
    double width_of(const std::string& text, const Face&);

    void line(const SetLine&, double x, double top);
    void text(const SetText&, double x, double top);
    void picture(const Picture&, double x, double y, double width, double height);
    void soon(const Picture&, double width, double height);  // it will be wanted at this size: begin to draw it
    void rule(double x0, double y0, double x1, double y1, double width, Colour);
    void dots(double x0, double x1, double y, Colour);
    void box(double x, double y, double width, double height, Colour);                 // filled
    void frame(double x, double y, double width, double height, double line, Colour);  // outlined

    void ring(double x, double y, const std::string& number);  // a mark on a photograph

    // Opens and closes tags until exactly these are open.
    void tags(const std::vector<Tag>&);
    void open_tag(const char* name);
    void close_tag(const char* name);
    void place(const std::string& id, double y);  // what "#id" leads to
    void outline(const std::string& title, int level, const std::string& id);
    void label_page(int number);
    void end_page();
    Expected<std::string> finish();

    // Ids that place() will be called with: links to others are left out.
    std::vector<std::string> known;
    double width() const { return width_; }
    double height() const { return height_; }

  private:
    Canvas() = default;
    struct Flat;
    Flat flat(const Text&, bool divided) const;
    std::shared_ptr<PangoLayout> shaped(const Flat&, const Face&, double extra_per_space);
    const PangoFontDescription* font(const Face&, bool italic, bool bold);
    cairo_surface_t* photograph(const Picture&);
    void check(const char* what);

    using Surface = std::unique_ptr<cairo_surface_t, CairoFree>;
    std::string bytes_;
    std::unique_ptr<cairo_surface_t, CairoFree> surface_;
    std::unique_ptr<cairo_t, CairoFree> cairo_;
    std::unique_ptr<void, GObjectFree> fonts_, context_;
    Hyphenator hyphenator_;
    double width_ = 0, height_ = 0;
    std::map<std::string, PangoFontDescription*> described_;
    std::map<std::string, Surface, std::less<>> pictures_;
    Drawings drawings_;
    std::vector<Tag> open_;
    std::vector<int> outline_parents_;
    std::string trouble_;

  public:
    ~Canvas();
};

}  // namespace footring::papers

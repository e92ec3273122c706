// papers/paper.h - a paper before it is printed: what stands on it and in which order, without any place or size of
// page.
//   One model for every kind: papers/pdf.h sets it on pages, papers/html.h writes it as a page for a browser. Who
//   makes a paper (papers/dossier.h and its neighbours) says only what is said, never where it stands.
//   Texts are UTF-8. Lengths are in millimetres.
//   To add a block: 1. its struct and its place in Block; 2. its setting in pdf_blocks.cpp; 3. its markup in
//   html.cpp. std::visit does not compile until both know it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/problem.h"

namespace footring::papers {

// Straight quotation marks and apostrophes as a typesetter has them; those behind a digit stay, they are measures.
std::string curled(std::string_view);

// A piece of text in one style. `link` is "#id" of a block of this paper, or a whole address; empty: none.
struct Run {
    enum class Style : std::uint8_t { kPlain, kItalic, kBold };
    std::string text;
    Style style = Style::kPlain;
    std::string link = {};
};
struct Text {
    std::vector<Run> runs;
    Text() = default;
    Text(std::string text) { add(std::move(text)); }  // NOLINT: a sentence is a text
    Text(const char* text) { add(text); }             // NOLINT
    Text& add(std::string text, Run::Style style = Run::Style::kPlain, std::string link = {}) {
        if (!text.empty()) runs.push_back({curled(text), style, std::move(link)});
        return *this;
    }
    Text& italic(std::string text, std::string link = {}) {
        return add(std::move(text), Run::Style::kItalic, std::move(link));
    }
    Text& bold(std::string text, std::string link = {}) {
        return add(std::move(text), Run::Style::kBold, std::move(link));
    }
    Text& append(const Text& other) {
        runs.insert(runs.end(), other.runs.begin(), other.runs.end());
        return *this;
    }
    bool empty() const { return runs.empty(); }
    std::string plain() const;
};

// Either an SVG document or a JPEG file. Its bytes go into the PDF as they are: a drawing stays lines, a photograph
// is not coded a second time.
struct Picture {
    std::string svg, jpeg;
    std::vector<std::string>
        layers;  // of the SVG, to be drawn one over another as pixels; empty: it is drawn as it is
    double width = 1, height = 1;  // px of a JPEG; any unit for an SVG: only the ratio counts
    std::string alt;               // what it shows, for who cannot see it
    bool chart = false;            // dark words and lines: needs a light ground, and room to be read
};

struct Heading {
    int level = 1;  // 1 chapter, 2 section, 3 run of entries
    std::string text;
    std::string id;     // kebab, unique in the paper; what links and the contents lead to
    std::string aside;  // stands in the margin: years, as a rule
};
struct Paragraph {
    enum class Kind : std::uint8_t { kBody, kLead, kNote, kCaution, kListed };
    Text text;
    Kind kind = Kind::kBody;
    std::string aside = {};  // a word in the margin: a date, a stance
    std::string id = {};
    bool keep = false;  // stays on one page with what follows
};
struct List {
    std::vector<Text> items;
    bool numbered = false;
};
struct Facts {  // label and value, the label in the margin
    struct Fact {
        std::string label;
        Text value;
    };
    std::vector<Fact> rows;
};
struct Cell {
    Text text;
    std::optional<Picture> picture = {};           // above the text
    double picture_mm = 0;                         // its width
    Cell(Text t = {}) : text(std::move(t)) {}      // NOLINT: a text is a cell
    Cell(std::string t) : text(std::move(t)) {}    // NOLINT
    Cell(const char* t) : text(std::string(t)) {}  // NOLINT
    Cell(Picture p, double mm, Text t = {}) : text(std::move(t)), picture(std::move(p)), picture_mm(mm) {}
};
struct Table {
    enum class Align : std::uint8_t { kLeft, kRight };
    struct Column {
        std::string head;
        double share = 1;  // of the width
        Align align = Align::kLeft;
    };
    std::string caption;
    bool compact = false;  // as many rows on a page as can be read
    std::vector<Column> columns;
    std::vector<std::vector<Cell>> rows;
    std::vector<Cell> total;  // a last row under a rule; empty: none
};
// Something to be seen on a photograph: a ring with its number. Shares of its width and height.
struct PhotoMark {
    double x = 0, y = 0;
    std::string text;
};
struct Figure {
    Picture picture;
    Text caption;
    std::string id = {};
    std::vector<PhotoMark> marks = {};
};
struct Figures {  // side by side, as many in a row as fit
    std::vector<Figure> items;
    double each_mm = 50;
};
struct Space {  // lines to write on, with what belongs there
    std::string label;
    int lines = 1;
};
struct PageBreak {};

struct Block;
// A picture in the margin and what is said of it beside it.
struct Entry {
    Picture picture;
    double picture_mm = 36;
    std::vector<Block> blocks;
    std::string id;
};
// A framed card that never breaks over pages: a caption to cut out, a step of a key.
struct Card {
    std::optional<Picture> picture;
    double picture_mm = 30;
    std::string corner;  // top right: a number, a date
    std::vector<Block> blocks;
    std::string id;
};

// Labels on a sheet of their own, at exact places.
struct Grid {
    int columns = 3, rows = 7;
    double width_mm = 63.5, height_mm = 38;  // of one label
    double left_mm = 7.25, top_mm = 15.5;    // the first label's corner on the sheet
    double step_x_mm = 66, step_y_mm = 38;   // from one label to the next
    bool outlines = false;                   // draws the edges, for plain paper and scissors
};
struct Label {
    std::optional<Picture> picture;  // left
    std::vector<Text> lines;         // the first is large
    std::string price;               // large, at the foot; empty: none
    std::optional<Picture> code;     // a QR code, right
};
struct Labels {
    Grid grid;
    int skip = 0;  // labels of the first sheet that are used up already
    std::vector<Label> labels;
};

struct Block {
    using Kind =
        std::variant<Heading, Paragraph, List, Facts, Table, Figures, Space, PageBreak, Entry, Card, Labels>;
    Kind is;
    template <class T>
    Block(T block) : is(std::move(block)) {}  // NOLINT: every kind is a block
};

struct Paper {
    std::string kind;  // "Dossier"; also the small line above the title
    std::string title, subtitle;
    std::string about;  // one sentence, for the file's own description
    std::vector<std::string> keywords;
    std::string date;  // as it is printed; empty: none
    bool contents = false;
    bool bare = false;  // no title, no foot: sheets of labels
    std::vector<Block> blocks;
};

enum class PageSize : std::uint8_t { kA4, kLetter };
struct Sheet {
    double width_mm, height_mm;
};
Sheet size_of(PageSize);  // ISO 216; ANSI/ASME Y14.1

}  // namespace footring::papers

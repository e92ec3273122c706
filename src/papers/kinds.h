// papers/kinds.h - the kinds of paper, and one way to make any of them: for the command line and for the server.
//   in      an Order: the words of the person, as an option or a query has them; the Book, and the store when the
//   kind
//           is about one's own pieces
//   out     a Paper, and from it the file
//   errors  kBadInput, kNotFound for what the order names wrongly; `where` is the name of the option or query
//   To add a kind: 1. its make function in a file of its own; 2. a line in kinds.cpp; 3. a heading in
//   docs/papers.md;
//   4. a line in tests/papers.py. The Papers screen lists what it finds here.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <set>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "papers/paper.h"
#include "store/store.h"

namespace footring::papers {

struct Order {
    std::string kind;                 // "dossier"
    std::string of;                   // "ornament:fern-pair"
    std::string form;                 // id of a form, or empty
    std::vector<std::string> pieces;  // ids; empty: all, or those of `lot`
    std::string lot;
    std::string labels;               // shelf or price
    std::string sheet;                // name of a grid, papers/labels.h
    std::string skip;                 // labels of the first sheet that are gone
    std::vector<std::string> prices;  // of labels: "p-0041=28.00"
    std::vector<std::string> marks;   // of a condition report: "0.40,0.62,chip at the rim"
    std::string rows;                 // of a schedule or wants list: JSON, papers/row_papers.h
    std::string address;              // where QR codes lead: before "/cupboard/ID"
    std::string size;                 // a4 or letter
    std::string format;               // pdf or html
    std::string date;                 // EDTF; stands on the paper, and is the date of making in the PDF
};

struct Made {
    std::string bytes, type;  // "application/pdf", "text/html; charset=utf-8"
    std::string name;         // "dossier-fern-pair.pdf"
};

struct Context {
    const book::Book& book;
    const Settings& settings;
    const store::Store* store;                    // null: none is open
    const std::set<std::string>* others = {};     // pieces of the store that are not one's own; null: all are
    store::Sight sight = store::Sight::kReaders;  // of that store: kReaders when it is store/readers_view.h
};

// What a kind is about: `of`, any number of pieces, one piece, or rows.
enum class Takes : std::uint8_t { kSubject, kPieces, kPiece, kRows };
std::string_view name_of(Takes);  // "subject", "pieces", "piece", "rows"

struct Kind {
    std::string_view name;      // of the order: "dossier"
    std::string_view title;     // "Dossier"
    std::string_view sentence;  // what it is, for help and the Papers screen
    Takes takes;
    Expected<Paper> (*make)(const Order&, const Context&);
};
std::span<const Kind> all_kinds();
const Kind* kind_named(std::string_view);  // null: there is none

Expected<Paper> paper_for(const Order&, const Context&);
Expected<Made> made(const Order&, const Context&);
// A paper as a file called `name`. format: html, else pdf; size: letter, else a4; date: EDTF, that of making in the
// PDF.
Expected<Made> made_of(const Paper&, const std::string& name, const std::string& format, const std::string& size,
                       const std::string& date);

}  // namespace footring::papers

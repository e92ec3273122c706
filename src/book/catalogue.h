// book/catalogue.h - a list of treatments, as a maker's catalogue or a collector's spreadsheet has it, into a pack.
//   in      a table as CSV with a line of headings, columns in any order; what each column means is known by its
//           heading or said by `mapping`. Shapes, glazes and sources may be written by id or by name.
//   out     edits of the table of treatments: a row whose id, or whose shape and number, the pack has already
//   changes
//           that row where the list has something to say; every other one is added. A blank cell changes nothing.
//   errors  every fault of the list at once, at file:line; rows with a fault give no edit. The edited pack still
//   has to
//           be checked (book/pack_edit.h).
//   A new row without an id gets t-NUMBER, or SHAPE-NUMBER when that is taken. A row that names no source has
//   `source`. Pure.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/columns.h"
#include "book/edit.h"

namespace footring::book {

struct Catalogue {
    std::vector<MatchedColumn> columns;
    std::vector<RowEdit> edits;
    int added = 0, changed = 0, same = 0, skipped = 0;
    std::vector<Problem> problems;
};
struct CatalogueOptions {
    Mapping mapping = {};
    std::string source = {};  // of rows that name none
    // Called now and then with how many rows of how many are read; false stops, and the catalogue is empty.
    std::function<bool(std::size_t, std::size_t)> told = {};
};
std::vector<std::string> catalogue_fields();  // the columns of the table of treatments
// `pack`: the id of the pack the list goes into; `rows`: its treatments as they stand in the file.
Catalogue read_catalogue(std::string_view text, std::string_view where, const Book&, const std::string& pack,
                         const std::vector<TextRow>& rows, const CatalogueOptions&);

}  // namespace footring::book

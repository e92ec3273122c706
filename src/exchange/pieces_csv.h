// exchange/pieces_csv.h - the Cupboard as a table: one piece a row, for spreadsheets.
//   columns id, form, shape, shape_sure, glaze, glaze_sure, wear, then PLACE and PLACE_sure for every place, mark,
//           mark_sure, number, number_sure, date_code, faults, length_mm, width_mm, height_mm, private, lot,
//           place_kept, cost, currency, note, decision_treatment, decision_grade, decision_date, decision_note
//   out     RFC 4180, UTF-8, LF. A text that a spreadsheet would take for a formula (it begins with = + - @, a tab
//           or a line break) gets an apostrophe in front, and reading takes exactly that apostrophe away again:
//           write and read return the same pieces, but for CR in a text, which becomes LF.
//   in      commas, semicolons, tabs or |, whichever the header line has most of; columns in any order. A column is
//           matched to a field by name without regard to case, spaces and punctuation, or as `mapping` says. Cells
//           may hold ids or, when a Book is given, names of it ("Oat" for oat).
//   A look at a place stands in one cell; several looks at one place are joined by ';' with as many sures.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "book/columns.h"
#include "exchange/told.h"
#include "store/store.h"

namespace footring::exchange {

using Column = book::MatchedColumn;
struct ReadRow {
    int line;                   // of the file, 1-based; where the row begins
    store::PieceRecord record;  // revision 0
};
struct ReadTable {
    std::vector<Column> columns;
    std::set<std::string> fields;  // fields that a column fills: all others of an existing piece stay as they are
    std::vector<ReadRow> rows;     // the good ones
    int bad_rows = 0;
    std::vector<Problem> problems;  // every fault, in order of line; where: "file:line:column name"
    bool stopped = false;           // as told() wished: nothing of this may be used
};
const std::vector<std::string>& csv_fields();
std::vector<std::string> csv_fields(store::Sight);  // those for readers lack private, cost and currency

// Columns that the mapping does not name are matched by name.
ReadTable read_csv(std::string_view text, const book::Mapping&, const book::Book* book, std::string_view where,
                   const Told& told = {});
std::string write_csv(const std::vector<store::PieceRecord>&, store::Sight);

}  // namespace footring::exchange

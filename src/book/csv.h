// book/csv.h - comma-separated values, RFC 4180, with the place of every cell.
//   Written here because the libraries at hand tell the row of a cell at best, never the line and column at which a
//   person finds it in an editor, and a quoted cell may run over several lines.
//   in      UTF-8 text, a BOM is allowed; lines end in LF, CRLF or CR; one delimiter, by default a comma
//   out     rows of cells, quotes undone, blanks round a cell that is not quoted trimmed; empty lines are skipped
//   errors  each fault with its place; a row with a fault in it is kept as far as it could be read
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace footring::book {

struct CsvCell {
    std::string text;
    std::uint32_t line = 0, column = 0;  // of its first character, 1-based; the column counts characters
    std::uint32_t from = 0, to = 0;      // the bytes of the text that it stands in, with its quotes and blanks
};
struct CsvRow {
    std::vector<CsvCell> cells;
    std::uint32_t end_line = 0, end_column = 0;  // just behind its last character
    std::uint32_t from = 0, to = 0, next = 0;    // its bytes; `next`: behind its line break
    bool faulty = false;
};
struct CsvFault {
    std::uint32_t line, column;
    std::string what, remedy;
};
struct Csv {
    std::vector<CsvRow> rows;
    std::vector<CsvFault> faults;
    bool cut = false;  // rows may be missing: a quotation mark was never closed, or there were too many
};

inline constexpr std::size_t kMostRows = 1'000'000;  // of a table; over it reading stops with a fault
inline constexpr std::size_t kMostCells = 200;       // of a row; our widest table has 11

Csv read_csv(std::string_view text, char delimiter = ',');

}  // namespace footring::book

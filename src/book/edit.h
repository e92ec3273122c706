// book/edit.h - edits of one table as text: what is not edited keeps every byte of it.
//   in      the text of the file, and rows to add, change or take out; all lines are those of that text
//   out     the new text. Byte order mark, line breaks, quoting, blanks, row order and every cell that was not
//   edited
//           stay as they are; a new row takes the line breaks and the quoting of the table; a text without a line
//           break at its end still has none. A column that the file lacks is added to every line of it: CSV has no
//           other way, and a note says so.
//   errors  every fault of the edits at once. kConflict when a row is not as `was` says; kBadInput for a row, a
//   table
//           or a column that is not there, for text that is no UTF-8, and for a file with faults of its own.
//   Nothing here knows what a column means: the edited pack is read and checked by pack.h, as every pack is.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <expected>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/tables.h"

namespace footring::book {

using Cells = std::map<std::string, std::string>;  // text by column

struct RowEdit {
    enum class Do : std::uint8_t { kAdd, kChange, kRemove };
    Do act = Do::kChange;
    std::string table;
    // Where the row begins; kAdd: behind the row (or the first line) that begins there, 0: behind the last one.
    std::uint32_t line = 0;
    Cells was;              // what the row held when it was looked at; columns that are left out are not compared
    Cells cells;            // new texts; columns that are left out stay, or are blank in a new row
    std::string written{};  // the whole row as bytes, taken when it reads as `cells`: an undo keeps the old quoting
};

// One row as it was and as it is; empty: it was not there, or is not any more.
struct RowChange {
    std::string table;
    std::uint32_t line = 0;  // in the new text; of a row that was taken out: of what stands there now
    Cells before, after;     // every column of the file
    std::string written;     // the bytes of the row before, without its line break
    std::size_t edit = 0;    // which of the edits it is
    friend bool operator==(const RowChange&, const RowChange&) = default;
};

struct SheetEdit {
    std::string text;
    std::vector<RowChange> rows;     // that differ, from the top to the bottom
    std::vector<std::string> notes;  // sentences
};
// `text` empty: the file is not there yet and gets a first line. `file`: as the person would write it.
std::expected<SheetEdit, std::vector<Problem>> edit_sheet(const Table&, std::string_view text, char delimiter,
                                                          std::string_view file, std::span<const RowEdit>);

// The rows of a table as they stand in its text, to find the line of one.
struct TextRow {
    std::uint32_t line;
    Cells cells;  // every column of the file, its own ones too
};
std::vector<TextRow> rows_of_text(std::string_view text, char delimiter);

// The edits that take changes back, to be made in the text that came of them: each row is looked for as it was
// left. kConflict when one is not there any more.
std::expected<std::vector<RowEdit>, std::vector<Problem>> undoing(std::span<const RowChange>, std::string_view text,
                                                                  char delimiter, std::string_view file);

}  // namespace footring::book

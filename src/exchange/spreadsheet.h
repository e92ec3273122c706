// exchange/spreadsheet.h - workbooks from outside as plain tables: XLSX (ISO/IEC 29500) and ODS (ISO/IEC 26300).
//   in      the bytes of a file; nothing of it is ever written to the disk, and no formula is worked out: the value
//           that the other program kept is taken
//   out     its sheets as CSV text, one line a row, so that line 12 of the text is row 12 of the sheet. Dates are
//           written 1934-05-01, numbers with at most 15 digits, yes and no for truth values; line breaks inside a
//           cell become blanks.
//   errors  kBadInput for what is no such workbook (an old binary one, one with a password, another archive);
//           kTooLarge for an archive that unfolds beyond the limits below, whatever it says of itself; kUnreadable
//           when it is damaged. An archive that names paths outside of itself, or XML that declares entities, is
//           refused.
//   limits  80 MB as a file; 256 MB of XML and 500 times its packed size in each part; 1,000,000 rows, 200 columns
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::exchange {

struct SheetText {
    std::string name, csv;
    int rows = 0;
};
// Every sheet that has a filled cell, in the order of the workbook; never empty.
Expected<std::vector<SheetText>> read_workbook(std::string_view bytes, std::string_view where);

// Whether the bytes begin as an archive or an old workbook does: then they are for read_workbook().
bool looks_like_workbook(std::string_view bytes);

// The text of a table file: a workbook's sheet (the named one, else the first), or the bytes as they are.
// kNotFound when no sheet is called so.
Expected<std::string> table_text(std::string bytes, std::string_view where, std::string_view sheet = {});

}  // namespace footring::exchange

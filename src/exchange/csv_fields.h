// exchange/csv_fields.h - the columns of the table of pieces, and how a person's own columns are matched to them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "exchange/pieces_csv.h"

namespace footring::exchange {

// Fields by column, in the order of the columns; faults as book/columns.h says.
std::vector<Column> match_piece_columns(const std::vector<std::string>& names, const book::Mapping&,
                                        std::string_view where, std::vector<Problem>& problems);

// One piece by field, texts guarded; fields that it does not have are empty or left out.
using Cells = std::map<std::string, std::string, std::less<>>;
Cells cells_of(const store::PieceRecord&);

// "=1+1" becomes "'=1+1": spreadsheets show it as text and run nothing. unguarded(guarded(x)) is x for every x.
std::string guarded(std::string_view text);
std::string unguarded(std::string_view text);

}  // namespace footring::exchange

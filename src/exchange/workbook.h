// exchange/workbook.h - pieces and lots as a workbook for spreadsheet programs (Office Open XML, ISO/IEC 29500).
//   Sheets: Pieces (the columns of pieces_csv.h, numbers as numbers), Lots; for readers without what they may not
//   see. Every text is a text, so that nothing in it is ever taken for a formula. errors  kTooLarge for more rows
//   or longer texts than a sheet can hold
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::exchange {

Expected<std::string> workbook(const std::vector<store::PieceRecord>&, const std::vector<store::Lot>&,
                               store::Sight);

}  // namespace footring::exchange

// exchange/overlay.h - a row of a file laid over the piece that is already kept.
//   Only the fields that the file has are taken; an empty cell of such a field empties it. Where a column says what
//   was seen and no column says how sure, the old sureness stays as long as the value is the same. What the store
//   keeps beside (photographs, revision) stays.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <set>
#include <string>

#include "store/store.h"

namespace footring::exchange {

// fields: names of csv_fields(); or "piece" (the whole piece), "decision" and "attribution", as JSON has them.
store::PieceRecord overlay(const store::PieceRecord& kept, const store::PieceRecord& row,
                           const std::set<std::string>& fields);

}  // namespace footring::exchange

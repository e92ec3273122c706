// server/wording.h - what photographs read on undersides, as text to look for clues in.
//   The words of a reading stand one to a line, in the order in which they were read. What a person corrected goes
//   before what was read, and is taken to be right.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "dating/clue_statements.h"
#include "store/store.h"

namespace footring::server {

// `found`: the object of a reading; `corrections`: as they are stored with the photograph. Absent: no words.
std::optional<dating::WordingText> wording_of(const nlohmann::json& found, const nlohmann::json& corrections,
                                              const std::string& photo);
// Of every photograph of a piece that was read, in their order; none when the store has no such piece.
Expected<std::vector<dating::WordingText>> wordings_of_piece(const store::Store&, const std::string& piece);
// What the wording tells, as `clue --json`; null when it has no letter.
nlohmann::ordered_json clues_in(const book::Book&, const std::optional<dating::WordingText>&, const Settings&);

}  // namespace footring::server

// naming/answer_json.h - an Answer as the JSON object that `footring examine --json` prints and the web app reads.
//   The members and their order are docs/commands.md#examine; ids are the shortest that the open packs allow.
//   `notes` are sentences about the input ("the field 'colour' is no part of a piece file and was ignored").
//   Pure: the same answer gives the same bytes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "book/book.h"
#include "naming/answer.h"

namespace footring::naming {

nlohmann::ordered_json answer_json(const book::Book&, const std::string& piece_id, const Answer&,
                                   const std::vector<std::string>& notes = {});

}  // namespace footring::naming

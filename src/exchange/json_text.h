// exchange/json_text.h - JSON from outside, read without trust.
//   errors  kBadInput with line and column for text that is no JSON, is not UTF-8, or nests deeper than 40 levels
//           (deeper text is an attack on the stack, never a piece)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::exchange {

inline constexpr int kDeepest = 40;

Expected<nlohmann::json> parse_json(std::string_view text, std::string_view where);

// Text of a value; bytes that are no UTF-8 (they can only come from a damaged file) become U+FFFD.
std::string print_json(const nlohmann::json&, int indent = -1);
std::string print_json(const nlohmann::ordered_json&, int indent = -1);

nlohmann::ordered_json to_json(const Problem&);  // {code, where, what, remedy}

}  // namespace footring::exchange

// book/json_text.h - JSON from outside, read at the door: the fault has a line and a column.
//   in      text; UTF-8, a BOM is allowed
//   out     the value; no object in it has a field twice, nothing is nested deeper than `depth`
//   errors  kTooLarge over `bytes`; kUnreadable when it is not UTF-8; else kBadInput at where:line:column
//           (1-based, in characters)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <nlohmann/json.hpp>
#include <string_view>

#include "base/problem.h"

namespace footring::book {

struct JsonLimits {
    std::size_t bytes = std::size_t{16} << 20;
    int depth = 64;  // no format of ours nests deeper than 8; printing nests the stack as deep as the value
};
Expected<nlohmann::json> json_from_text(std::string_view text, std::string_view where, const JsonLimits& = {});

// Where byte `at` of the text stands, as an editor counts: {line, column}, 1-based, in characters.
struct TextPosition {
    std::size_t line = 1, column = 1;
};
TextPosition position_in(std::string_view text, std::size_t at);

}  // namespace footring::book

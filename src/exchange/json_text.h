// exchange/json_text.h - JSON going out. (What comes in is read by book/json_text.h.)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "base/problem.h"

namespace footring::exchange {

// Text of a value; bytes that are no UTF-8 (they can only come from a damaged file) become U+FFFD.
std::string print_json(const nlohmann::ordered_json&, int indent = -1);

nlohmann::ordered_json problem_json(const Problem&);  // {code, where, what, remedy}

}  // namespace footring::exchange

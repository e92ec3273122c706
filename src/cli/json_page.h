// cli/json_page.h - JSON as commands print it: one line, UTF-8, ended by a line break.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/problem.h"

namespace footring::cli {

std::string json_line(const nlohmann::ordered_json&);
nlohmann::ordered_json problems_json(const std::vector<Problem>&);  // {"problems": [{code, where, what, remedy}]}

}  // namespace footring::cli

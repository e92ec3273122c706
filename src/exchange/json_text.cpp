// SPDX-License-Identifier: Apache-2.0
#include "exchange/json_text.h"

namespace footring::exchange {

std::string print_json(const nlohmann::ordered_json& value, int indent) {
    return value.dump(indent, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
}

nlohmann::ordered_json problem_json(const Problem& problem) {
    return {{"code", name_of(problem.code)},
            {"where", problem.where},
            {"what", problem.what},
            {"remedy", problem.remedy}};
}

}  // namespace footring::exchange

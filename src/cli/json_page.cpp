// SPDX-License-Identifier: Apache-2.0
#include "cli/json_page.h"

namespace footring::cli {

std::string json_line(const nlohmann::ordered_json& value) {
    // Packs and pieces are UTF-8 by their checks; a path on the command line need not be.
    return value.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n";
}

nlohmann::ordered_json problems_json(const std::vector<Problem>& problems) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const Problem& problem : problems)
        list.push_back({{"code", name_of(problem.code)},
                        {"where", problem.where},
                        {"what", problem.what},
                        {"remedy", problem.remedy}});
    return {{"problems", std::move(list)}};
}

}  // namespace footring::cli

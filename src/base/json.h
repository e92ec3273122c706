// base/json.h - lists as JSON.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

namespace footring {

// [to(item), ...] in the order of the range.
template <class Range, class To>
nlohmann::ordered_json json_list(const Range& range, To to) {
    nlohmann::ordered_json out = nlohmann::ordered_json::array();
    for (const auto& item : range) out.push_back(to(item));
    return out;
}

}  // namespace footring

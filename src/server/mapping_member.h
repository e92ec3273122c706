// server/mapping_member.h - the member `mapping` of an import: which column of a spreadsheet is which field.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <map>
#include <nlohmann/json.hpp>
#include <string>

#include "server/request.h"

namespace footring::server {

inline std::expected<std::map<std::string, std::string>, Problems> mapping_member(const nlohmann::json& body) {
    std::map<std::string, std::string> out;
    const auto mapping = body.find("mapping");
    if (mapping == body.end() || mapping->is_null()) return out;
    const auto wrong = [] {
        return refuse(ProblemCode::kBadInput, "body: mapping", "it is not an object of column and field",
                      R"(give it as {"My column": "glaze", "Other column": null})");
    };
    if (!mapping->is_object()) return wrong();
    for (const auto& [column, field] : mapping->items()) {
        if (!field.is_string() && !field.is_null()) return wrong();
        out[column] = field.is_string() ? field.get<std::string>() : "";
    }
    return out;
}

}  // namespace footring::server

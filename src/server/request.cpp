// SPDX-License-Identifier: Apache-2.0
#include "server/request.h"

#include <fmt/format.h>

#include "base/text.h"
#include "book/json_text.h"
#include "exchange/json_text.h"

namespace footring::server {

using nlohmann::json;
using nlohmann::ordered_json;

Reply json_reply(const ordered_json& value, int status) {
    Reply reply;
    reply.status = status;
    reply.body = exchange::print_json(value);
    return reply;
}

Reply problem_reply(const Problems& problems, std::optional<int> status) {
    ordered_json list = ordered_json::array();
    for (const Problem& problem : problems) list.push_back(exchange::problem_json(problem));
    const int usual = problems.empty() ? 500 : http_status(problems.front().code);
    return json_reply({{"problems", std::move(list)}}, status.value_or(usual));
}

std::expected<json, Problems> body_object(const Request& request) {
    auto value = book::json_from_text(request.body, "body");
    if (!value) return refuse(value.error());
    if (!value->is_object())
        return refuse(ProblemCode::kBadInput, "body", "the JSON is not an object", "send an object in braces");
    return std::move(*value);
}

namespace {

const json* member(const json& object, const char* name) {
    const auto found = object.find(name);
    return found == object.end() || found->is_null() ? nullptr : &*found;
}

std::unexpected<Problems> wrong_type(const char* name, const char* wanted) {
    return refuse(ProblemCode::kBadInput, fmt::format("body: {}", name), fmt::format("this is not {}", wanted),
                  fmt::format("give {}", wanted));
}

}  // namespace

std::expected<std::string, Problems> text_member(const json& object, const char* name) {
    const json* value = member(object, name);
    if (value == nullptr) return std::string{};
    if (!value->is_string()) return wrong_type(name, "text");
    return value->get<std::string>();
}

std::expected<bool, Problems> flag_member(const json& object, const char* name) {
    const json* value = member(object, name);
    if (value == nullptr) return false;
    if (!value->is_boolean()) return wrong_type(name, "true or false");
    return value->get<bool>();
}

std::expected<std::vector<std::string>, Problems> list_member(const json& object, const char* name) {
    std::vector<std::string> out;
    const json* value = member(object, name);
    if (value == nullptr) return out;
    if (!value->is_array()) return wrong_type(name, "a list of texts");
    for (const json& item : *value) {
        if (!item.is_string()) return wrong_type(name, "a list of texts");
        out.push_back(item.get<std::string>());
    }
    return out;
}

std::string query_text(const Request& request, const std::string& name) {
    const auto found = request.query.find(name);
    return found == request.query.end() ? std::string{} : found->second;
}

std::expected<int, Problems> query_int(const Request& request, const std::string& name, int fallback, int lowest,
                                       int highest) {
    const std::string text = query_text(request, name);
    if (text.empty()) return fallback;
    const auto value = to_int(text);
    if (!value || *value < lowest || *value > highest)
        return refuse(ProblemCode::kBadInput, fmt::format("query: {}", name),
                      fmt::format("'{}' is not a whole number from {} to {}", text, lowest, highest),
                      fmt::format("give such a number, or leave it out for {}", fallback));
    return *value;
}

std::expected<bool, Problems> query_flag(const Request& request, const std::string& name, bool fallback) {
    const std::string text = query_text(request, name);
    if (text.empty()) return fallback;
    if (text != "true" && text != "false")
        return refuse(ProblemCode::kBadInput, fmt::format("query: {}", name),
                      fmt::format("'{}' is neither true nor false", text), "give true or false");
    return text == "true";
}

}  // namespace footring::server

// server/request.h - one call of the API, after the door: what was asked, and what is answered.
//   Handlers see these two types only, so that they can be read and tested without a network.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "store/people.h"

namespace footring::server {

using Problems = std::vector<Problem>;
inline std::unexpected<Problems> refuse(Problem problem) { return std::unexpected(Problems{std::move(problem)}); }
inline std::unexpected<Problems> refuse(Problems problems) { return std::unexpected(std::move(problems)); }
inline std::unexpected<Problems> refuse(ProblemCode code, std::string where, std::string what, std::string remedy) {
    return refuse(Problem{code, std::move(where), std::move(what), std::move(remedy)});
}

using store::Role;

// Who asks: see server/door.h.
struct Visitor {
    Role role = Role::kNobody;
    std::string account;  // empty: nobody signs in here, or nobody did
    std::string session;  // digest of the token
    std::string origin;   // address
};

struct Request {
    std::string method;                        // upper case
    std::vector<std::string> values;           // of the {parts} of the route, decoded, in their order
    std::map<std::string, std::string> query;  // decoded; the first of several
    std::string body, content_type;            // content type in lower case, without parameters
    std::string if_none_match;
    Visitor visitor;
};

struct Reply {
    int status = 200;
    std::string type = "application/json";
    std::string body;
    std::vector<std::pair<std::string, std::string>> headers;
};
using Answered = std::expected<Reply, Problems>;

Reply json_reply(const nlohmann::ordered_json&, int status = 200);
Reply problem_reply(const Problems&, std::optional<int> status = std::nullopt);  // default: that of the first one

// The body as a JSON object.
std::expected<nlohmann::json, Problems> body_object(const Request&);

// Members of a body; absent and null give nothing, another type is a problem.
std::expected<std::string, Problems> text_member(const nlohmann::json& object, const char* name);
std::expected<bool, Problems> flag_member(const nlohmann::json& object, const char* name);
std::expected<std::vector<std::string>, Problems> list_member(const nlohmann::json& object, const char* name);

std::string query_text(const Request&, const std::string& name);  // empty when absent
std::expected<int, Problems> query_int(const Request&, const std::string& name, int fallback, int lowest,
                                       int highest);
std::expected<bool, Problems> query_flag(const Request&, const std::string& name, bool fallback);  // true or false

// Which bodies a route takes. kNone: none is read.
enum class Takes { kNone, kJson, kPhoto };
inline constexpr std::size_t kMostJson = 16u << 20;  // bytes

struct App;
struct Route {
    std::string_view method;
    std::string_view pattern;  // as in openapi.json: "/api/pieces/{id}"
    Takes takes;
    Role needs;  // at least; there is no default, so that none is let in by forgetting it
    std::function<Answered(App&, const Request&)> answer;
};

}  // namespace footring::server

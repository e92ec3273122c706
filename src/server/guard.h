// server/guard.h - which pages may speak to this server: its own, and no other page in a person's browser.
//   A page of a foreign site can make a browser send requests to it, and can give its own name our address
//   (DNS rebinding). The Host of every request, and the Origin and Sec-Fetch-Site where a browser sends them, tell
//   such requests apart. Pure functions, so that each case has a test.
//   source  WHATWG Fetch (Origin header), W3C Fetch Metadata Request Headers
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::server {

// The addresses under which this server answers.
struct Ours {
    std::string scheme = "http";  // of its own pages
    std::vector<std::string> names = {"127.0.0.1", "localhost", "[::1]"};
    int port = 0;
};

struct Caller {
    std::string method;
    std::vector<std::string> hosts, origins;  // every Host and Origin header of the request
    std::string fetch_site;                   // Sec-Fetch-Site, or empty
    bool api = false;                         // the path begins with /api
};
// What is wrong with the caller; nothing: let it in.
std::optional<Problem> foreign(const Caller&, const Ours&);

// The segments of "/api/pieces/a%2Fb?x=1" up to '?', decoded: {"api", "pieces", "a/b"}. "/" gives none.
// kBadInput for a target that does not begin with '/', bad escapes, text that is no UTF-8, NUL.
Expected<std::vector<std::string>> path_segments(std::string_view target);

// Of the Cookie headers of a request; empty: there is none of this name.
std::string cookie_value(const std::vector<std::string>& cookie_headers, std::string_view name);

}  // namespace footring::server

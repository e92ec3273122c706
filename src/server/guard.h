// server/guard.h - who may speak to this server: the person at this machine, and no other page in their browser.
//   A page of a foreign site can make a browser send requests to loopback, and can give its own name our address
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

struct Caller {
    std::string method;
    std::vector<std::string> hosts, origins;  // every Host and Origin header of the request
    std::string fetch_site;                   // Sec-Fetch-Site, or empty
    bool api = false;                         // the path begins with /api
};
// What is wrong with the caller; nothing: let it in.
std::optional<Problem> foreign(const Caller&, int port);

// The segments of "/api/pieces/a%2Fb?x=1" up to '?', decoded: {"api", "pieces", "a/b"}. "/" gives none.
// kBadInput for a target that does not begin with '/', bad escapes, text that is no UTF-8, NUL.
Expected<std::vector<std::string>> path_segments(std::string_view target);

}  // namespace footring::server

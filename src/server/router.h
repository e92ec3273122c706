// server/router.h - which route a path means.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "server/request.h"

namespace footring::server {

struct Matched {
    const Route* route = nullptr;      // absent: no route of this method
    std::vector<std::string> values;   // of the {parts}
    std::vector<std::string> allowed;  // methods of the routes with this path; empty: there is no such path
};
// Fixed parts win over {parts}: "/api/pieces/facets" is never a piece of that id. HEAD is answered as GET.
Matched match(std::span<const Route> routes, std::string_view method, const std::vector<std::string>& segments);

}  // namespace footring::server

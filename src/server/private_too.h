// server/private_too.h - what leaves the house carries nothing private, unless a keeper asks for it:
// `private=true`. SPDX-License-Identifier: Apache-2.0
#pragma once

#include "server/app.h"

namespace footring::server {

// kNotAllowed when anybody else asks.
inline std::expected<bool, Problems> private_too(const App& app, const Request& request) {
    const auto asked = query_flag(request, "private", false);
    if (!asked || !*asked || app.visitor.role >= Role::kKeeper) return asked;
    return refuse(ProblemCode::kNotAllowed, "query: private",
                  "only a keeper may take private things out of the house", "leave it out, or ask a keeper");
}

}  // namespace footring::server

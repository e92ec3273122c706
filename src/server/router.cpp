// SPDX-License-Identifier: Apache-2.0
#include "server/router.h"

#include <algorithm>
#include <optional>

#include "base/text.h"

namespace footring::server {

namespace {

bool is_part(std::string_view piece) { return piece.starts_with('{') && piece.ends_with('}'); }

struct Fit {
    std::vector<std::string> values;
    std::vector<bool> fixed;  // compared lexicographically: an earlier fixed part is the better fit
};
std::optional<Fit> fit(std::string_view pattern, const std::vector<std::string>& segments) {
    const std::vector<std::string> pieces = split(pattern, '/');
    if (pieces.size() != segments.size()) return std::nullopt;
    Fit out;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        if (is_part(pieces[i])) {
            if (segments[i].empty()) return std::nullopt;
            out.values.push_back(segments[i]);
        } else if (pieces[i] != segments[i]) {
            return std::nullopt;
        }
        out.fixed.push_back(!is_part(pieces[i]));
    }
    return out;
}

}  // namespace

Matched match(std::span<const Route> routes, std::string_view method, const std::vector<std::string>& segments) {
    if (method == "HEAD") method = "GET";
    Matched out;
    std::vector<bool> best;
    for (const Route& route : routes) {
        auto found = fit(route.pattern, segments);
        if (!found) continue;
        if (std::ranges::find(out.allowed, route.method) == out.allowed.end())
            out.allowed.emplace_back(route.method);
        if (route.method != method || (out.route != nullptr && found->fixed <= best)) continue;
        out.route = &route;
        out.values = std::move(found->values);
        best = std::move(found->fixed);
    }
    return out;
}

}  // namespace footring::server

// SPDX-License-Identifier: Apache-2.0
#include "server/guard.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace footring::server {

namespace {

bool is_ours(std::string_view authority, const Ours& ours) {
    const int usual = ours.scheme == "https" ? 443 : 80;
    const std::string said = lower(authority);
    for (const std::string& name : ours.names)
        if (said == fmt::format("{}:{}", name, ours.port) || (ours.port == usual && said == name)) return true;
    return false;
}

std::optional<int> hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return std::nullopt;
}

}  // namespace

std::optional<Problem> foreign(const Caller& caller, const Ours& ours) {
    const auto refusal = [](std::string where, std::string what) {
        return Problem{ProblemCode::kBadInput, std::move(where), std::move(what),
                       "open the address that footring printed when it started"};
    };
    if (caller.hosts.size() != 1 || !is_ours(caller.hosts.front(), ours))
        return refusal("Host header", "this server answers only under its own addresses");
    if (caller.origins.size() > 1)
        return refusal("Origin header", "a request comes from one page, not from several");
    if (!caller.origins.empty()) {
        const std::string scheme = ours.scheme + "://";
        const std::string_view origin = caller.origins.front();
        if (!origin.starts_with(scheme) || !is_ours(origin.substr(scheme.size()), ours))
            return refusal("Origin header", "pages of other sites may not use this server");
    }
    // A link on another site may open our pages, but it may not call the API.
    const bool reads_page = !caller.api && (caller.method == "GET" || caller.method == "HEAD");
    if (!caller.fetch_site.empty() && caller.fetch_site != "same-origin" && caller.fetch_site != "none" &&
        !reads_page)
        return refusal("Sec-Fetch-Site header", "pages of other sites may not use this server");
    return std::nullopt;
}

Expected<std::vector<std::string>> path_segments(std::string_view target) {
    const auto bad = [](std::string what) {
        return fail(ProblemCode::kBadInput, "address", std::move(what), "correct the address");
    };
    std::string_view path = target.substr(0, target.find_first_of("?#"));
    if (!path.starts_with('/')) return bad("the path does not begin with a slash");
    path.remove_prefix(1);
    std::vector<std::string> out;
    if (path.empty()) return out;
    std::string segment;
    const auto finish = [&] {
        const bool sound = is_utf8(segment);
        out.push_back(std::move(segment));
        segment.clear();
        return sound;
    };
    for (std::size_t i = 0; i < path.size(); ++i) {
        if (path[i] == '/') {
            if (!finish()) return bad("the path is not UTF-8 text");
        } else if (path[i] == '%') {
            const auto high = i + 2 < path.size() ? hex_digit(path[i + 1]) : std::nullopt;
            const auto low = i + 2 < path.size() ? hex_digit(path[i + 2]) : std::nullopt;
            if (!high || !low) return bad("a percent sign in the path is not followed by two hexadecimal digits");
            segment += static_cast<char>(*high * 16 + *low);
            i += 2;
        } else {
            segment += path[i];
        }
    }
    if (!finish()) return bad("the path is not UTF-8 text");
    return out;
}

std::string cookie_value(const std::vector<std::string>& cookie_headers, std::string_view name) {
    for (const std::string& header : cookie_headers)
        for (const std::string& pair : split(header, ';')) {
            const std::string_view trimmed = trim(pair);
            const std::size_t equals = trimmed.find('=');
            if (equals != std::string_view::npos && trimmed.substr(0, equals) == name)
                return std::string(trimmed.substr(equals + 1));
        }
    return {};
}

}  // namespace footring::server

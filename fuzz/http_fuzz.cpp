// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as the head of a request: what the door makes of its address, its headers and its cookies. Who
// is let in has one Host of ours; an address is taken apart into UTF-8 segments without NUL, and put together again
// means the same; a route that is found has the method and the segments that were asked for.
#include <algorithm>
#include <cstdint>

#include "base/text.h"
#include "holds.h"
#include "server/guard.h"
#include "server/router.h"

using namespace footring;
using namespace footring::server;

namespace {

const std::vector<Route>& table() {
    const auto none = [](App&, const Request&) -> Answered { return Reply{}; };
    static const std::vector<Route> kRoutes = {
        {"GET", "/api/pieces", Takes::kNone, Role::kReader, none},
        {"GET", "/api/pieces/facets", Takes::kNone, Role::kReader, none},
        {"GET", "/api/pieces/{id}", Takes::kNone, Role::kReader, none},
        {"PUT", "/api/pieces/{id}", Takes::kJson, Role::kContributor, none},
        {"GET", "/api/pieces/{id}/history", Takes::kNone, Role::kContributor, none},
        {"DELETE", "/api/pieces/{id}/photos/{sha256}", Takes::kNone, Role::kContributor, none},
        {"GET", "/api/book/{table}/{id}", Takes::kNone, Role::kReader, none},
        {"GET", "/api/book/vocabulary", Takes::kNone, Role::kReader, none},
        {"POST", "/api/{batch}/undo", Takes::kJson, Role::kContributor, none}};
    return kRoutes;
}

// "GET /path HTTP/1.1", then "Name: value" lines, as the library hands them on: lower-case names, trimmed values.
struct Head {
    std::string method, target;
    std::vector<std::pair<std::string, std::string>> headers;
    std::vector<std::string> all(std::string_view name) const {
        std::vector<std::string> out;
        for (const auto& [known, value] : headers)
            if (known == name) out.push_back(value);
        return out;
    }
};
Head head_of(std::string_view text) {
    Head out;
    bool first = true;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (first) {
            const std::size_t blank = std::min(line.find(' '), line.size());
            out.method = line.substr(0, blank);
            out.target = line.substr(std::min(blank + 1, line.size()));
            first = false;
        } else if (const std::size_t colon = line.find(':'); colon != std::string_view::npos) {
            out.headers.emplace_back(lower(line.substr(0, colon)), std::string(trim(line.substr(colon + 1))));
        }
    }
    return out;
}

std::string encoded(const std::vector<std::string>& segments) {
    std::string out;
    for (const std::string& segment : segments) {
        out += '/';
        for (const char c : segment) {
            constexpr char kDigits[] = "0123456789ABCDEF";
            const auto byte = static_cast<unsigned char>(c);
            if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9')) out += c;
            else (out += '%') += {kDigits[byte >> 4], kDigits[byte & 15]};
        }
    }
    return out.empty() ? "/" : out;
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const Head head = head_of({reinterpret_cast<const char*>(data), size});
    const auto site = head.all("sec-fetch-site");
    for (const bool api : {false, true}) {
        const Caller caller{head.method, head.all("host"), head.all("origin"), site.empty() ? "" : site.front(),
                            api};
        for (const Ours& ours : {Ours{.port = 8377}, Ours{"https", {"cupboard.example", "[::1]"}, 443}}) {
            const auto refused = foreign(caller, ours);
            HOLDS(refused == foreign(caller, ours));
            if (refused) {
                HOLDS(!refused->where.empty() && !refused->what.empty() && !refused->remedy.empty());
                continue;
            }
            HOLDS(caller.hosts.size() == 1 && caller.origins.size() <= 1);
            const std::string host = lower(caller.hosts.front());
            HOLDS(std::ranges::any_of(ours.names, [&](const std::string& name) { return host.starts_with(name); }));
            if (!caller.origins.empty()) HOLDS(caller.origins.front().starts_with(ours.scheme + "://"));
            if (api && !caller.fetch_site.empty())
                HOLDS(caller.fetch_site == "same-origin" || caller.fetch_site == "none");
        }
    }

    const std::string cookie = cookie_value(head.all("cookie"), "__Host-footring");
    HOLDS(cookie.find(';') == std::string::npos);
    if (!cookie.empty())
        HOLDS(std::ranges::any_of(head.all("cookie"), [&](const std::string& header) {
            return header.find("__Host-footring=" + cookie) != std::string::npos;
        }));

    const auto segments = path_segments(head.target);
    if (!segments) {
        HOLDS(segments.error().code == ProblemCode::kBadInput);
        return 0;
    }
    for (const std::string& segment : *segments) HOLDS(is_utf8(segment) && segment.find('\0') == std::string::npos);
    const auto again = path_segments(encoded(*segments));
    HOLDS(again && *again == *segments);
    const Matched matched = match(table(), head.method, *segments);
    if (matched.route == nullptr) return 0;
    HOLDS(matched.route->method == (head.method == "HEAD" ? "GET" : head.method));
    const auto parts = split(matched.route->pattern.substr(1), '/');
    HOLDS(parts.size() == segments->size());
    std::size_t value = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (!parts[i].starts_with('{')) HOLDS(parts[i] == (*segments)[i]);
        else HOLDS(matched.values.at(value++) == (*segments)[i] && !(*segments)[i].empty());
    }
    HOLDS(value == matched.values.size());
    return 0;
}

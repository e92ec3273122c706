// SPDX-License-Identifier: Apache-2.0
#include "server/routes.h"

#include <algorithm>
#include <iterator>

#include "server/desk.h"
#include "server/openapi.h"

namespace footring::server {

namespace {

Answered openapi(App&, const Request&) {
    Reply reply;
    reply.body = openapi_document();
    return reply;
}

}  // namespace

std::string_view openapi_document() { return kOpenApi; }

std::vector<Route> routes() {
    std::vector<Route> all;
    for (auto part : {
             door_routes(),     people_routes(),      backup_routes(),  examine_routes(),   glyph_routes(),
             book_routes(),     piece_routes(),       change_routes(),  photo_routes(),     reading_routes(),
             import_routes({}), letter_routes(),      service_routes(), allotment_routes(), sales_routes(),
             worth_routes(),    years_routes(),       dating_routes(),  care_routes(),      paper_routes(),
             edit_routes({}),   reexamine_routes({}),
         })
        std::ranges::copy(part, std::back_inserter(all));
    all.push_back({"GET", "/api/openapi.json", Takes::kNone, Role::kReader, openapi});
    return all;
}

std::vector<Route> routes_at(const Desk& desk) {
    std::vector<Route> all = routes();
    for (const auto& part : {edit_routes(desk), reexamine_routes(desk), import_routes(desk)})
        for (const Route& route : part)
            *std::ranges::find_if(all, [&](const Route& empty) {
                return empty.method == route.method && empty.pattern == route.pattern;
            }) = route;
    return all;
}

}  // namespace footring::server

// server/desk.h - what the routes that change the Book work with, besides the App: the editor of the packs, the
// examining again of pieces, and the bringing in of tables. It lives as long as the server; an App is one state of
// the Book only. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <ostream>
#include <vector>

#include "server/book_editor.h"
#include "server/importer.h"
#include "server/reexaminer.h"
#include "server/request.h"
#include "server/serve.h"

namespace footring::server {

struct Desk {
    std::shared_ptr<BookEditor> editor;
    std::shared_ptr<Reexaminer> reexaminer;
    std::shared_ptr<Importer> importer;
};
std::vector<Route> edit_routes(const Desk&);       // tables as they stand, edits, their history; dates explained
std::vector<Route> reexamine_routes(const Desk&);  // decided pieces whose answers changed with the Book
std::vector<Route> import_routes(const Desk&);     // tables brought in; pieces as files
// Every route of the API. routes() of routes.h gives the same over an empty desk, to be listed and not called.
std::vector<Route> routes_at(const Desk&);

// As Server::start() and serve(), which edit every pack in its place, with homes of the packs' own.
std::expected<std::unique_ptr<Server>, std::vector<Problem>> start_server(Options, std::vector<PackHome>);
std::expected<void, std::vector<Problem>> serve(Options, std::vector<PackHome>, std::ostream& out);

}  // namespace footring::server

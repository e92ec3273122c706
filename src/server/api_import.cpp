// Pieces in and out as files. A dry run tells what would happen and stores nothing.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "exchange/cupboard.h"
#include "exchange/described.h"
#include "exchange/iiif.h"
#include "exchange/json_text.h"
#include "exchange/linked_art.h"
#include "exchange/spreadsheet.h"
#include "looks/piece.h"
#include "server/app.h"
#include "server/mapping_member.h"
#include "server/records.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::expected<exchange::Format, Problems> format_of(const Request& request) {
    const std::string name = query_text(request, "format");
    if (name == "csv") return exchange::Format::kCsv;
    if (name == "json") return exchange::Format::kJson;
    return refuse(ProblemCode::kBadInput, "query: format", fmt::format("there is no format '{}'", name),
                  "use csv or json");
}

ordered_json imported_json(const exchange::Imported& imported) {
    ordered_json problems = ordered_json::array(), preview = ordered_json::array(), columns = ordered_json::array();
    for (const Problem& problem : imported.problems) problems.push_back(exchange::problem_json(problem));
    for (const looks::Piece& piece : imported.preview) preview.push_back(looks::to_json(piece));
    for (const exchange::Column& column : imported.columns)
        columns.push_back({{"column", column.column},
                           {"field", column.field.empty() ? ordered_json() : ordered_json(column.field)}});
    return {{"added", imported.added},      {"changed", imported.changed},     {"unchanged", imported.unchanged},
            {"skipped", imported.skipped},  {"problems", std::move(problems)}, {"preview", std::move(preview)},
            {"columns", std::move(columns)}};
}

Answered import(App& app, const Request& request) {
    const auto format = format_of(request);
    if (!format) return refuse(format.error());
    const auto dry_run = query_flag(request, "dry_run", false);
    if (!dry_run) return refuse(dry_run.error());
    const auto keep_good = query_flag(request, "keep_good", false);
    if (!keep_good) return refuse(keep_good.error());
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto text = text_member(*body, "text");
    if (!text) return refuse(text.error());
    auto mapping = mapping_member(*body);
    if (!mapping) return refuse(std::move(mapping.error()));
    const exchange::ImportOptions options{*format, *dry_run, *keep_good, std::move(*mapping), app.now()};
    const std::lock_guard lock(app.changing);
    auto imported = exchange::import_pieces(*app.store, &app.book, *text, "import", options);
    if (!imported) return refuse(std::move(imported.error()));
    if (!*dry_run) note_change(app);
    return json_reply(imported_json(*imported));
}

// A workbook as CSV text, for the page to show its sheets and send the chosen one on.
Answered spreadsheet(App&, const Request& request) {
    auto sheets = exchange::read_workbook(request.body, "workbook");
    if (!sheets) return refuse(sheets.error());
    ordered_json out = ordered_json::array();
    for (exchange::SheetText& sheet : *sheets)
        out.push_back({{"name", sheet.name}, {"rows", sheet.rows}, {"text", std::move(sheet.csv)}});
    return json_reply(out);
}

Answered download(App& app, const Request& request) {
    const auto format = format_of(request);
    if (!format) return refuse(format.error());
    auto text = exchange::export_pieces(*app.store, *format);
    if (!text) return refuse(text.error());
    const bool csv = *format == exchange::Format::kCsv;
    Reply reply;
    reply.type = csv ? "text/csv; charset=utf-8" : "application/json";
    reply.body = std::move(*text);
    reply.headers.emplace_back("Content-Disposition",
                               fmt::format("attachment; filename=\"footring-cupboard.{}\"", csv ? "csv" : "json"));
    return reply;
}

// The piece as others want to read it, and what its addresses begin with.
struct Asked {
    exchange::Described piece;
    std::string base;
};
std::expected<Asked, Problems> asked(App& app, const Request& request) {
    auto base = exchange::base_address(query_text(request, "base"), "base");
    if (!base) return refuse(base.error());
    auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    auto photos = app.store->photos(record->piece.id);
    if (!photos) return refuse(photos.error());
    return Asked{exchange::describe(app.book, *record, std::move(*photos)), std::move(*base)};
}
Reply linked_data(const nlohmann::ordered_json& document) {
    Reply reply = json_reply(document);
    reply.type = "application/ld+json";
    return reply;
}

Answered linked_art(App& app, const Request& request) {
    const auto found = asked(app, request);
    if (!found) return refuse(found.error());
    return linked_data(exchange::linked_art(found->piece, found->base));
}

Answered manifest(App& app, const Request& request) {
    const auto found = asked(app, request);
    if (!found) return refuse(found.error());
    if (found->piece.photos.empty())
        return refuse(ProblemCode::kNotFound, request.values[0], "this piece has no photograph", "add one first");
    return linked_data(exchange::iiif_manifest(found->piece, found->base));
}

}  // namespace

std::vector<Route> import_routes() {
    return {{"POST", "/api/import", Takes::kJson, import},
            {"POST", "/api/spreadsheet", Takes::kPhoto, spreadsheet},
            {"GET", "/api/export", Takes::kNone, download},
            {"GET", "/api/pieces/{id}/linked-art", Takes::kNone, linked_art},
            {"GET", "/api/pieces/{id}/manifest", Takes::kNone, manifest}};
}

}  // namespace footring::server

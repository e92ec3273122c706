// Tables brought in (server/importer.h), and what is kept taken out as files.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "base/json.h"
#include "book/json_reader.h"
#include "exchange/cupboard.h"
#include "exchange/described.h"
#include "exchange/iiif.h"
#include "exchange/json_text.h"
#include "exchange/linked_art.h"
#include "server/app.h"
#include "server/desk.h"
#include "server/import_kinds.h"
#include "server/private_too.h"

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

std::string_view name_of(Importer::State state) {
    constexpr std::string_view kNames[] = {"none", "running", "done", "stopped", "failed"};
    return kNames[static_cast<std::size_t>(state)];
}

Answered progress(const Desk& desk, App&, const Request&) {
    const Importer::Progress now = desk.importer->progress();
    return json_reply({{"state", name_of(now.state)},
                       {"into", now.into},
                       {"dry_run", now.dry_run},
                       {"began", now.began},
                       {"step", now.step},
                       {"done", now.done},
                       {"of", now.of},
                       {"result", now.result},
                       {"problems", json_list(now.problems, exchange::problem_json)},
                       {"batches", now.batches}});
}

// The table is sent once; then it is tried and brought in by its id.
Answered keep_table(const Desk& desk, App&, const Request& request) {
    const auto table = desk.importer->keep(request.body, query_text(request, "name"));
    if (!table) return refuse(table.error());
    return json_reply({{"id", (*table)->id},
                       {"name", (*table)->name},
                       {"json", (*table)->json},
                       {"sheets", json_list((*table)->sheets,
                                            [](const exchange::SheetText& sheet) {
                                                return ordered_json{{"name", sheet.name}, {"rows", sheet.rows}};
                                            })}},
                      201);
}

// Column and field; null leaves a column out. Absent: as the same headings were understood the last time.
std::expected<std::optional<book::Mapping>, Problems> mapping_member(const json& body) {
    const auto mapping = body.find("mapping");
    if (mapping == body.end() || mapping->is_null()) return std::nullopt;
    const auto wrong = [] {
        return refuse(ProblemCode::kBadInput, "body: /mapping", "it is not an object of column and field",
                      R"(give it as {"My column": "glaze", "Other column": null})");
    };
    if (!mapping->is_object()) return wrong();
    book::Mapping out;
    for (const auto& [column, field] : mapping->items()) {
        if (!field.is_string() && !field.is_null()) return wrong();
        out[column] = field.is_string() ? field.get<std::string>() : "";
    }
    return out;
}

Answered start(const Desk& desk, App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    ImportAsk ask;
    Problems problems;
    book::JsonReader reader(*body, "body", problems);
    reader.verbatim("table", ask.table);
    reader.verbatim("sheet", ask.sheet);
    reader.verbatim("into", ask.into);
    reader.flag("dry_run", ask.dry_run);
    reader.flag("keep_good", ask.keep_good);
    reader.text("currency", ask.currency);
    reader.text("pack", ask.pack);
    reader.text("source", ask.source);
    if (problems.empty() && !is_import_kind(ask.into))
        reader.fault("into", fmt::format("nothing is brought into '{}'", ask.into),
                     "write pieces, sales or treatments");
    auto mapping = mapping_member(*body);
    if (!mapping) std::ranges::move(mapping.error(), std::back_inserter(problems));
    if (!problems.empty()) return refuse(std::move(problems));
    ask.mapping = std::move(*mapping);
    if (auto started = desk.importer->start(app.shared_from_this(), desk.editor, std::move(ask)); !started)
        return refuse(started.error());
    return progress(desk, app, request);
}

Answered stop(const Desk& desk, App& app, const Request& request) {
    desk.importer->stop();
    return progress(desk, app, request);
}

Answered fields(App&, const Request&) { return json_reply(import_fields()); }

Answered download(App& app, const Request& request) {
    const auto format = format_of(request);
    if (!format) return refuse(format.error());
    const auto all = private_too(app, request);
    if (!all) return refuse(all.error());
    auto text = exchange::export_pieces(*app.store, *format, *all ? store::Sight::kAll : store::Sight::kReaders);
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
struct AskedPiece {
    exchange::Described piece;
    std::string base;
};
std::expected<AskedPiece, Problems> asked(App& app, const Request& request) {
    auto base = exchange::base_address(query_text(request, "base"), "base");
    if (!base) return refuse(base.error());
    auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    auto photos = app.store->photos(record->piece.id);
    if (!photos) return refuse(photos.error());
    return AskedPiece{exchange::describe(app.book, *record, std::move(*photos)), std::move(*base)};
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

std::vector<Route> import_routes(const Desk& desk) {
    const auto with = [desk](Answered (*answer)(const Desk&, App&, const Request&)) {
        return [desk, answer](App& app, const Request& request) { return answer(desk, app, request); };
    };
    return {{"POST", "/api/imports/tables", Takes::kPhoto, Role::kContributor, with(keep_table)},
            {"GET", "/api/imports/fields", Takes::kNone, Role::kContributor, fields},
            {"GET", "/api/imports", Takes::kNone, Role::kContributor, with(progress)},
            {"POST", "/api/imports", Takes::kJson, Role::kContributor, with(start)},
            {"DELETE", "/api/imports", Takes::kNone, Role::kContributor, with(stop)},
            {"GET", "/api/export", Takes::kNone, Role::kReader, download},
            {"GET", "/api/pieces/{id}/linked-art", Takes::kNone, Role::kReader, linked_art},
            {"GET", "/api/pieces/{id}/manifest", Takes::kNone, Role::kReader, manifest}};
}

}  // namespace footring::server

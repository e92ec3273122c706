// Services and compositions: listed, put, removed; why a piece may serve.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "server/routes.h"
#include "server/service_records.h"
#include "services/services_json.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::expected<store::Record, Problems> kept(const App& app, const char* kind, const std::string& id) {
    auto record = app.store->record(kind, id);
    if (!record) return refuse(record.error());
    return std::move(*record);
}

// Member `name` of the body and the revision beside it.
std::expected<std::pair<json, std::int64_t>, Problems> body_part(const Request& request, const char* name) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto part = body->find(name);
    if (part == body->end() || !part->is_object())
        return refuse(ProblemCode::kBadInput, "body", fmt::format("there is no {} in it", name),
                      fmt::format("give it as member '{}'", name));
    std::int64_t revision = 0;
    if (const auto given = body->find("revision"); given != body->end()) {
        if (!given->is_number_integer() || given->get<std::int64_t>() < 0)
            return refuse(ProblemCode::kBadInput, "body: /revision", "this is no revision",
                          "give the number that came with it, or 0 for a new one");
        revision = given->get<std::int64_t>();
    }
    return std::pair(*part, revision);
}

Answered removed(App& app, const char* kind, const std::string& id) {
    if (const auto gone = app.store->remove_records(kind, {id}, ""); !gone) return refuse(gone.error());
    return json_reply({{"batch", app.store->own_batch()}});
}

Answered list_services(App& app, const Request&) {
    const auto records = app.store->records(kServiceKind);
    if (!records) return refuse(records.error());
    const auto own = own_compositions(app);
    if (!own) return refuse(own.error());
    ordered_json rows = ordered_json::array();
    for (const store::Record& record : *records) rows.push_back(service_record_json(app, record, *own));
    const auto total = rows.size();
    return json_reply({{"rows", std::move(rows)}, {"total", total}});
}

Answered show_service(App& app, const Request& request) {
    const auto record = kept(app, kServiceKind, request.values[0]);
    if (!record) return refuse(record.error());
    const auto own = own_compositions(app);
    if (!own) return refuse(own.error());
    return json_reply(service_record_json(app, *record, *own));
}

// `id` empty: a new one.
Answered put_service(App& app, const Request& request, const std::string& id) {
    auto part = body_part(request, "service");
    if (!part) return refuse(std::move(part.error()));
    auto service = services::service_from_json(part->first, "service");
    if (!service) return refuse(std::move(service.error()));
    if (!id.empty() && !service->id.empty() && service->id != id)
        return refuse(ProblemCode::kBadInput, "service: /id", "this is not the service of the address",
                      "the id of a service stays as it is; add a new one instead");
    if (id.empty() && part->second != 0)
        return refuse(ProblemCode::kBadInput, "body: /revision", "a new service has no revision yet",
                      "give 0, or change the service with PUT");
    const std::lock_guard lock(app.changing);
    const auto own = own_compositions(app);
    if (!own) return refuse(own.error());
    const auto plan = services::plan({&*service, 1}, *own, app.book, app.settings, "service");
    if (!plan) return refuse(plan.error());
    if (!id.empty())
        if (const auto there = kept(app, kServiceKind, id); !there) return refuse(there.error());
    store::Record record;
    record.kind = kServiceKind;
    record.id = id.empty() ? service->id : id;
    record.body = services::to_json(*service);
    record.body.erase("id");  // the record has it
    record.revision = part->second;
    const auto stored = app.store->put(std::move(record), "");
    if (!stored) return refuse(stored.error());
    return json_reply(service_record_json(app, *stored, *own), id.empty() ? 201 : 200);
}
Answered add_service(App& app, const Request& request) { return put_service(app, request, ""); }
Answered change_service(App& app, const Request& request) { return put_service(app, request, request.values[0]); }

Answered remove_service(App& app, const Request& request) {
    const std::lock_guard lock(app.changing);
    return removed(app, kServiceKind, request.values[0]);
}

Answered list_compositions(App& app, const Request&) {
    const auto records = app.store->records(kCompositionKind);
    if (!records) return refuse(records.error());
    ordered_json rows = ordered_json::array();
    std::vector<std::string> ids;
    for (const store::Record& record : *records) {
        const auto one = composition_of(record);
        if (!one) return refuse(one.error());
        ids.push_back(one->id);
        rows.push_back(composition_record_json(*one, &record));
    }
    for (const services::Composition& one : services::supplied_compositions())
        if (std::ranges::find(ids, one.id) == ids.end()) rows.push_back(composition_record_json(one, nullptr));
    const auto total = rows.size();
    return json_reply({{"rows", std::move(rows)}, {"total", total}});
}

Answered show_composition(App& app, const Request& request) {
    const auto record = kept(app, kCompositionKind, request.values[0]);
    if (record) {
        const auto one = composition_of(*record);
        if (!one) return refuse(one.error());
        return json_reply(composition_record_json(*one, &*record));
    }
    for (const services::Composition& one : services::supplied_compositions())
        if (one.id == request.values[0]) return json_reply(composition_record_json(one, nullptr));
    return refuse(record.error());
}

Answered put_composition(App& app, const Request& request, const std::string& id) {
    auto part = body_part(request, "composition");
    if (!part) return refuse(std::move(part.error()));
    auto composition = services::composition_from_json(part->first, "composition", false);
    if (!composition) return refuse(std::move(composition.error()));
    if (!id.empty() && !composition->id.empty() && composition->id != id)
        return refuse(ProblemCode::kBadInput, "composition: /id", "this is not the composition of the address",
                      "the id of a composition stays as it is; add a new one instead");
    if (id.empty() && part->second != 0)
        return refuse(ProblemCode::kBadInput, "body: /revision", "a new composition has no revision yet",
                      "give 0, or change the composition with PUT");
    const std::string& wanted = id.empty() ? composition->id : id;
    if (std::ranges::find(services::supplied_compositions(), wanted, &services::Composition::id) !=
        services::supplied_compositions().end())
        return refuse(ProblemCode::kConflict, "composition: /id",
                      fmt::format("'{}' comes with the program and stays as it is", wanted),
                      "give yours another id");
    const std::lock_guard lock(app.changing);
    if (!id.empty())
        if (const auto there = kept(app, kCompositionKind, id); !there) return refuse(there.error());
    store::Record record;
    record.kind = kCompositionKind;
    record.id = wanted;
    record.body = services::to_json(*composition);
    record.body.erase("id");
    record.revision = part->second;
    const auto stored = app.store->put(std::move(record), "");
    if (!stored) return refuse(stored.error());
    const auto again = composition_of(*stored);
    if (!again) return refuse(again.error());
    return json_reply(composition_record_json(*again, &*stored), id.empty() ? 201 : 200);
}
Answered add_composition(App& app, const Request& request) { return put_composition(app, request, ""); }
Answered change_composition(App& app, const Request& request) {
    return put_composition(app, request, request.values[0]);
}

Answered remove_composition(App& app, const Request& request) {
    const std::lock_guard lock(app.changing);
    const auto records = app.store->records(kServiceKind);
    if (!records) return refuse(records.error());
    for (const store::Record& record : *records)
        if (const auto service = service_of(record); service && service->composition == request.values[0])
            return refuse(
                ProblemCode::kConflict, "composition",
                fmt::format("the service '{}' is made of it", service->name.empty() ? record.id : service->name),
                "give that service another composition first");
    return removed(app, kCompositionKind, request.values[0]);
}

Answered why(App& app, const Request& request) {
    const auto record = kept(app, kServiceKind, request.values[0]);
    if (!record) return refuse(record.error());
    const auto service = service_of(*record);
    if (!service) return refuse(service.error());
    const auto own = own_compositions(app);
    if (!own) return refuse(own.error());
    const auto piece = app.store->piece(request.values[1]);
    if (!piece) return refuse(piece.error());
    const auto one = exchange::owned(namer_of(app), piece->piece, piece->decision, piece->piece.id);
    if (!one) return refuse(one.error());
    const auto plan = services::plan({&*service, 1}, *own, app.book, app.settings, "service");
    if (!plan) return refuse(plan.error());
    const std::vector<services::Owned> pieces{*one};
    const services::Fitting fitting(app.book, *plan, pieces, app.settings);
    return json_reply(services::why_json(fitting, 0, 0));
}

}  // namespace

std::vector<Route> service_routes() {
    return {{"GET", "/api/services", Takes::kNone, Role::kReader, list_services},
            {"POST", "/api/services", Takes::kJson, Role::kContributor, add_service},
            {"GET", "/api/services/{id}", Takes::kNone, Role::kReader, show_service},
            {"PUT", "/api/services/{id}", Takes::kJson, Role::kContributor, change_service},
            {"DELETE", "/api/services/{id}", Takes::kNone, Role::kContributor, remove_service},
            {"GET", "/api/services/{id}/why/{piece}", Takes::kNone, Role::kReader, why},
            {"GET", "/api/compositions", Takes::kNone, Role::kReader, list_compositions},
            {"POST", "/api/compositions", Takes::kJson, Role::kContributor, add_composition},
            {"GET", "/api/compositions/{id}", Takes::kNone, Role::kReader, show_composition},
            {"PUT", "/api/compositions/{id}", Takes::kJson, Role::kContributor, change_composition},
            {"DELETE", "/api/compositions/{id}", Takes::kNone, Role::kContributor, remove_composition}};
}

}  // namespace footring::server

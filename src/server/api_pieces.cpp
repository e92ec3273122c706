// The Cupboard: pieces, what was decided of them, and the filters of their list.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "exchange/record_json.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;
using Sort = store::Query::Sort;

struct SortName {
    std::string_view name;
    Sort sort;
};
constexpr SortName kSorts[] = {{"changed", Sort::kChanged}, {"id", Sort::kId},         {"form", Sort::kForm},
                               {"shape", Sort::kShape},     {"number", Sort::kNumber}, {"lot", Sort::kLot},
                               {"place", Sort::kPlace}};

std::expected<Sort, Problems> sort_named(const std::string& name) {
    std::vector<std::string> known;
    for (const SortName& sort : kSorts) {
        if (sort.name == name) return sort.sort;
        known.emplace_back(sort.name);
    }
    return refuse(ProblemCode::kBadInput, "query: sort", fmt::format("pieces cannot be sorted by '{}'", name),
                  fmt::format("use one of {}", fmt::join(known, ", ")));
}

std::expected<store::Query, Problems> query_of(const App& app, const Request& request) {
    constexpr int kMostRows = 1000;
    store::Query query;
    query.text = query_text(request, "q");
    query.form = query_text(request, "form");
    query.shape = query_text(request, "shape");
    query.lot = query_text(request, "lot");
    query.place = query_text(request, "place");
    query.grade = query_text(request, "grade");
    query.treatment = query_text(request, "treatment");
    if (!query.treatment.empty())
        if (const auto ref = book::find<book::Treatment>(app.book, query.treatment, "treatment"))
            query.treatment = full_id(app.book, *ref);
    if (!query_text(request, "decided").empty()) {
        const auto decided = query_flag(request, "decided", false);
        if (!decided) return refuse(decided.error());
        query.decided = *decided;
    }
    std::string sort = query_text(request, "sort"), order = query_text(request, "order");
    const auto by = sort_named(sort.empty() ? "changed" : sort);
    if (!by) return refuse(by.error());
    query.sort = *by;
    if (!order.empty() && order != "asc" && order != "desc")
        return refuse(ProblemCode::kBadInput, "query: order", fmt::format("there is no order '{}'", order),
                      "use asc or desc");
    query.descending = order.empty() ? *by == Sort::kChanged : order == "desc";
    const auto limit = query_int(request, "limit", 100, 0, kMostRows);
    if (!limit) return refuse(limit.error());
    const auto offset = query_int(request, "offset", 0, 0, 1'000'000'000);
    if (!offset) return refuse(offset.error());
    const auto counted = query_flag(request, "counted", true);
    if (!counted) return refuse(counted.error());
    query.counted = *counted;
    query.limit = *limit;
    query.offset = *offset;
    return query;
}

Answered pieces(App& app, const Request& request) {
    const auto query = query_of(app, request);
    if (!query) return refuse(query.error());
    const auto page = app.store->find(*query);
    if (!page) return refuse(page.error());
    ordered_json rows = ordered_json::array();
    for (const store::PieceRecord& record : page->rows) {
        auto row = full_record_json(app, record);
        if (!row) return refuse(std::move(row.error()));
        rows.push_back(std::move(*row));
    }
    ordered_json out = {{"rows", std::move(rows)}, {"total", page->total}};
    if (page->more) out["more"] = true;
    return json_reply(std::move(out));
}

template <class T>
std::string name_in_book(const App& app, const std::string& id) {
    const auto ref = book::find<T>(app.book, id, "facet");
    return ref ? app.book[*ref].name : id;
}

std::string label_of(const App& app, const store::Facet& facet, const std::vector<store::Lot>& lots) {
    if (facet.field == "form") return name_in_book<book::Form>(app, facet.value);
    if (facet.field == "shape") return name_in_book<book::Shape>(app, facet.value);
    if (facet.field == "glaze") return name_in_book<book::Glaze>(app, facet.value);
    if (facet.field == "treatment") {
        const auto ref = book::find<book::Treatment>(app.book, facet.value, "facet");
        if (ref) return std::string(trim(app.book[*ref].number + " " + app.book[*ref].name));
    }
    if (facet.field == "lot")
        for (const store::Lot& lot : lots)
            if (lot.id == facet.value) return lot.name;
    return facet.value;
}

Answered facets(App& app, const Request&) {
    const auto found = app.store->facets();
    if (!found) return refuse(found.error());
    const auto lots = app.store->lots();
    if (!lots) return refuse(lots.error());
    ordered_json out = ordered_json::array();
    for (const store::Facet& facet : *found)
        out.push_back({{"field", facet.field},
                       {"value", facet.value},
                       {"label", label_of(app, facet, *lots)},
                       {"count", facet.count}});
    return json_reply(out);
}

Answered stored(App& app, Expected<store::PieceRecord> record, int status) {
    if (!record) return refuse(record.error());
    note_change(app);
    auto out = full_record_json(app, *record);
    if (!out) return refuse(std::move(out.error()));
    return json_reply(*out, status);
}

std::expected<store::PieceRecord, Problems> record_of_body(const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    return exchange::record_from_json(*body, "body", notes);
}

Answered add_piece(App& app, const Request& request) {
    auto record = record_of_body(request);
    if (!record) return refuse(std::move(record.error()));
    if (record->revision != 0)
        return refuse(ProblemCode::kBadInput, "body: /revision", "a new piece has no revision yet",
                      "give 0, or change the piece with PUT");
    if (auto ready = make_ready(app, *record, nullptr); !ready) return refuse(std::move(ready.error()));
    const std::lock_guard lock(app.changing);
    return stored(app, app.store->put(std::move(*record), ""), 201);
}

Answered piece(App& app, const Request& request) {
    const auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    auto out = full_record_json(app, *record);
    if (!out) return refuse(std::move(out.error()));
    return json_reply(*out);
}

Answered change_piece(App& app, const Request& request) {
    auto record = record_of_body(request);
    if (!record) return refuse(std::move(record.error()));
    const auto before = app.store->piece(request.values[0]);
    if (!before) return refuse(before.error());
    if (record->piece.id != request.values[0])
        return refuse(
            ProblemCode::kBadInput, "body: /piece/id",
            fmt::format("'{}' is not the piece of this address, '{}'", record->piece.id, request.values[0]),
            "the id of a piece stays as it is; add a new piece instead");
    if (auto ready = make_ready(app, *record, &*before); !ready) return refuse(std::move(ready.error()));
    const std::lock_guard lock(app.changing);
    return stored(app, app.store->put(std::move(*record), ""), 200);
}

// A decision without a treatment takes the decision back.
Answered decide(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto revision = body->find("revision");
    if (revision == body->end() || !revision->is_number_integer())
        return refuse(ProblemCode::kBadInput, "body: /revision", "there is no revision",
                      "give the revision of the piece as it was read");
    const auto before = app.store->piece(request.values[0]);
    if (!before) return refuse(before.error());
    store::PieceRecord record = *before;
    record.revision = revision->get<std::int64_t>();
    const auto treatment = text_member(*body, "treatment");
    if (!treatment) return refuse(treatment.error());
    record.decision.reset();
    if (!treatment->empty()) {
        auto decision = exchange::decision_from_json(*body, "body");
        if (!decision) return refuse(std::move(decision.error()));
        record.decision = std::move(*decision);
    }
    if (auto ready = make_ready(app, record, &*before); !ready) return refuse(std::move(ready.error()));
    const std::lock_guard lock(app.changing);
    return stored(app, app.store->put(std::move(record), ""), 200);
}

}  // namespace

std::vector<Route> piece_routes() {
    return {{"GET", "/api/pieces", Takes::kNone, Role::kReader, pieces},
            {"GET", "/api/pieces/facets", Takes::kNone, Role::kReader, facets},
            {"POST", "/api/pieces", Takes::kJson, Role::kContributor, add_piece},
            {"GET", "/api/pieces/{id}", Takes::kNone, Role::kReader, piece},
            {"PUT", "/api/pieces/{id}", Takes::kJson, Role::kContributor, change_piece},
            {"POST", "/api/pieces/{id}/decide", Takes::kJson, Role::kContributor, decide}};
}

}  // namespace footring::server

// The Bench: what the program is, and what it says of a piece. Nothing here changes the store.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "naming/apart.h"
#include "naming/key.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"
#include "server/version.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;

// For whoever watches over the program: says nothing of what is in it.
Answered alive(App& app, const Request&) {
    if (const auto newest = app.store->recent(1); !newest) return refuse(newest.error());
    return json_reply({{"status", "ok"}, {"version", kVersion}});
}

Answered health(App& app, const Request&) {
    const auto pieces = pieces_kept(app);
    if (!pieces) return refuse(pieces.error());
    ordered_json packs = ordered_json::array();
    for (const book::Pack& pack : app.book.packs)
        packs.push_back(
            {{"id", pack.id}, {"title", pack.title}, {"version", pack.version}, {"digest", pack.digest}});
    return json_reply({{"status", "ok"},
                       {"version", kVersion},
                       {"packs", packs},
                       {"data", app.visitor.role >= Role::kKeeper ? app.data.string() : ""},
                       {"pieces", *pieces}});
}

Answered settings(App& app, const Request&) {
    ordered_json out = ordered_json::array();
    for (const Setting& setting : all_settings())
        out.push_back({{"name", setting.name},
                       {"value", app.settings.*setting.field},
                       {"default", setting.fallback},
                       {"lowest", setting.lowest},
                       {"highest", setting.highest},
                       {"sentence", setting.sentence}});
    return json_reply(out);
}

Answered examine(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    const auto piece = piece_member(*body, notes);
    if (!piece) return refuse(piece.error());
    auto answer = examine_piece(app, *piece, notes);
    if (!answer) return refuse(std::move(answer.error()));
    return json_reply(*answer);
}

ordered_json treatment_ids(const book::Book& book, const std::vector<book::Ref<book::Treatment>>& treatments) {
    ordered_json out = ordered_json::array();
    for (const auto treatment : treatments) out.push_back(book::id_of(book, treatment));
    return out;
}

Answered apart(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto form_id = text_member(*body, "form");
    if (!form_id) return refuse(form_id.error());
    const auto ids = list_member(*body, "treatments");
    if (!ids) return refuse(ids.error());
    Problems problems;
    auto form = maybe_row_named<book::Form>(app.book, *form_id, "form");
    if (!form) problems = form.error();
    std::vector<book::Ref<book::Treatment>> treatments;
    for (std::size_t i = 0; i < ids->size(); ++i) {
        const auto found = row_named<book::Treatment>(app.book, (*ids)[i], fmt::format("treatments[{}]", i));
        if (found) treatments.push_back(*found);
        else problems.push_back(found.error().front());
    }
    constexpr std::size_t kMostCompared = 100;
    if (ids->size() < 2 || ids->size() > kMostCompared)
        problems.push_back({ProblemCode::kBadInput, "treatments",
                            fmt::format("{} treatments are named", ids->size()),
                            fmt::format("name from 2 to {}", kMostCompared)});
    if (!problems.empty()) return refuse(std::move(problems));
    const naming::Apart found = naming::apart(app.book, *form, treatments);
    ordered_json differences = ordered_json::array(), forms = ordered_json::array(), groups = ordered_json::array();
    for (const naming::Difference& difference : found.differences)
        differences.push_back({{"look", difference.look}, {"values", difference.values}});
    for (const auto telling : found.telling_forms) forms.push_back(book::id_of(app.book, telling));
    for (const auto& group : found.twin_groups) groups.push_back(treatment_ids(app.book, group));
    return json_reply({{"differences", differences}, {"telling_forms", forms}, {"twin_groups", groups}});
}

Answered key(App& app, const Request& request) {
    const auto shape = maybe_row_named<book::Shape>(app.book, query_text(request, "shape"), "query: shape");
    if (!shape) return refuse(shape.error());
    const auto form = maybe_row_named<book::Form>(app.book, query_text(request, "form"), "query: form");
    if (!form) return refuse(form.error());
    const naming::Key made = naming::key(app.book, *shape, *form, app.settings);
    ordered_json nodes = ordered_json::array();
    for (const naming::KeyNode& node : made.nodes) {
        ordered_json branches = ordered_json::array();
        for (const auto& branch : node.branches)
            branches.push_back({{"value", branch.value}, {"node", branch.node}});
        nodes.push_back({{"treatments", treatment_ids(app.book, node.treatments)},
                         {"look", node.look},
                         {"effort_min", node.effort.value},
                         {"branches", branches}});
    }
    return json_reply(
        {{"nodes", nodes}, {"expected_effort_min", made.expected_effort.value}, {"optimal", made.optimal}});
}

}  // namespace

std::vector<Route> examine_routes() {
    return {{"GET", "/api/alive", Takes::kNone, Role::kNobody, alive},
            {"GET", "/api/health", Takes::kNone, Role::kReader, health},
            {"GET", "/api/settings", Takes::kNone, Role::kReader, settings},
            {"POST", "/api/examine", Takes::kJson, Role::kReader, examine},
            {"POST", "/api/apart", Takes::kJson, Role::kReader, apart},
            {"GET", "/api/key", Takes::kNone, Role::kReader, key}};
}

}  // namespace footring::server

// Lots, changes to many pieces at once, and the history that can be undone.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <set>

#include "base/text.h"
#include "exchange/record_json.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

// What a bulk change sets; absent fields stay as they are.
struct Patch {
    std::optional<std::string> lot, place, note, currency;
    std::optional<std::optional<double>> cost;  // an inner absence takes the cost away
    std::optional<bool> is_private;
    bool empty() const { return !lot && !place && !note && !currency && !cost && !is_private; }
};

std::expected<Patch, Problems> patch_of(const json& body) {
    Patch patch;
    const auto set = body.find("set");
    if (set == body.end() || set->is_null()) return patch;
    if (!set->is_object())
        return refuse(ProblemCode::kBadInput, "body: set", "this is not an object",
                      "give the fields to set in braces");
    Problems problems;
    const std::vector<std::pair<std::string, std::optional<std::string>*>> texts = {
        {"lot", &patch.lot}, {"place", &patch.place}, {"note", &patch.note}, {"currency", &patch.currency}};
    for (const auto& [name, value] : set->items()) {
        const auto text =
            std::ranges::find(texts, name, &std::pair<std::string, std::optional<std::string>*>::first);
        const std::string where = fmt::format("body: set/{}", name);
        if (text != texts.end()) {
            if (value.is_string()) *text->second = value.get<std::string>();
            else problems.push_back({ProblemCode::kBadInput, where, "this is not text", "give text"});
        } else if (name == "cost") {
            if (value.is_null()) patch.cost.emplace();
            else if (value.is_number() && value.get<double>() >= 0) patch.cost = value.get<double>();
            else
                problems.push_back(
                    {ProblemCode::kBadInput, where, "this is no amount", "give a number, or null for none"});
        } else if (name == "private") {
            if (value.is_boolean()) patch.is_private = value.get<bool>();
            else
                problems.push_back(
                    {ProblemCode::kBadInput, where, "this is not true or false", "give one of them"});
        } else {
            problems.push_back({ProblemCode::kBadInput, where, "this cannot be set for many pieces at once",
                                "set lot, place, note, cost, currency or private"});
        }
    }
    if (!problems.empty()) return refuse(std::move(problems));
    return patch;
}

// Of the change just made, under App::changing; never that of another server.
ordered_json newest_batch(const App& app) { return app.store->own_batch(); }

Answered bulk(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto ids = list_member(*body, "ids");
    if (!ids) return refuse(ids.error());
    const auto remove = flag_member(*body, "remove");
    if (!remove) return refuse(remove.error());
    const auto patch = patch_of(*body);
    if (!patch) return refuse(patch.error());
    if (ids->empty())
        return refuse(ProblemCode::kBadInput, "body: ids", "no piece is named", "give the ids of the pieces");
    if (std::set<std::string>(ids->begin(), ids->end()).size() != ids->size())
        return refuse(ProblemCode::kBadInput, "body: ids", "a piece is named twice", "name each piece once");
    if (*remove == !patch->empty())
        return refuse(ProblemCode::kBadInput, "body", "it has to say either what to set or that the pieces go",
                      "give one of the members 'set' and 'remove'");
    const std::lock_guard lock(app.changing);
    if (*remove) {
        if (auto removed = app.store->remove(*ids, ""); !removed) return refuse(removed.error());
        note_change(app);
        return json_reply({{"changed", ids->size()}, {"batch", newest_batch(app)}});
    }
    std::vector<store::PieceRecord> records;
    for (const std::string& id : *ids) {
        auto record = app.store->piece(id);
        if (!record) return refuse(record.error());
        if (patch->lot) record->lot = *patch->lot;
        if (patch->place) record->place = *patch->place;
        if (patch->note) record->note = *patch->note;
        if (patch->currency) record->currency = *patch->currency;
        if (patch->cost) record->cost = *patch->cost;
        if (patch->is_private) record->is_private = *patch->is_private;
        records.push_back(std::move(*record));
    }
    const auto after = app.store->put_all(records, "");
    if (!after) return refuse(after.error());
    int changed = 0;
    for (std::size_t i = 0; i < after->size(); ++i) changed += (*after)[i].revision != records[i].revision ? 1 : 0;
    note_change(app);
    return json_reply({{"changed", changed}, {"batch", changed > 0 ? newest_batch(app) : ordered_json()}});
}

ordered_json changes_json(const std::vector<store::Change>& changes) {
    ordered_json out = ordered_json::array();
    for (const store::Change& change : changes) out.push_back(exchange::change_json(change));
    return out;
}

Answered history(App& app, const Request& request) {
    const auto changes = app.store->history("piece", request.values[0]);
    if (!changes) return refuse(changes.error());
    if (changes->empty())
        if (const auto known = app.store->piece(request.values[0]); !known) return refuse(known.error());
    return json_reply(changes_json(*changes));
}

Answered recent(App& app, const Request& request) {
    const auto limit = query_int(request, "limit", 50, 1, 1000);
    if (!limit) return refuse(limit.error());
    const auto changes = app.store->recent(*limit);
    if (!changes) return refuse(changes.error());
    return json_reply(changes_json(*changes));
}

// What a page needs to know of a change to see whether it shows what changed.
ordered_json news_json(const store::Change& change) {
    ordered_json out{{"id", change.id}, {"when", change.when}, {"entity", change.entity}, {"key", change.key}};
    const bool photo = change.entity == "photo";
    out["piece"] = change.entity == "piece" ? ordered_json(change.key)
                   : photo                  ? ordered_json(change.key.substr(0, change.key.rfind('/')))
                                            : ordered_json();
    out["what"] = change.what;
    out["batch"] = change.batch;
    return out;
}

Answered news(App& app, const Request& request) {
    constexpr int kMostNews = 200, kLongestWait = 25;  // seconds
    constexpr int kHighest = 2'000'000'000;
    const auto after = query_int(request, "after", 0, 0, kHighest);
    if (!after) return refuse(after.error());
    const auto seconds = query_int(request, "wait", 0, 0, kLongestWait);
    if (!seconds) return refuse(seconds.error());
    // Who asks for the first time learns where the history stands, and not all of it.
    const bool first = query_text(request, "after").empty();
    const auto heard = app.house.changes.wait(*after, std::chrono::seconds(first ? 0 : *seconds));
    ordered_json changes = ordered_json::array();
    const std::int64_t missed = first ? 0 : std::max<std::int64_t>(0, heard.newest - *after);
    if (missed > 0) {
        auto newest = app.store->recent(static_cast<int>(std::min<std::int64_t>(missed, kMostNews)));
        if (!newest) return refuse(newest.error());
        std::ranges::reverse(*newest);
        for (const store::Change& change : *newest)
            if (change.id > *after && change.id <= heard.newest) changes.push_back(news_json(change));
    }
    return json_reply({{"newest", heard.newest},
                       {"all", missed <= kMostNews},
                       {"changes", std::move(changes)},
                       {"again_ms", heard.waited ? 0 : ChangeFeed::kAskAgain.count()}});
}

Answered undo_batch(App& app, const Request& request) {
    const auto number = to_number(request.values[0]);
    const auto batch = number && *number >= 1 && *number < 9e15 ? static_cast<std::int64_t>(*number) : 0;
    if (batch == 0 || std::to_string(batch) != request.values[0])
        return refuse(ProblemCode::kNotFound, "batch", fmt::format("there is no change '{}'", request.values[0]),
                      "give the batch of a change, from /api/changes");
    const std::lock_guard lock(app.changing);
    const auto undone = app.store->undo(batch);
    if (!undone) return refuse(undone.error());
    note_change(app);
    return json_reply({{"batch", *undone}});
}

// "Rim: fern-pair (sure)." or, for several, "Place: top shelf. (and 11 more changes)"
std::string words_of(const std::vector<store::Change>& changes) {
    if (changes.empty()) return "";
    std::string words = changes.back().what;  // newest first: the last one began it
    if (changes.size() > 1)
        words += fmt::format(" (and {} more {})", changes.size() - 1, changes.size() == 2 ? "change" : "changes");
    return words;
}

Answered undo_latest(App& app, const Request&) {
    constexpr int kLookedThrough = 1000;
    const std::lock_guard lock(app.changing);
    const auto newest = app.store->last_undoable();
    if (!newest) return refuse(newest.error());
    if (!*newest)
        return refuse(ProblemCode::kNotFound, "changes", "there is nothing to undo", "change something first");
    auto changes = app.store->recent(kLookedThrough);
    if (!changes) return refuse(changes.error());
    std::erase_if(*changes, [&](const store::Change& change) { return change.batch != **newest; });
    const auto undone = app.store->undo(**newest);
    if (!undone) return refuse(undone.error());
    note_change(app);
    return json_reply({{"batch", *undone}, {"undid", **newest}, {"what", words_of(*changes)}});
}

Answered lots(App& app, const Request&) {
    const auto all = app.store->lots();
    if (!all) return refuse(all.error());
    ordered_json out = ordered_json::array();
    for (const store::Lot& lot : *all) out.push_back(exchange::lot_json(lot));
    return json_reply(out);
}

std::expected<store::Lot, Problems> lot_of_body(const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    return exchange::lot_from_json(*body, "body");
}

Answered put_lot(App& app, store::Lot lot, int status) {
    const std::lock_guard lock(app.changing);
    const auto stored = app.store->put(std::move(lot), "");
    if (!stored) return refuse(stored.error());
    return json_reply(exchange::lot_json(*stored), status);
}

Answered add_lot(App& app, const Request& request) {
    auto lot = lot_of_body(request);
    if (!lot) return refuse(std::move(lot.error()));
    if (lot->revision != 0)
        return refuse(ProblemCode::kBadInput, "body: /revision", "a new lot has no revision yet",
                      "give 0, or change the lot with PUT");
    return put_lot(app, std::move(*lot), 201);
}

bool has_lot(const std::vector<store::Lot>& all, const std::string& id) {
    return std::ranges::find(all, id, &store::Lot::id) != all.end();
}

Answered change_lot(App& app, const Request& request) {
    auto lot = lot_of_body(request);
    if (!lot) return refuse(std::move(lot.error()));
    if (!lot->id.empty() && lot->id != request.values[0])
        return refuse(ProblemCode::kBadInput, "body: /id", "this is not the lot of the address",
                      "the id of a lot stays as it is; add a new lot instead");
    lot->id = request.values[0];
    const auto all = app.store->lots();
    if (!all) return refuse(all.error());
    if (!has_lot(*all, lot->id))
        return refuse(ProblemCode::kNotFound, "lot", fmt::format("there is no lot '{}'", lot->id),
                      "see the list of lots");
    return put_lot(app, std::move(*lot), 200);
}

Answered remove_lot(App& app, const Request& request) {
    const std::lock_guard lock(app.changing);
    if (auto removed = app.store->remove_lot(request.values[0], ""); !removed) return refuse(removed.error());
    return json_reply({{"batch", newest_batch(app)}});
}

}  // namespace

std::vector<Route> change_routes() {
    return {{"POST", "/api/pieces/bulk", Takes::kJson, Role::kContributor, bulk},
            {"GET", "/api/pieces/{id}/history", Takes::kNone, Role::kContributor, history},
            {"GET", "/api/changes", Takes::kNone, Role::kContributor, recent},
            {"GET", "/api/changes/news", Takes::kNone, Role::kReader, news},
            {"POST", "/api/changes/{batch}/undo", Takes::kJson, Role::kContributor, undo_batch},
            {"POST", "/api/changes/undo", Takes::kJson, Role::kContributor, undo_latest},
            {"GET", "/api/lots", Takes::kNone, Role::kReader, lots},
            {"POST", "/api/lots", Takes::kJson, Role::kContributor, add_lot},
            {"PUT", "/api/lots/{id}", Takes::kJson, Role::kContributor, change_lot},
            {"DELETE", "/api/lots/{id}", Takes::kNone, Role::kContributor, remove_lot}};
}

}  // namespace footring::server

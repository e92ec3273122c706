// Pieces whose answers changed with the Book: found by a job, accepted, kept or looked at one by one.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <tuple>

#include "base/json.h"
#include "exchange/json_text.h"
#include "exchange/names.h"
#include "server/app.h"
#include "server/desk.h"
#include "server/records.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::string_view name_of(Reexaminer::State state) {
    constexpr std::string_view kNames[] = {"none", "running", "done", "stopped", "failed"};
    return kNames[static_cast<std::size_t>(state)];
}

Answered progress(Reexaminer& reexaminer, App& app, const Request&) {
    const Reexaminer::Progress now = reexaminer.progress();
    return json_reply({{"state", name_of(now.state)},
                       {"began", now.began},
                       {"stale", !now.packs.empty() && now.packs != app.house.current()->packs},
                       {"done", now.done},
                       {"of", now.of},
                       {"up_to_date", now.up_to_date},
                       {"same", now.same},
                       {"unknown", now.unknown},
                       {"changed", json_list(now.changed, exchange::reexamined_json)},
                       {"problems", now.problem ? json_list(Problems{*now.problem}, exchange::problem_json)
                                                : ordered_json::array()}});
}

Answered start(Reexaminer& reexaminer, App& app, const Request& request) {
    if (auto started = reexaminer.start(app.shared_from_this()); !started) return refuse(started.error());
    return progress(reexaminer, app, request);
}

Answered stop(Reexaminer& reexaminer, App& app, const Request& request) {
    reexaminer.stop();
    return progress(reexaminer, app, request);
}

// The treatment, or open hypothesis, that has most of the odds.
std::string likeliest(const json& answer) {
    std::string best;
    double most = -1;
    for (const json& one : answer["candidates"])
        if (one["probability"].get<double>() > most)
            most = one["probability"].get<double>(), best = one["treatment"].get<std::string>();
    for (const auto& [name, p] : answer["open"].items())
        if (p.get<double>() > most) most = p.get<double>(), best = name;
    return best;
}

// Of a decided piece both store what the engine says now: it has been looked at with this Book.
Answered settle(Reexaminer& reexaminer, App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto accept = flag_member(*body, "accept");
    if (!accept) return refuse(accept.error());
    const auto revision = body->find("revision");
    if (revision == body->end() || !revision->is_number_integer())
        return refuse(ProblemCode::kBadInput, "body: /revision", "there is no revision",
                      "give the revision of the piece as it was read");
    auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    if (!record->decision) {
        if (*accept)
            return refuse(ProblemCode::kBadInput, "piece " + request.values[0], "it is not decided",
                          "decide it at the Bench");
        // Nothing is stored of it: it was looked at.
        if (auto noted = reexaminer.settled(request.values[0], app.house.current()->packs); !noted)
            return refuse(noted.error());
        auto out = full_record_json(app, *record);
        if (!out) return refuse(std::move(out.error()));
        return json_reply(*out);
    }
    record->revision = revision->get<std::int64_t>();
    const auto answer = examine_piece(app, record->piece, {});
    if (!answer && *accept) return refuse(answer.error());
    if (answer) record->attribution = store::Attribution{json(*answer), app.packs, app.now()};
    std::string what = "Kept the decision after the Book changed.";
    if (*accept) {
        record->decision->treatment = likeliest(record->attribution->answer);
        if (auto settled = exchange::settle_decision(*record, app.book, "decision"); !settled)
            return refuse(settled.error());
        what = fmt::format("Decided as {} after the Book changed.", record->decision->treatment);
    }
    const std::lock_guard lock(app.changing);
    const auto kept = app.store->put(std::move(*record), std::move(what));
    if (!kept) return refuse(kept.error());
    // It is stored; that the packs count as reviewed can wait for the next review.
    std::ignore = reexaminer.settled(request.values[0], app.house.current()->packs);
    note_change(app);
    auto out = full_record_json(app, *kept);
    if (!out) return refuse(std::move(out.error()));
    return json_reply(*out);
}

}  // namespace

std::vector<Route> reexamine_routes(const Desk& desk) {
    const auto with = [reexaminer = desk.reexaminer](Answered (*answer)(Reexaminer&, App&, const Request&)) {
        return [reexaminer, answer](App& app, const Request& request) { return answer(*reexaminer, app, request); };
    };
    return {{"GET", "/api/reexaminations", Takes::kNone, Role::kContributor, with(progress)},
            {"POST", "/api/reexaminations", Takes::kJson, Role::kContributor, with(start)},
            {"DELETE", "/api/reexaminations", Takes::kNone, Role::kContributor, with(stop)},
            {"POST", "/api/reexaminations/{piece}", Takes::kJson, Role::kContributor, with(settle)}};
}

}  // namespace footring::server

// Care: cautions on a piece, and a laboratory's results beside the published limits.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "care/cautions.h"
#include "care/leaching.h"
#include "server/app.h"
#include "server/routes.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;

Answered cautions_of(App& app, const looks::Piece& piece) {
    const auto findings = looks::resolve(piece, app.book, app.settings, "piece");
    if (!findings) return refuse(findings.error());
    const auto answer = odds_of(app, *findings);
    if (!answer) return refuse(answer.error());
    return json_reply({{"piece", piece.id},
                       {"cautions", care::cautions_json(app.book, care::cautions(app.book, *findings, *answer))},
                       {"defers", care::kDefers}});
}

Answered cautions(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    const auto piece = piece_member(*body, notes);
    if (!piece) return refuse(piece.error());
    return cautions_of(app, *piece);
}

Answered cautions_of_kept(App& app, const Request& request) {
    const auto record = app.store->piece(request.values[0]);
    if (!record) return refuse(record.error());
    return cautions_of(app, record->piece);
}

Answered regimes(App&, const Request&) { return json_reply(care::regimes_json()); }

// A number member within 0..most; absent: not given.
std::optional<double> measure(const nlohmann::json& body, const char* name, double most, Problems& problems) {
    const auto value = body.find(name);
    if (value == body.end() || value->is_null()) return std::nullopt;
    if (value->is_number() && value->get<double>() >= 0 && value->get<double>() <= most)
        return value->get<double>();
    problems.push_back({ProblemCode::kBadInput, fmt::format("body: {}", name),
                        fmt::format("{} is not a number from 0 to {:g}", value->dump(), most),
                        "give it in the unit of its name, or leave it out"});
    return std::nullopt;
}

Answered leach(App&, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    Problems problems;
    care::Vessel vessel;
    vessel.depth_mm = measure(*body, "depth_mm", care::kMostDepthMm, problems);
    vessel.volume_ml = measure(*body, "volume_ml", care::kMostVolumeMl, problems);
    const auto category = text_member(*body, "category");
    if (!category) problems.push_back(category.error().front());
    else if (const auto use = care::use_named(category->empty() ? "table" : *category)) vessel.use = *use;
    else
        problems.push_back({ProblemCode::kBadInput, "body: category",
                            fmt::format("there is no use '{}'", *category),
                            "give table, cup, pitcher, storage or cooking"});
    const auto csv = text_member(*body, "csv");
    if (!csv) problems.push_back(csv.error().front());
    const auto units = body->find("units");
    const bool listed = units != body->end() && !units->is_null();
    std::vector<care::UnitResult> results;
    if (csv && listed && !csv->empty())
        problems.push_back({ProblemCode::kBadInput, "body", "has units and csv", "give one of them"});
    auto read = csv && !listed ? care::read_results(*csv, "csv")
                               : care::results_from_json(listed ? *units : nlohmann::json(), "units");
    if (!read) problems.insert(problems.end(), read.error().begin(), read.error().end());
    if (!problems.empty()) return refuse(std::move(problems));
    return json_reply(care::leach_json(care::compare(vessel, *read)));
}

}  // namespace

std::vector<Route> care_routes() {
    return {{"POST", "/api/care/cautions", Takes::kJson, Role::kReader, cautions},
            {"GET", "/api/care/cautions/{id}", Takes::kNone, Role::kReader, cautions_of_kept},
            {"GET", "/api/care/regimes", Takes::kNone, Role::kReader, regimes},
            {"POST", "/api/care/leach", Takes::kJson, Role::kReader, leach}};
}

}  // namespace footring::server

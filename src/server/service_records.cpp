// SPDX-License-Identifier: Apache-2.0
#include "server/service_records.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/json.h"
#include "exchange/json_text.h"
#include "exchange/letter.h"
#include "looks/resolve.h"
#include "naming/examine.h"
#include "services/services_json.h"

namespace footring::server {

using nlohmann::ordered_json;

std::expected<services::Service, Problems> service_of(const store::Record& record) {
    auto read = services::service_from_json(record.body, record.id);
    if (!read) return refuse(std::move(read.error()));
    read->id = record.id;
    return std::move(*read);
}

std::expected<services::Composition, Problems> composition_of(const store::Record& record) {
    auto read = services::composition_from_json(record.body, record.id, false);
    if (!read) return refuse(std::move(read.error()));
    read->id = record.id;
    if (read->name.empty()) read->name = record.id;
    return std::move(*read);
}

std::expected<std::vector<services::Composition>, Problems> own_compositions(const App& app) {
    const auto records = app.store->records(kCompositionKind);
    if (!records) return refuse(records.error());
    std::vector<services::Composition> out;
    for (const store::Record& record : *records) {
        auto one = composition_of(record);
        if (!one) return refuse(std::move(one.error()));
        out.push_back(std::move(*one));
    }
    return out;
}

ordered_json service_record_json(const App& app, const store::Record& record,
                                 const std::vector<services::Composition>& own) {
    ordered_json out;
    const auto service = service_of(record);
    Problems problems = service ? Problems{} : service.error();
    out["service"] = service ? services::to_json(*service) : ordered_json(record.body);
    out["treatments"] = ordered_json::array();
    out["composition"] = nullptr;
    out["places"] = 0;
    out["lines"] = ordered_json::array();
    out["notes"] = ordered_json::array();
    if (service) {
        const auto plan = services::plan({&*service, 1}, own, app.book, app.settings, "service");
        if (plan) {
            const services::PlannedService& planned = plan->services.front();
            out["treatments"] = json_list(
                planned.treatments, [&](auto treatment) { return services::treatment_json(app.book, treatment); });
            out["composition"] = services::to_json(planned.composition);
            out["places"] = services::places_of(planned.composition, planned.settings);
            out["lines"] = services::lines_json(app.book, planned);
            out["notes"] = plan->notes;
        } else {
            problems = plan.error();
        }
    }
    out["problems"] = json_list(problems, [](const Problem& p) { return exchange::problem_json(p); });
    out["created"] = record.created;
    out["changed"] = record.changed;
    out["revision"] = record.revision;
    return out;
}

ordered_json composition_record_json(const services::Composition& composition, const store::Record* kept) {
    return {{"composition", services::to_json(composition)},
            {"supplied", kept == nullptr},
            {"places", services::places_of(composition, composition.settings)},
            {"created", kept == nullptr ? "" : kept->created},
            {"changed", kept == nullptr ? "" : kept->changed},
            {"revision", kept == nullptr ? 0 : kept->revision}};
}

std::expected<services::Owned, Problems> owned_piece(App& app, const looks::Piece& piece,
                                                     const std::optional<store::Decision>& decision) {
    const auto findings = looks::resolve(piece, app.book, app.settings, piece.id.empty() ? "piece" : piece.id);
    if (!findings) return refuse(findings.error());
    const auto view = app.views.at(findings->form);
    if (!view) return refuse(view.error());
    const auto answer = naming::examine(**view, *findings, {.reasons = false, .next = false, .conflicts = false});
    services::Odds odds = services::odds_of(answer);
    if (decision && !decision->treatment.empty()) {
        // A treatment that no open pack has is none that a service could ask for here.
        const auto treatment = book::find<book::Treatment>(app.book, decision->treatment, piece.id);
        odds =
            services::decided_odds(treatment ? std::optional(*treatment) : std::nullopt, decision->grade, answer);
    }
    return services::owned(piece.id, piece, *findings, std::move(odds));
}

std::expected<std::vector<services::Owned>, Problems> owned_pieces(App& app) {
    const auto records = exchange::own_pieces(*app.store);
    if (!records) return refuse(records.error());
    std::vector<services::Owned> out;
    for (const store::PieceRecord& record : *records) {
        auto one = owned_piece(app, record.piece, record.decision);
        if (one) {
            out.push_back(std::move(*one));
            continue;
        }
        // Ids that the open packs do not have: the piece is there, and stands nowhere.
        services::Owned bare;
        bare.id = record.piece.id;
        out.push_back(std::move(bare));
    }
    return out;
}

}  // namespace footring::server

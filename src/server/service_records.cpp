// SPDX-License-Identifier: Apache-2.0
#include "server/service_records.h"

#include "base/json.h"
#include "exchange/json_text.h"
#include "services/services_json.h"

namespace footring::server {

using nlohmann::ordered_json;

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

}  // namespace footring::server

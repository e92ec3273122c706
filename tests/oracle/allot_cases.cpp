// Random services and pieces, allotted; each case as a line of JSON with what every piece may do, for
// tests/oracle/services_oracle.mjs, which builds a program of its own and solves it with another solver.
//   usage: allot_cases COUNT SEED
// SPDX-License-Identifier: Apache-2.0
#include <cstdio>
#include <iostream>
#include <nlohmann/json.hpp>

#include "services/test_services.h"

int main(int count, char** words) {
    using namespace footring;
    using namespace footring::services;
    using namespace footring::services::testing;
    if (count != 3) {
        std::fprintf(stderr, "usage: allot_cases COUNT SEED\n");
        return 2;
    }
    std::mt19937 random(static_cast<unsigned>(std::stoul(words[2])));
    const book::Book book = small_book();
    const Prices prices({{{}, Ref<Form>{0}, 7.5}, {Ref<Treatment>{1}, {}, 4}, {{}, {}, 3}});
    for (int n = 0; n < std::stoi(words[1]); ++n) {
        const Case one = random_case(random, 60);
        const Plan plan = planned(one.services, book);
        const Fitting fitting(book, plan, one.pieces, {});
        AllotOptions options;
        options.objective = static_cast<Objective>(n % 4);
        options.prices = prices;
        if (options.objective == Objective::kPurchase && random() % 4 != 0) options.budget = random() % 60;
        const Allotment got = allotted(fitting, options);
        nlohmann::json out{{"objective", kObjectiveNames[static_cast<std::size_t>(options.objective)]},
                           {"budget", nullptr},
                           {"proved", got.proved()},
                           {"services", nlohmann::json::array()},
                           {"pieces", nlohmann::json::array()},
                           {"goals", nlohmann::json::array()}};
        if (options.budget) out["budget"] = *options.budget;
        for (std::uint32_t s = 0; s < plan.services.size(); ++s) {
            const PlannedService& service = plan.services[s];
            nlohmann::json lines = nlohmann::json::array();
            for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
                const auto offered = offer(fitting, prices, s, l);
                lines.push_back(
                    {{"in_setting", service.lines[l].in_setting},
                     {"count", service.lines[l].count},
                     {"places", service.lines[l].places},
                     {"price", offered ? nlohmann::json(offered->cost.amount) : nlohmann::json(nullptr)},
                     {"offers", nlohmann::json::array()}});
                for (const Offer& each : offers(fitting, prices, s, l))
                    lines.back()["offers"].push_back({each.size, each.cost.amount});
            }
            out["services"].push_back(
                {{"settings", service.settings}, {"weight", service.given.weight}, {"lines", lines}});
            if (service.given.setting_value) out["services"].back()["setting_value"] = *service.given.setting_value;
        }
        for (std::size_t i = 0; i < one.pieces.size(); ++i) {
            nlohmann::json fits = nlohmann::json::array();
            for (const Fit& fit : fitting.of(i)) fits.push_back({fit.service, fit.line, fit.size});
            out["pieces"].push_back(fits);
        }
        for (const Reached& goal : got.goals) out["goals"].push_back({{"goal", goal.goal}, {"value", goal.value}});
        std::cout << out.dump() << "\n";
    }
    return 0;
}

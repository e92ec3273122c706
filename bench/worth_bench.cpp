// Fits the model of prices to generated sales: the load of a dealer's 100,000 records, and 1,500 for the peer.
//   usage: worth_bench FOLDER    writes FOLDER/sales.json for worth_peer.py, prints {"large", "small", "answer_ms"}
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <ctime>
#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "worth/estimate.h"
#include "worth/test_sales.h"

namespace {

using namespace footring::worth;

double seconds(const std::function<void()>& work) {
    const std::clock_t begin = std::clock();  // processor time: other programs on the machine do not lengthen it
    work();
    return static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC;
}

nlohmann::json for_peer(const testing::Made& made, const Things& things) {
    nlohmann::json out;
    std::map<std::string, std::map<std::string, int>> levels;
    for (const Sale& sale : made.sales) {
        if (sale.treatment.empty()) continue;
        const Thing thing = things.of(sale);
        out["y"].push_back(std::log(sale.price));
        const std::pair<const char*, std::string> factors[] = {{"form", thing.form},
                                                               {"shape", thing.shape},
                                                               {"decoration", thing.decoration},
                                                               {"treatment", thing.treatment}};
        for (const auto& [name, key] : factors)
            out["factors"][name].push_back(levels[name].try_emplace(key, levels[name].size()).first->second);
    }
    return out;
}

}  // namespace

int main(int, char** arguments) {
    nlohmann::json out;
    testing::Market market;
    market.sales = 1500;
    {
        const testing::Made made = testing::make(market, 1);
        const Things things(made.book);
        out["small"] = seconds([&] { static_cast<void>(Prices::fit(made.sales, things, "2026-03-01")); });
        std::ofstream(std::string(arguments[1]) + "/sales.json") << for_peer(made, things);
    }
    market.sales = 100'000;
    market.treatments = 3000;
    market.decorations = 300;
    market.forms = 40;
    market.shapes = 80;
    const testing::Made made = testing::make(market, 2);
    const Things things(made.book);
    std::shared_ptr<const Prices> prices;
    out["large"] = seconds([&] { prices = *Prices::fit(made.sales, things, "2026-03-01"); });
    out["rounds"] = prices->model().rounds;
    out["answer_ms"] =
        1000 * seconds([&] {
            static_cast<void>(estimate(*prices, things,
                                       identities_of(things,
                                                     {footring::book::Ref<footring::book::Form>{1},
                                                      footring::book::Ref<footring::book::Treatment>{1},
                                                      {}},
                                                     {}),
                                       2025));
        });
    fmt::print("{}\n", out.dump());
}

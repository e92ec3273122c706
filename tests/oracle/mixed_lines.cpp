// Fits mixed models that it reads, one JSON object a line: {"y": [...], "x": [[...], ...], "factors": [[level,
// ...], ...]} (x and factors by column). Answers one line each: {"beta", "sd", "noise", "effects"}. Used by
// mixed_oracle.py. SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <iostream>
#include <nlohmann/json.hpp>
#include <string>

#include "worth/mixed_model.h"

int main() {
    using namespace footring::worth;
    for (std::string line; std::getline(std::cin, line);) {
        const auto in = nlohmann::json::parse(line);
        MixedData data;
        data.y = in["y"].get<std::vector<double>>();
        data.x = in["x"].get<std::vector<std::vector<double>>>();
        for (const auto& levels : in["factors"]) {
            Factor factor{"", 0, levels.get<std::vector<int>>()};
            factor.levels = *std::ranges::max_element(factor.level_of) + 1;
            data.factors.push_back(std::move(factor));
        }
        MixedOptions options;
        options.tolerance = 1e-9;
        options.most_rounds = 2000;
        const auto fit = fit_mixed(data, options);
        nlohmann::json out;
        if (!fit) {
            out["problem"] = fit.error().what;
        } else {
            out["sd"] = fit->sd;
            out["noise"] = fit->noise_sd;
            for (std::size_t c = 0; c < data.x.size(); ++c) out["beta"].push_back(fit->coefficient(c));
            for (std::size_t k = 0; k < data.factors.size(); ++k) {
                auto effects = nlohmann::json::array();
                for (int l = 0; l < data.factors[k].levels; ++l) effects.push_back(fit->effect(k, l));
                out["effects"].push_back(effects);
            }
        }
        std::cout << out.dump() << '\n';
    }
}

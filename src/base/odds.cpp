// SPDX-License-Identifier: Apache-2.0
#include "base/odds.h"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

namespace footring {

std::string odds_in_words(double share) {
    struct Step {
        double from;
        std::string_view words;
    };
    static constexpr Step kSteps[] = {{0.99, "all but certain"}, {0.9, "very likely"},   {0.7, "likely"},
                                      {0.55, "rather likely"},   {0.45, "about even"},   {0.3, "less than even"},
                                      {0.1, "unlikely"},         {0.01, "very unlikely"}};
    for (const Step& step : kSteps)
        if (share >= step.from) return std::string(step.words);
    return "all but ruled out";
}

std::string odds_in_figures(double share) {
    const double whole = std::round(100 * share);
    if (whole >= 100) return "over 99 in 100";
    if (whole <= 0) return "under 1 in 100";
    return fmt::format("{:.0f} in 100", whole);
}

}  // namespace footring

// SPDX-License-Identifier: Apache-2.0
#include "naming/date_answer.h"

#include <numeric>

#include "edtf/edtf.h"

namespace footring::naming {

namespace {

// The shortest run of years that holds `mass`; of equally short ones the likeliest, then the earliest.
std::pair<std::size_t, std::size_t> shortest_run(const std::vector<double>& by_year, double mass) {
    constexpr double kRounding = 1e-12;  // sums of shares may fall short of 1 by this much
    std::pair<std::size_t, std::size_t> best{0, by_year.size() - 1};
    double best_held = 0, held = 0;
    std::size_t first = 0;
    for (std::size_t last = 0; last < by_year.size(); ++last) {
        held += by_year[last];
        while (first < last && held - by_year[first] >= mass - kRounding) held -= by_year[first++];
        if (held < mass - kRounding) continue;
        const std::size_t length = last - first, best_length = best.second - best.first;
        if (length < best_length || (length == best_length && held > best_held + kRounding)) {
            best = {first, last};
            best_held = held;
        }
    }
    return best;
}

}  // namespace

DateAnswer date_answer(std::vector<double> by_year, int first_year) {
    DateAnswer answer;
    answer.first_year = first_year;
    double below = 0;
    std::size_t median = 0;
    while (median + 1 < by_year.size() && (below += by_year[median]) < 0.5 - 1e-12) ++median;
    const auto year = [&](std::size_t i) { return first_year + static_cast<int>(i); };
    const auto run68 = shortest_run(by_year, 0.68), run95 = shortest_run(by_year, 0.95);
    answer.median = year(median);
    answer.hpd68 = {year(run68.first), year(run68.second)};
    answer.hpd95 = {year(run95.first), year(run95.second)};
    answer.edtf = edtf::from_years(answer.hpd95.first, answer.hpd95.second);
    answer.by_year = std::move(by_year);
    return answer;
}

}  // namespace footring::naming

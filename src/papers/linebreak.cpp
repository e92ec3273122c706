// SPDX-License-Identifier: Apache-2.0
#include "papers/linebreak.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace footring::papers {

namespace {

constexpr double kStretch = 0.5, kShrink = 0.28;  // of a space, at a ratio of 1
constexpr double kHyphenPenalty = 60;             // one hyphen is as bad as spaces stretched by a little over half
constexpr double kRaggedHyphenPenalty = 700;      // a ragged line may as well be short
constexpr double kTwoHyphens = 9000;              // one under the other
constexpr double kOverfull = 1e10;                // a line that sticks out, per pt: worse than any loose one
constexpr double kLoose = 4;                      // ratio beyond which a line is only longed away from

// Demerits of the line from after place `from` (-1: the start) to place `to`.
double line_cost(const std::vector<BreakPlace>& places, const Measure& measure, std::ptrdiff_t from,
                 std::size_t to) {
    const BreakPlace& end = places[to];
    const double start = from < 0 ? 0 : places[static_cast<std::size_t>(from)].next;
    const bool after_hyphen = from >= 0 && places[static_cast<std::size_t>(from)].hyphen;
    const bool last = to + 1 == places.size();
    // The space at which the line before ended has gone with it.
    int spaces = end.spaces;
    if (from >= 0) {
        const BreakPlace& before = places[static_cast<std::size_t>(from)];
        spaces -= before.spaces + (before.next > before.end ? 1 : 0);
    }
    const double natural = end.end - start + (end.hyphen ? measure.hyphen : 0);
    const double slack = measure.width - natural;
    double badness = 0, extra = 0;
    if (measure.justified && !last) {
        const double give = (slack >= 0 ? kStretch : kShrink) * measure.space * std::max(spaces, 0);
        const double ratio = give > 0 ? slack / give : (std::abs(slack) < 0.01 ? 0 : slack > 0 ? 10 : -10);
        if (ratio < -1) extra = kOverfull * (1 - slack);
        badness = 100 * std::pow(std::min(std::abs(ratio), kLoose * 2), 3);
    } else if (slack < -0.01) {
        // The last line of justified text may shrink as others do.
        const double give = measure.justified ? kShrink * measure.space * std::max(spaces, 0) : 0;
        if (-slack > give) extra = kOverfull * (1 - slack);
    } else if (!last) {
        badness = 300 * std::pow(slack / measure.width, 2);
    }
    const double penalty = end.hyphen ? (measure.justified ? kHyphenPenalty : kRaggedHyphenPenalty) : 0;
    double cost = (1 + badness) * (1 + badness) + penalty * penalty + extra;
    if (end.hyphen && after_hyphen) cost += kTwoHyphens;
    if (last && after_hyphen) cost += kTwoHyphens;  // half a word at the end, hardly more
    return cost;
}

}  // namespace

double demerits(const std::vector<BreakPlace>& places, const Measure& measure,
                const std::vector<std::size_t>& taken) {
    double sum = 0;
    std::ptrdiff_t from = -1;
    for (const std::size_t to : taken) {
        sum += line_cost(places, measure, from, to);
        from = static_cast<std::ptrdiff_t>(to);
    }
    return sum;
}

std::vector<std::size_t> break_lines(const std::vector<BreakPlace>& places, const Measure& measure) {
    const std::size_t n = places.size();
    if (n == 0) return {};
    std::vector<double> least(n, std::numeric_limits<double>::infinity());
    std::vector<std::ptrdiff_t> before(n, -1);
    for (std::size_t to = 0; to < n; ++to)
        for (auto from = static_cast<std::ptrdiff_t>(to) - 1; from >= -1; --from) {
            const double so_far = from < 0 ? 0 : least[static_cast<std::size_t>(from)];
            const double sum = so_far + line_cost(places, measure, from, to);
            if (sum < least[to]) least[to] = sum, before[to] = from;
            // Lines that begin earlier still are longer: once far too long, no better one follows.
            const double start = from < 0 ? 0 : places[static_cast<std::size_t>(from)].next;
            if (places[to].end - start > 2 * measure.width && before[to] >= 0) break;
        }
    std::vector<std::size_t> taken;
    for (auto at = static_cast<std::ptrdiff_t>(n) - 1; at >= 0; at = before[static_cast<std::size_t>(at)])
        taken.push_back(static_cast<std::size_t>(at));
    std::ranges::reverse(taken);
    return taken;
}

}  // namespace footring::papers

// SPDX-License-Identifier: Apache-2.0
#include "papers/showing_order.h"

#include <algorithm>
#include <limits>

namespace footring::papers {

namespace {

double step(const Showpiece& from, const Showpiece& to) {
    return (to.year < from.year ? kBack * (from.year - to.year) : 0) + (from.shape != to.shape ? kShape : 0) +
           (from.form != to.form ? kForm : 0) + (from.glaze != to.glaze ? kGlaze : 0);
}

// Held and Karp: the cheapest way through each set of pieces that ends with each of its members.
std::vector<std::size_t> cheapest(const std::vector<Showpiece>& pieces) {
    const std::size_t n = pieces.size(), sets = std::size_t{1} << n;
    std::vector<double> cost(sets * n, std::numeric_limits<double>::infinity());
    std::vector<std::uint8_t> before(sets * n, 0);
    for (std::size_t last = 0; last < n; ++last) cost[(std::size_t{1} << last) * n + last] = 0;
    for (std::size_t set = 1; set < sets; ++set)
        for (std::size_t last = 0; last < n; ++last) {
            const double so_far = cost[set * n + last];
            if ((set >> last & 1) == 0 || so_far == std::numeric_limits<double>::infinity()) continue;
            for (std::size_t next = 0; next < n; ++next) {
                if ((set >> next & 1) != 0) continue;
                const std::size_t with = set | std::size_t{1} << next;
                const double sum = so_far + step(pieces[last], pieces[next]);
                if (sum < cost[with * n + next])
                    cost[with * n + next] = sum, before[with * n + next] = static_cast<std::uint8_t>(last);
            }
        }
    std::size_t set = sets - 1, last = 0;
    for (std::size_t i = 1; i < n; ++i)
        if (cost[set * n + i] < cost[set * n + last]) last = i;
    std::vector<std::size_t> order;
    while (set != 0) {
        order.push_back(last);
        const std::size_t from = before[set * n + last];
        set ^= std::size_t{1} << last;
        last = from;
    }
    std::ranges::reverse(order);
    return order;
}

}  // namespace

double showing_cost(const std::vector<Showpiece>& pieces, const std::vector<std::size_t>& order) {
    double sum = 0;
    for (std::size_t i = 1; i < order.size(); ++i) sum += step(pieces[order[i - 1]], pieces[order[i]]);
    return sum;
}

std::vector<std::size_t> showing_order(const std::vector<Showpiece>& pieces) {
    if (pieces.empty()) return {};
    if (pieces.size() <= kMostExact) return cheapest(pieces);
    std::vector<std::size_t> order, left;
    for (std::size_t i = 0; i < pieces.size(); ++i) left.push_back(i);
    const auto begin = std::ranges::min_element(left, {}, [&](std::size_t i) { return pieces[i].year; });
    order.push_back(*begin);
    left.erase(begin);
    while (!left.empty()) {
        // A long leap forwards would leave earlier pieces behind that cost a step back later.
        const auto next = std::ranges::min_element(left, {}, [&](std::size_t i) {
            double passed_over = 0;
            for (const std::size_t other : left) passed_over += std::max(0.0, pieces[i].year - pieces[other].year);
            return step(pieces[order.back()], pieces[i]) + kBack * passed_over / static_cast<double>(left.size());
        });
        order.push_back(*next);
        left.erase(next);
    }
    return order;
}

}  // namespace footring::papers

// SPDX-License-Identifier: Apache-2.0
#include "worth/holdings.h"

#include <algorithm>
#include <cmath>

#include "worth/chance.h"

namespace footring::worth {

namespace {

constexpr int kMostYears = 60;

// For each draw, the price of one holding at `year`, noise and identity drawn.
std::vector<double> prices_of(const Prices& prices, const Holding& holding, double year, std::uint64_t seed) {
    std::vector<double> up_to;
    std::vector<Bearing> bearings;
    double sum = 0;
    for (Identity identity : holding.identities) {
        if (identity.thing.market == Market::kUnsaid) identity.thing.market = prices.usual_market();
        bearings.push_back(prices.bearing(identity.thing, year));
        up_to.push_back(sum += identity.probability);
    }
    Chance chance(seed);
    std::vector<double> out;
    for (std::size_t s = 0; s < prices.draws(); ++s) {
        const double u = chance.uniform() * sum;
        const auto found = std::ranges::lower_bound(up_to, u);
        const auto which = std::min(static_cast<std::size_t>(found - up_to.begin()), bearings.size() - 1);
        out.push_back(std::exp(prices.draw(bearings[which], s) + prices.model().noise_sd * chance.normal()));
    }
    return out;
}

}  // namespace

std::vector<HoldingsPoint> over_time(const Prices& prices, const std::vector<Holding>& holdings, double now) {
    std::vector<HoldingsPoint> points;
    if (holdings.empty()) return points;
    std::vector<const Holding*> order;
    for (const Holding& holding : holdings) order.push_back(&holding);
    std::ranges::stable_sort(order, {}, [](const Holding* h) { return h->since; });
    const int first = std::max(static_cast<int>(std::floor(order.front()->since)),
                               static_cast<int>(std::floor(now)) - kMostYears);
    for (int year = first; year < static_cast<int>(std::floor(now)); ++year)
        points.push_back({year + 0.99, 0, 0, 0, {}});
    points.push_back({now, 0, 0, 0, {}});

    // A year moves all prices of a draw alike: it is told apart from the things.
    const Bearing here = prices.bearing({}, now);
    std::vector<double> sum(prices.draws(), 0);
    HoldingsPoint so_far;
    std::size_t next = 0;
    for (HoldingsPoint& point : points) {
        while (next < order.size() && (order[next]->since <= point.year || &point == &points.back())) {
            const Holding& holding = *order[next];
            const auto each = prices_of(prices, holding, now, next + 1);
            for (std::size_t s = 0; s < sum.size(); ++s) sum[s] += each[s];
            ++so_far.pieces;
            if (holding.cost) so_far.cost += *holding.cost, ++so_far.costed;
            ++next;
        }
        point.pieces = so_far.pieces;
        point.costed = so_far.costed;
        point.cost = so_far.cost;
        if (point.pieces == 0) continue;
        const Bearing then = prices.bearing({}, point.year);
        std::vector<double> worth;
        for (std::size_t s = 0; s < sum.size(); ++s)
            worth.push_back(sum[s] * std::exp(prices.draw(then, s) - prices.draw(here, s)));
        point.worth = interval_of(worth);
    }
    return points;
}

Interval total(const Prices& prices, const std::vector<Holding>& holdings, double year) {
    std::vector<double> sum(prices.draws(), 0);
    std::uint64_t seed = 0;
    for (const Holding& holding : holdings) {
        const auto each = prices_of(prices, holding, year, ++seed);
        for (std::size_t s = 0; s < sum.size(); ++s) sum[s] += each[s];
    }
    return interval_of(sum);
}

}  // namespace footring::worth

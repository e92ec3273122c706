// SPDX-License-Identifier: Apache-2.0
#include "worth/haul.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "worth/chance.h"

namespace footring::worth {

namespace {

constexpr std::size_t kCurveSteps = 24, kBins = 24;

AtBid judge(double bid, const std::vector<double>& income, const HaulCosts& costs) {
    AtBid out;
    out.bid = bid;
    out.outlay = bid * (1 + costs.premium) * (1 + costs.tax) + costs.carriage;
    std::vector<double> gain;
    gain.reserve(income.size());
    const double each = 1.0 / static_cast<double>(income.size());
    for (const double x : income) {
        gain.push_back(x - out.outlay);
        out.loss_chance += x < out.outlay ? each : 0;
        out.margin_chance += x >= (1 + costs.margin) * out.outlay ? each : 0;
        out.mean_gain += gain.back() * each;
    }
    out.gain = interval_of(gain);
    return out;
}

// Equal steps of the logarithm between the outermost hundredths; what is beyond goes to the outer bins. The first
// begins at the least, else it would stand out as if small sums were likelier than those above them.
std::vector<Bin> density(const std::vector<double>& sorted) {
    const auto at = [&](double share) {
        return sorted[static_cast<std::size_t>(share * static_cast<double>(sorted.size() - 1))];
    };
    const double low = std::log(std::max(at(0.01), 1e-9)),
                 high = std::max(std::log(std::max(at(0.99), 1e-9)), low + 1e-6);
    std::vector<Bin> out;
    for (std::size_t b = 0; b < kBins; ++b) {
        const auto edge = [&](std::size_t k) {
            return std::exp(low + (high - low) * static_cast<double>(k) / static_cast<double>(kBins));
        };
        out.push_back({edge(b), edge(b + 1), 0});
    }
    for (const double x : sorted) {
        const double place = (std::log(std::max(x, 1e-9)) - low) / (high - low) * static_cast<double>(kBins);
        const auto b = static_cast<std::size_t>(std::clamp(place, 0.0, static_cast<double>(kBins - 1)));
        out[b].share += 1.0 / static_cast<double>(sorted.size());
    }
    out.front().from = std::min(out.front().from, sorted.front());
    return out;
}

}  // namespace

HaulAnswer haul(const Prices& prices, const std::vector<HaulPiece>& pieces, const HaulCosts& costs, double year,
                std::uint64_t seed) {
    HaulAnswer out;
    // The middles of every identity in every draw of the posterior, once.
    struct Kind {
        double up_to;  // cumulative probability
        std::vector<double> middles;
    };
    std::vector<std::vector<Kind>> kinds;
    const std::size_t draws = prices.draws();
    for (const HaulPiece& piece : pieces) {
        out.pieces += piece.count;
        auto& list = kinds.emplace_back();
        std::vector<Weighted> mixture;
        double sum = 0;
        for (Identity identity : piece.identities) {
            if (identity.thing.market == Market::kUnsaid) identity.thing.market = prices.usual_market();
            const Bearing bearing = prices.bearing(identity.thing, year);
            mixture.push_back({identity.probability, prices.outlook(bearing)});
            sum += identity.probability;
            Kind kind{sum, {}};
            for (std::size_t s = 0; s < draws; ++s) kind.middles.push_back(prices.draw(bearing, s));
            list.push_back(std::move(kind));
        }
        for (Kind& kind : list) kind.up_to /= sum;
        HaulShare share;
        share.worth = interval(mixture);
        share.mean = mean(mixture) * piece.count;
        out.shares.push_back(share);
    }
    Chance chance(seed);
    const double noise = prices.model().noise_sd;
    std::vector<double> worth, income;
    for (std::size_t i = 0; i < kHaulDraws; ++i) {
        double sum = 0;
        for (std::size_t p = 0; p < pieces.size(); ++p) {
            // Like pieces of one entry are the same thing: what it is is drawn once, the noise of each sale apart.
            const double u = chance.uniform();
            const auto kind = std::ranges::find_if(kinds[p], [u](const Kind& k) { return u <= k.up_to; });
            const Kind& is = kind == kinds[p].end() ? kinds[p].back() : *kind;
            const double middle = is.middles[i % draws];
            for (int c = 0; c < pieces[p].count; ++c) sum += std::exp(middle + noise * chance.normal());
        }
        worth.push_back(sum);
        income.push_back(sum * (1 - costs.selling) - costs.selling_each * out.pieces);
    }
    out.mean = std::accumulate(worth.begin(), worth.end(), 0.0) / static_cast<double>(kHaulDraws);
    const double mean_income = std::accumulate(income.begin(), income.end(), 0.0) / static_cast<double>(kHaulDraws);
    out.worth = interval_of(worth);
    out.income = interval_of(income);
    const double charges = (1 + costs.premium) * (1 + costs.tax);
    const double top = (mean_income / (1 + costs.margin) - costs.carriage) / charges;
    if (top > 0) out.top_bid = top;
    if (costs.bid) out.at_bid = judge(*costs.bid, income, costs);
    else if (out.top_bid) out.at_bid = judge(*out.top_bid, income, costs);
    const double last = std::max((out.income.ninety[1] - costs.carriage) / charges, 1.0);
    for (std::size_t k = 0; k <= kCurveSteps; ++k)
        out.curve.push_back(judge(last * static_cast<double>(k) / static_cast<double>(kCurveSteps), income, costs));
    out.density = density(worth);
    double whole = 0;
    for (const HaulShare& share : out.shares) whole += share.mean;
    std::vector<double> weights;
    for (HaulShare& share : out.shares) {
        share.share = whole > 0 ? share.mean / whole : 0;
        weights.push_back(share.share);
    }
    if (out.at_bid) {
        const auto parts = share_out(out.at_bid->outlay, weights, 2);
        for (std::size_t p = 0; p < parts.size(); ++p) out.shares[p].cost_share = parts[p];
    }
    return out;
}

std::vector<double> share_out(double amount, const std::vector<double>& weights, int digits) {
    if (weights.empty()) return {};
    const double unit = std::pow(10.0, digits);
    const auto all = static_cast<std::int64_t>(std::llround(amount * unit));
    std::vector<double> shares = weights;
    for (double& share : shares) share = std::isfinite(share) && share > 0 ? share : 0;
    double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
    if (!(sum > 0)) {
        std::ranges::fill(shares, 1.0);
        sum = static_cast<double>(shares.size());
    }
    std::vector<std::int64_t> parts;
    std::vector<std::pair<double, std::size_t>> left;
    std::int64_t given = 0;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        const double exact = static_cast<double>(all) * shares[i] / sum;
        parts.push_back(static_cast<std::int64_t>(std::floor(exact)));
        given += parts.back();
        left.emplace_back(exact - std::floor(exact), i);
    }
    std::ranges::stable_sort(left, std::greater<>{}, [](const auto& one) { return one.first; });
    for (std::size_t k = 0; given < all && k < left.size(); ++k, ++given) ++parts[left[k].second];
    std::vector<double> out;
    for (const std::int64_t part : parts) out.push_back(static_cast<double>(part) / unit);
    return out;
}

}  // namespace footring::worth

// worth/haul.h - a haul: pieces that are sold together, as a box lot is. What they may bring, how high to bid, and
// how likely a loss is.
//   The worth is a sample of kHaulDraws lots. In each, what all prices have in common (the level of the market, of
//   a form, of a treatment) is drawn once from the posterior of the model, each piece is one of the things that it
//   may be, and its price has its own noise. So the pieces do not err independently, and the sum is as wide as it
//   should be. Mistaken records are taken as no buyers: noise is that of sound sales. outlay(bid) = bid * (1 +
//   premium) * (1 + tax) + carriage income      = worth * (1 - selling) - selling_each * pieces top bid     the bid
//   at which the mean income is (1 + margin) times the outlay loss        income below outlay Deterministic: the
//   same input gives the same bytes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "worth/estimate.h"

namespace footring::worth {

inline constexpr std::size_t kHaulDraws = 20'000;
inline constexpr int kMostHaulPieces = 2000;  // counts included

struct HaulCosts {              // shares, not percent
    double premium = 0;         // buyer's premium on the bid
    double tax = 0;             // on bid and premium
    double carriage = 0;        // for the whole lot
    double selling = 0;         // of each sale
    double selling_each = 0;    // for each piece: fees, packing
    double margin = 0.3;        // wished for, on the outlay
    std::optional<double> bid;  // to be judged; absent: the top bid
};
struct HaulPiece {
    std::string words;
    std::vector<Identity> identities;
    int count = 1;
};
struct AtBid {
    double bid = 0, outlay = 0;
    double loss_chance = 0;    // income below outlay
    double margin_chance = 0;  // income at least (1 + margin) times the outlay
    double mean_gain = 0;
    Interval gain;  // income - outlay; may be negative
};
struct HaulShare {
    Interval worth;         // of one such piece
    double mean = 0;        // of all `count`
    double share = 0;       // of the lot's mean worth
    double cost_share = 0;  // of the outlay
};
struct Bin {
    double from, to, share;
};
struct HaulAnswer {
    int pieces = 0;
    Interval worth, income;
    double mean = 0;
    std::optional<double> top_bid;  // absent: no bid leaves the margin
    std::optional<AtBid> at_bid;
    std::vector<AtBid> curve;  // bids from nothing to where a loss is nearly sure
    std::vector<Bin> density;
    std::vector<HaulShare> shares;  // by piece of the input
};
HaulAnswer haul(const Prices&, const std::vector<HaulPiece>&, const HaulCosts&, double year,
                std::uint64_t seed = 1);

// An amount shared out by weight in steps of 10^-digits, so that the parts sum to it exactly; what is left over
// goes to the largest remainders. Equal parts when no weight is over 0.
std::vector<double> share_out(double amount, const std::vector<double>& weights, int digits);

}  // namespace footring::worth

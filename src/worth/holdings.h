// worth/holdings.h - what all pieces that one has may bring together, now and year by year.
//   As in a haul (haul.h), the level of the market and of each kind is common to all pieces of one draw, what an
//   unidentified piece is is drawn, and each sale has its own noise. The sales of today speak of every year: the
//   worth of 2015 is what the model makes of 2015 now, not what was thought then.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "worth/estimate.h"

namespace footring::worth {

struct Holding {
    std::string id;
    std::vector<Identity> identities;
    double since = 0;            // year in which it came
    std::optional<double> cost;  // in the currency of the prices
};
struct HoldingsPoint {
    double year = 0;
    int pieces = 0, costed = 0;  // here by then; those of which the cost is known
    double cost = 0;
    std::optional<Interval> worth;  // absent: no piece yet
};
// A point for the end of each year from that of the first piece on, and one for `now`.
std::vector<HoldingsPoint> over_time(const Prices&, const std::vector<Holding>&, double now);
Interval total(const Prices&, const std::vector<Holding>&, double year);

}  // namespace footring::worth

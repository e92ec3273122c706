// worth/outlook.h - the price that a sale may bring, as a distribution.
//   The logarithm of the price is normal about `log_middle`; its variance is that of the middle (what the sales do
//   not settle) and that between like sales (`spread`^2). With chance junk_share a record is mistaken and spreads
//   junk_scale times as wide. An identity that is in doubt gives a mixture of such outlooks.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <vector>

namespace footring::worth {

struct Outlook {
    double log_middle = 0;       // natural logarithm of the price in the middle
    double middle_variance = 0;  // how far the middle itself is in doubt
    double spread = 0;           // standard deviation of the logarithm among like sales
    double junk_share = 0, junk_scale = 1;
};
struct Weighted {
    double weight;  // any positive scale
    Outlook outlook;
};
struct Interval {
    double median = 0;
    double fifty[2] = {0, 0}, ninety[2] = {0, 0};  // that hold 50 and 90 % of such sales
    friend bool operator==(const Interval&, const Interval&) = default;
};

// Chance that a sale brings at most `price`; 0 for prices up to 0.
double chance_up_to(std::span<const Weighted>, double price);
// The price that a share `share` (in (0, 1)) of sales does not pass. To a relative error of 1e-9.
double quantile(std::span<const Weighted>, double share);
Interval interval(std::span<const Weighted>);
Interval interval(const Outlook&);
// The mean of sound sales: mistaken records are no buyers. exp(m + v / 2) for each outlook.
double mean(std::span<const Weighted>);
// Median and the middle 50 and 90 % of a sample (linear between neighbours). `sample` is sorted by it.
Interval interval_of(std::vector<double>& sample);

}  // namespace footring::worth

// SPDX-License-Identifier: Apache-2.0
#include "worth/outlook.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace footring::worth {

namespace {

double normal_up_to(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double chance_up_to_log(std::span<const Weighted> all, double log_price) {
    double sum = 0, whole = 0;
    for (const auto& [weight, o] : all) {
        const double off = log_price - o.log_middle, like = o.spread * o.spread;
        const auto within = [&](double variance) {
            return variance > 0 ? normal_up_to(off / std::sqrt(variance)) : (off >= 0 ? 1.0 : 0.0);
        };
        sum += weight * ((1 - o.junk_share) * within(o.middle_variance + like) +
                         o.junk_share * within(o.middle_variance + like * o.junk_scale * o.junk_scale));
        whole += weight;
    }
    return whole > 0 ? sum / whole : 0;
}

}  // namespace

double chance_up_to(std::span<const Weighted> all, double price) {
    return price > 0 ? chance_up_to_log(all, std::log(price)) : 0;
}

double quantile(std::span<const Weighted> all, double share) {
    if (all.empty()) return 0;
    double low = std::numeric_limits<double>::infinity(), high = -low;
    for (const auto& [weight, o] : all) {
        const double reach = 40 * std::sqrt(o.middle_variance + o.spread * o.spread * o.junk_scale * o.junk_scale);
        low = std::min(low, o.log_middle - reach);
        high = std::max(high, o.log_middle + reach);
    }
    constexpr double kFine = 1e-10;
    while (high - low > kFine) {
        const double middle = (low + high) / 2;
        (chance_up_to_log(all, middle) < share ? low : high) = middle;
    }
    return std::exp((low + high) / 2);
}

Interval interval(std::span<const Weighted> all) {
    return {
        quantile(all, 0.5), {quantile(all, 0.25), quantile(all, 0.75)}, {quantile(all, 0.05), quantile(all, 0.95)}};
}

Interval interval(const Outlook& outlook) {
    const Weighted one{1, outlook};
    return interval(std::span(&one, 1));
}

double mean(std::span<const Weighted> all) {
    double sum = 0, whole = 0;
    for (const auto& [weight, o] : all) {
        sum += weight * std::exp(o.log_middle + (o.middle_variance + o.spread * o.spread) / 2);
        whole += weight;
    }
    return whole > 0 ? sum / whole : 0;
}

Interval interval_of(std::vector<double>& sample) {
    if (sample.empty()) return {};
    std::ranges::sort(sample);
    const auto at = [&](double share) {
        const double place = share * static_cast<double>(sample.size() - 1);
        const auto below = static_cast<std::size_t>(place);
        const std::size_t above = std::min(below + 1, sample.size() - 1);
        return sample[below] + (place - static_cast<double>(below)) * (sample[above] - sample[below]);
    };
    return {at(0.5), {at(0.25), at(0.75)}, {at(0.05), at(0.95)}};
}

}  // namespace footring::worth

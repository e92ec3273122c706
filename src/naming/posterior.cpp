// SPDX-License-Identifier: Apache-2.0
#include "naming/posterior.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace footring::naming {

namespace {
double minus_p_log2_p(double p) { return p > 0 ? -p * std::log2(p) : 0; }
}  // namespace

std::vector<double> joint(std::span<const double> prior, std::span<const Factor> factors) {
    std::vector<double> mass(prior.begin(), prior.end());
    constexpr std::size_t kBlock = 2048;  // rows that stay in the nearest cache while every factor passes over them
    for (std::size_t begin = 0; begin < mass.size(); begin += kBlock) {
        const std::size_t end = std::min(mass.size(), begin + kBlock);
        for (const Factor& factor : factors) {
            const double* by_class = factor.by_class.data();
            const std::uint32_t* class_of_row = factor.class_of_row.data();
            for (std::size_t r = begin; r < end; ++r) mass[r] *= by_class[class_of_row[r]];
        }
    }
    return mass;
}

double normalise(std::span<double> mass) {
    const double total = std::accumulate(mass.begin(), mass.end(), 0.0);
    if (total > 0)
        for (double& m : mass) m /= total;
    return total;
}

std::vector<double> posterior(std::span<const double> prior, std::span<const Factor> factors) {
    std::vector<double> mass = joint(prior, factors);
    normalise(mass);
    return mass;
}

double entropy_bits(std::span<const double> probabilities) {
    double bits = 0;
    for (const double p : probabilities) bits += minus_p_log2_p(p);
    return bits;
}

double information_bits(std::span<const double> hypotheses, const std::vector<std::vector<double>>& given) {
    std::vector<double> rest(hypotheses.size(), 1.0);
    double bits = 0, all_rest = 0;
    const auto add_outcome = [&](const std::vector<double>& likelihood) {
        double outcome = 0, conditional = 0;
        for (std::size_t h = 0; h < hypotheses.size(); ++h) {
            outcome += hypotheses[h] * likelihood[h];
            conditional += hypotheses[h] * minus_p_log2_p(likelihood[h]);
        }
        bits += minus_p_log2_p(outcome) - conditional;
    };
    for (const auto& likelihood : given) {
        add_outcome(likelihood);
        for (std::size_t h = 0; h < rest.size(); ++h) rest[h] -= likelihood[h];
    }
    for (std::size_t h = 0; h < rest.size(); ++h) {
        rest[h] = std::max(0.0, rest[h]);
        all_rest += hypotheses[h] * rest[h];
    }
    if (all_rest > 1e-12) add_outcome(rest);
    return std::max(0.0, bits);
}

}  // namespace footring::naming

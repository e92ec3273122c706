// naming/posterior.h - Bayes by enumeration, and information in bits. The arithmetic under everything in this room.
//   Probabilities are plain doubles: at most some twenty factors of at least 1e-9 each, so no logarithms are
//   needed.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace footring::naming {

// The likelihood of one look. Rows that share a class share a number: P(look | class_of_row[r]). Both are looked
// at, not kept.
struct Factor {
    std::span<const double> by_class;
    std::span<const std::uint32_t> class_of_row;  // one entry a row
};

// prior[r] * product of the factors, not normalised.
std::vector<double> joint(std::span<const double> prior, std::span<const Factor> factors);

// Scales to sum 1 and returns the sum before. All zero stays all zero.
double normalise(std::span<double> mass);

// joint(), normalised.
std::vector<double> posterior(std::span<const double> prior, std::span<const Factor> factors);

double entropy_bits(std::span<const double> probabilities);

// Mutual information in bits of hypothesis and outcome. given[o][h] is P(outcome o | hypothesis h); what is missing
// to 1 in a column counts as one further outcome, so that the outcomes of every hypothesis are complete.
double information_bits(std::span<const double> hypotheses, const std::vector<std::vector<double>>& given);

}  // namespace footring::naming

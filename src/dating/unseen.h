// dating/unseen.h - how many there are beyond those that were seen.
//   Three questions, each with its own assumptions, which its answer states in words:
//   - the highest number of a sequence, from the numbers that are recorded (maximum_number);
//   - how many kinds there are, from how often each was seen (chao1, ace) or in how many finds (chao2, jackknife
//   ...);
//   - how many kinds so many more sightings would show (discovery).
//   Intervals: `interval` is the setting unseen_interval (0.95). No I/O, no random numbers.
//   source  each estimator names its own in docs/dating.md
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/problem.h"
#include "base/settings.h"

namespace footring::dating {

// ---- the highest number

struct MaximumNumber {
    std::size_t count = 0;                      // numbers seen, each once
    std::int64_t highest = 0;                   // of them
    double unbiased = 0;                        // m + m/k - 1
    std::optional<double> mean;                 // posterior under a flat prior; needs 3 numbers
    std::optional<double> sd;                   // needs 4
    std::optional<std::int64_t> median, upper;  // least N with P(maximum <= N) >= 1/2, >= interval; needs 2
};
// `numbers` are different and > `before_first`; counting begins behind it (0: with 1). At least one.
MaximumNumber maximum_number(std::span<const std::int64_t> numbers, std::int64_t before_first, double interval);

struct NumberRun {
    std::int64_t first, last;  // both included
    friend bool operator==(const NumberRun&, const NumberRun&) = default;
};
// What is missing between the lowest and the highest.
std::vector<NumberRun> missing_numbers(std::vector<std::int64_t> numbers);

// Where a gap is too wide for chance, what follows is of another sequence: a customer's own numbers, another
// system.
inline constexpr double kGapByChance = 0.001;  // a gap that even numbers would leave more seldom than this
// The chance that the widest gap between `numbers` evenly drawn ones, the lowest and the highest given, is `share`
// of the whole or more; above 1/2 exactly, below at most.
double chance_of_gap(std::size_t numbers, double share);
// Runs of numbers, ascending, split at every such gap. `numbers` ascend, each once.
std::vector<std::vector<std::int64_t>> without_wide_gaps(const std::vector<std::int64_t>& numbers);

// ---- how many kinds

struct Richness {
    std::string estimator;  // chao1, ace, chao2, jackknife1, jackknife2, bootstrap
    double value = 0;
    std::optional<double> standard_error;
    std::optional<std::pair<double, double>> interval;  // never below what was seen
    std::string assumes;                                // in words
};

// How often each kind was seen.
struct Abundance {
    std::map<int, int> kinds_seen;  // times -> kinds seen so often
    int kinds() const;
    int sightings() const;
    int seen(int times) const;
};
Abundance abundance(std::span<const int> times);  // of each kind; zeros are passed over

// In which finds (lots, lists, cupboards) each kind was seen: one row a find, its kinds ascending.
struct Finds {
    std::vector<std::vector<int>> kinds;
    std::map<int, int> kinds_in() const;  // finds -> kinds seen in so many
};

Richness chao1(const Abundance&, double interval);  // bias-corrected
std::optional<Richness> ace(const Abundance&, int rare,
                            double interval);  // absent when every rare kind was seen once
Richness chao2(const std::map<int, int>& kinds_in, int finds, double interval);
double jackknife1(const std::map<int, int>& kinds_in, int finds);
double jackknife2(const std::map<int, int>& kinds_in, int finds);
double bootstrap(const std::map<int, int>& kinds_in, int finds);
// The three with what needs the finds themselves: standard errors of the first-order jackknife and the bootstrap.
std::vector<Richness> resampled(const Finds&, double interval);

// ---- the curve of discovery

struct Discovered {
    int sightings;
    double kinds;  // expected
};
// From 0 to twice the sightings, in `steps` steps (at least 2): within what was seen exactly, beyond it by what
// Chao1 leaves unseen.
std::vector<Discovered> discovery(const Abundance&, int steps);
double rarefied(const Abundance&, int sightings);       // expected kinds among so many of the sightings
double extrapolated(const Abundance&, int additional);  // and after so many more

// z with P(|Z| <= z) = interval for a normal Z.
double normal_reach(double interval);

}  // namespace footring::dating

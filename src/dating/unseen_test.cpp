// SPDX-License-Identifier: Apache-2.0
#include "dating/unseen.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <random>
#include <set>

#include "base/text.h"
#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;

TEST(MaximumNumber, GivesThePublishedExamples) {
    int seen = 0;
    for (const FactRow& row : facts("german_tank.csv")) {
        const auto k = std::stoul(row.at("k_sample_size"));
        const auto m = std::stoll(row.at("m_largest_serial"));
        std::vector<std::int64_t> numbers;  // any k different ones whose largest is m: nothing else counts
        for (std::size_t i = 1; i < k; ++i) numbers.push_back(static_cast<std::int64_t>(i));
        numbers.push_back(m);
        const MaximumNumber got = maximum_number(numbers, 0, 0.95);
        EXPECT_NEAR(got.unbiased, *to_number(row.at("frequentist_m_plus_m_over_k_minus_1")), 1e-9);
        EXPECT_NEAR(*got.mean, *to_number(row.at("bayes_mean")), 1e-9);
        EXPECT_EQ(got.sd.has_value(), !row.at("bayes_sd").empty());
        if (got.sd) {
            EXPECT_NEAR(*got.sd, *to_number(row.at("bayes_sd")), 1e-9);
        }
        EXPECT_EQ(std::to_string(*got.median), row.at("bayes_median"));
        EXPECT_EQ(std::to_string(*got.upper), row.at("bayes_upper_95pct"));
        ++seen;
    }
    EXPECT_EQ(seen, 6);
}

// The posterior written out: P(N) in proportion to 1 / C(N, k), summed far.
TEST(MaximumNumber, AgreesWithThePosteriorWrittenOut) {
    const std::vector<std::int64_t> numbers = {3, 9, 12, 17, 21, 25};
    const double k = 6;
    std::vector<double> p;
    double total = 0, mean = 0;
    for (int n = 25; n < 20000; ++n) {
        p.push_back(std::exp(std::lgamma(n - k + 1) - std::lgamma(n + 1)));
        total += p.back();
        mean += n * p.back();
    }
    const MaximumNumber got = maximum_number(numbers, 0, 0.9);
    EXPECT_NEAR(*got.mean, mean / total, 1e-3);
    double below = 0;
    int median = 0, upper = 0;
    for (std::size_t i = 0; i < p.size(); ++i) {
        below += p[i] / total;
        if (median == 0 && below >= 0.5) median = 25 + static_cast<int>(i);
        if (upper == 0 && below >= 0.9) upper = 25 + static_cast<int>(i);
    }
    EXPECT_EQ(*got.median, median);
    EXPECT_EQ(*got.upper, upper);
}

TEST(MaximumNumber, CountsFromWhereTheSequenceBegins) {
    const MaximumNumber from_1 = maximum_number(std::vector<std::int64_t>{19, 40, 42, 60}, 0, 0.95);
    const MaximumNumber from_101 = maximum_number(std::vector<std::int64_t>{119, 140, 142, 160}, 100, 0.95);
    EXPECT_EQ(from_1.unbiased, 74);
    EXPECT_EQ(from_101.unbiased, 174);
    EXPECT_EQ(*from_101.upper, *from_1.upper + 100);
    EXPECT_FALSE(maximum_number(std::vector<std::int64_t>{19}, 0, 0.95).median) << "one number has no posterior";
}

TEST(MissingNumbers, AreTheGapsBetweenTheLowestAndTheHighest) {
    EXPECT_THAT(missing_numbers({117, 114, 120, 115}), ElementsAre(NumberRun{116, 116}, NumberRun{118, 119}));
    EXPECT_THAT(missing_numbers({7}), ElementsAre());
    EXPECT_THAT(missing_numbers({}), ElementsAre());
}

std::map<int, int> counts(const std::string& text) {
    std::map<int, int> out;
    for (const std::string& pair : split(text, ' ')) {
        const auto parts = split(pair, ':');
        out[*to_int(parts[0])] = *to_int(parts[1]);
    }
    return out;
}

TEST(WideGaps, AreAsRareAsDrawingNumbersShows) {
    // The slow twin: draw k - 2 numbers between two ends, and count how often the widest gap is that wide.
    std::mt19937 random(11);
    std::uniform_real_distribution<double> anywhere(0, 1);
    for (const auto& [numbers, share] : {std::pair{5, 0.7}, {8, 0.55}, {8, 0.4}, {22, 0.3}}) {
        int wide = 0;
        constexpr int kDraws = 40'000;
        for (int draw = 0; draw < kDraws; ++draw) {
            std::vector<double> all{0, 1};
            for (int i = 2; i < numbers; ++i) all.push_back(anywhere(random));
            std::ranges::sort(all);
            double widest = 0;
            for (std::size_t i = 1; i < all.size(); ++i) widest = std::max(widest, all[i] - all[i - 1]);
            wide += widest >= share ? 1 : 0;
        }
        const double drawn = static_cast<double>(wide) / kDraws, ours = chance_of_gap(numbers, share);
        const double error = 4 * std::sqrt(ours / kDraws);
        if (share > 0.5) EXPECT_NEAR(ours, drawn, error) << numbers << " " << share;
        else EXPECT_GT(ours, drawn - error) << "at most, where two gaps can be so wide";
    }
}

TEST(WideGaps, PartWhatIsOfAnotherSequence) {
    using Runs = std::vector<std::vector<std::int64_t>>;
    const std::vector<std::int64_t> first{101, 102, 106, 109, 112, 114, 117, 119, 121, 123};
    std::vector<std::int64_t> all = first;
    all.push_back(4417);
    EXPECT_EQ(without_wide_gaps(all), (Runs{first, {4417}}));
    all.insert(all.end() - 1, {601, 602, 606, 609, 612, 614});
    EXPECT_EQ(without_wide_gaps(all), (Runs{first, {601, 602, 606, 609, 612, 614}, {4417}}));
    EXPECT_EQ(without_wide_gaps(first), (Runs{first}));
    EXPECT_EQ(without_wide_gaps({3, 900}), (Runs{{3, 900}})) << "of two numbers nothing can be said";
    EXPECT_EQ(without_wide_gaps({1, 2, 400}), (Runs{{1, 2, 400}})) << "too few to tell";
}

TEST(Richness, GivesThePublishedEstimates) {
    int seen = 0;
    for (const FactRow& row : facts("richness.csv")) {
        const std::string& which = row.at("estimator");
        const double value = *to_number(row.at("value"));
        const auto ff = counts(row.at("frequency_of_frequencies"));
        const int n = *to_int(row.at("n"));
        Richness got;
        if (which == "chao1_bias_corrected") got = chao1({ff}, 0.95);
        else if (which == "ace_rare_limit_10") got = *ace({ff}, 10, 0.95);
        else if (which == "chao2_small_sample") got = chao2(ff, n, 0.95);
        else if (which == "jackknife1") got.value = jackknife1(ff, n);
        else if (which == "jackknife2") got.value = jackknife2(ff, n);
        else if (which == "bootstrap") got.value = bootstrap(ff, n);
        else FAIL() << which;
        EXPECT_NEAR(got.value, value, 1e-6 * value) << row.at("sample") << " " << which;
        if (which.starts_with("chao")) {  // see tests/facts/README.md for the others
            EXPECT_NEAR(*got.standard_error, *to_number(row.at("standard_error")), 1e-6) << row.at("sample");
        }
        ++seen;
    }
    EXPECT_EQ(seen, 16);
}

// The variance of ACE by numeric derivatives of its formula: what the closed ones have to give.
TEST(Richness, TheStandardErrorOfAceIsThatOfTheDeltaMethod) {
    const std::map<int, int> ff = {{1, 31}, {2, 18}, {3, 9}, {4, 6}, {7, 1}, {12, 4}, {20, 2}};
    const auto value = [](const std::map<int, double>& f) {
        double s = 0, n = 0, m = 0, abundant = 0;
        for (const auto& [i, c] : f)
            if (i > 10) abundant += c;
            else s += c, n += i * c, m += i * (i - 1) * c;
        const double cover = 1 - f.at(1) / n;
        return abundant + s / cover + std::max(0.0, s / cover * m / n / (n - 1) - 1) * f.at(1) / cover;
    };
    std::map<int, double> f(ff.begin(), ff.end());
    double squares = 0, sum = 0;
    for (const auto& [i, c] : ff) {
        auto up = f, down = f;
        up[i] += 1e-5, down[i] -= 1e-5;
        const double g = (value(up) - value(down)) / 2e-5;
        squares += g * g * c, sum += g * c;
    }
    const auto got = *ace({ff}, 10, 0.95);
    EXPECT_NEAR(got.value, value(f), 1e-9);
    EXPECT_NEAR(*got.standard_error, std::sqrt(squares - sum * sum / value(f)), 1e-5);
}

const Finds kFinds{{{1, 2, 3}, {2, 4}, {2, 3, 5}, {6}}};

TEST(Jackknife, IsTheMeanOfLeavingFindsOut) {
    const auto kinds_without = [](const std::set<std::size_t>& out) {
        std::set<int> kinds;
        for (std::size_t f = 0; f < kFinds.kinds.size(); ++f)
            if (!out.contains(f)) kinds.insert(kFinds.kinds[f].begin(), kFinds.kinds[f].end());
        return static_cast<double>(kinds.size());
    };
    const double t = 4, s = 6;
    std::vector<double> pseudo;  // t S - (t - 1) S without f
    double mean = 0, pairs = 0, ones = 0;
    for (std::size_t f = 0; f < 4; ++f) {
        pseudo.push_back(t * s - (t - 1) * kinds_without({f}));
        mean += pseudo.back() / t;
        ones += kinds_without({f}) / t;
        for (std::size_t g = f + 1; g < 4; ++g) pairs += kinds_without({f, g}) / 6;
    }
    double variance = 0;
    for (const double one : pseudo) variance += (one - mean) * (one - mean) / t / (t - 1);
    const auto all = resampled(kFinds, 0.95);
    EXPECT_NEAR(all[0].value, mean, 1e-9);
    EXPECT_NEAR(*all[0].standard_error, std::sqrt(variance), 1e-9);
    // Burnham and Overton, Biometrika 65, 1978: the combination that frees it of bias in 1/t and 1/t^2.
    EXPECT_NEAR(jackknife2(kFinds.kinds_in(), 4),
                (t * t * s - 2 * (t - 1) * (t - 1) * ones + (t - 2) * (t - 2) * pairs) / 2, 1e-9);
}

TEST(Bootstrap, IsWhatAllResamplesOfTheFindsGive) {
    double missed = 0, squares = 0;
    int resamples = 0;
    for (int code = 0; code < 256; ++code, ++resamples) {
        std::set<int> kinds;
        for (int i = 0, rest = code; i < 4; ++i, rest /= 4) {
            const auto& find = kFinds.kinds[static_cast<std::size_t>(rest % 4)];
            kinds.insert(find.begin(), find.end());
        }
        const double miss = 6.0 - static_cast<double>(kinds.size());
        missed += miss, squares += miss * miss;
    }
    missed /= resamples;
    const auto all = resampled(kFinds, 0.95);
    EXPECT_NEAR(all[2].value, 6 + missed, 1e-9);
    EXPECT_NEAR(*all[2].standard_error, std::sqrt(squares / resamples - missed * missed), 1e-9);
}

TEST(Discovery, WithinTheSightingsIsTheMeanOverAllSubsets) {
    const std::vector<int> sightings = {0, 0, 0, 1, 1, 2, 3};
    const Abundance a = abundance(std::vector<int>{3, 2, 1, 1, 0});
    for (int m = 0; m <= 7; ++m) {
        double kinds = 0, subsets = 0;
        for (unsigned mask = 0; mask < 128; ++mask) {
            if (__builtin_popcount(mask) != m) continue;
            std::set<int> seen;
            for (unsigned i = 0; i < 7; ++i)
                if (mask & (1u << i)) seen.insert(sightings[i]);
            kinds += static_cast<double>(seen.size()), ++subsets;
        }
        EXPECT_NEAR(rarefied(a, m), kinds / subsets, 1e-9) << m;
    }
}

TEST(Discovery, RisesToWhatChao1Leaves) {
    const Abundance a = abundance(std::vector<int>{5, 3, 2, 2, 1, 1, 1, 1});
    const auto curve = discovery(a, 10);
    EXPECT_EQ(curve.front().sightings, 0);
    EXPECT_EQ(curve.front().kinds, 0);
    EXPECT_EQ(curve.back().sightings, 32);
    for (std::size_t i = 1; i < curve.size(); ++i) EXPECT_GT(curve[i].kinds, curve[i - 1].kinds);
    EXPECT_NEAR(extrapolated(a, 0), 8, 1e-12);
    EXPECT_NEAR(extrapolated(a, 100000), chao1(a, 0.95).value, 1e-6);
    EXPECT_EQ(extrapolated(abundance(std::vector<int>{2, 2}), 50), 2) << "no kind was seen once: none is missing";
}

// Made worlds with 120 kinds: Chao1 is a lower bound and its interval usually reaches the truth.
TEST(Chao1, FindsMostOfAWorldWhoseTruthIsKnown) {
    std::mt19937 random(5);
    int held = 0;
    double sum = 0;
    for (int world = 0; world < 200; ++world) {
        std::vector<int> times(120, 0);
        for (int i = 0; i < 300; ++i) ++times[random() % 120];
        const Richness got = chao1(abundance(times), 0.95);
        sum += got.value / 200;
        held += got.interval->first <= 120 && 120 <= got.interval->second;
    }
    EXPECT_NEAR(sum, 120, 4);
    EXPECT_GE(held, 180);
}

TEST(Richness, SaysNothingOfNothing) {
    EXPECT_EQ(chao1({}, 0.95).value, 0);
    EXPECT_FALSE(ace(abundance(std::vector<int>{1, 1, 1}), 10, 0.95)) << "every kind was seen once";
    EXPECT_EQ(chao1(abundance(std::vector<int>{4, 4}), 0.95).interval->second, 2);
    EXPECT_NEAR(normal_reach(0.95), 1.959964, 1e-6);
}

}  // namespace
}  // namespace footring::dating

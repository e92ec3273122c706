// SPDX-License-Identifier: Apache-2.0
#include "dating/combine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <random>

namespace footring::dating {
namespace {

using testing::DoubleNear;
using testing::Pointwise;

edtf::Edtf date(const char* text) { return *edtf::parse(text); }
YearStatement says(const char* text, double trust, int first = 1900, int last = 1949) {
    return {.subject = text,
            .what = "",
            .agrees = agrees_with(date(text), first, last, Settings{}),
            .trust = trust,
            .sources = {},
            .row = ""};
}
double between(const std::vector<double>& by_year, int first, int last) {
    return std::accumulate(by_year.begin() + (first - 1900), by_year.begin() + (last - 1900) + 1, 0.0);
}

TEST(Combine, WithoutStatementsLeavesEveryYearAlike) {
    const auto all = combine({}, 50);
    EXPECT_THAT(all.by_year, Pointwise(DoubleNear(1e-15), std::vector<double>(50, 0.02)));
}

TEST(Combine, OfTrustedPeriodsLeavesTheYearsThatAllOfThemAllow) {
    const auto all = combine(std::vector{says("1910/1930", 1), says("1925/1940", 1)}, 50);
    EXPECT_DOUBLE_EQ(all.by_year[25], 1.0 / 6);
    EXPECT_DOUBLE_EQ(between(all.by_year, 1925, 1930), 1);
    EXPECT_TRUE(all.contradictions.smallest.empty());
}

TEST(Combine, HasAClosedFormForOneDoubtfulPeriod) {
    // It holds with 0.8, and then the year is one of 10; with 0.2 it is any of 50, of which 10 lie inside.
    const auto all = combine(std::vector{says("1920/1929", 0.8)}, 50);
    EXPECT_NEAR(between(all.by_year, 1920, 1929), 0.8 + 0.2 * 10 / 50, 1e-14);
    EXPECT_NEAR(all.heard[0].holds, 0.8, 1e-14) << "nothing else was heard";
    // A year outside weighs 0.2 beside 0.8 * 50 / 10 + 0.2 inside; 40 of 50 lie outside, before and after.
    EXPECT_NEAR(all.heard[0].cut_before + all.heard[0].cut_after, (1 - 0.2 / 4.2) * 40 / 50, 1e-14);
}

TEST(Combine, HoldsAStatementThatIsAloneAsFarAsItIsTrustedHoweverNarrowItIs) {
    for (const char* period : {"1931", "1930/1931", "1910/1940", "1900/1949", "1912~/1920?"}) {
        const auto all = combine(std::vector{says(period, 0.7)}, 50);
        EXPECT_NEAR(all.heard[0].holds, 0.7, 1e-14) << period;
    }
}

TEST(Combine, LeavesAStatementAboutAnotherTimeWithoutAnyEffect) {
    const auto all = combine(std::vector{says("1850/1870", 0.7), says("1910/1919", 0.9)}, 50);
    EXPECT_THAT(all.by_year,
                Pointwise(DoubleNear(1e-14), combine(std::vector{says("1910/1919", 0.9)}, 50).by_year));
    EXPECT_NEAR(all.heard[0].holds, 0, 1e-14);
}

TEST(Combine, LetsTheMoreTrustedOfTwoThatContradictPrevail) {
    // Inside a weighs 0.6 * 5 + 0.4, inside b 0.9 * 5 + 0.1; outside 0.4 and 0.1.
    const auto all = combine(std::vector{says("1910/1919", 0.6), says("1930/1939", 0.9)}, 50);
    const double a = 10 * 3.4 * 0.1, b = 10 * 0.4 * 4.6, rest = 30 * 0.4 * 0.1;
    EXPECT_NEAR(between(all.by_year, 1910, 1919), a / (a + b + rest), 1e-14);
    EXPECT_NEAR(between(all.by_year, 1930, 1939), b / (a + b + rest), 1e-14);
    EXPECT_THAT(all.contradictions.smallest, testing::ElementsAre(testing::ElementsAre(0, 1)));
    EXPECT_THAT(all.contradictions.frees, testing::ElementsAre(0, 1));
}

TEST(Combine, OfTwoTrustedThatContradictLeavesNothing) {
    const auto all = combine(std::vector{says("1910/1919", 1), says("1930/1939", 1)}, 50);
    EXPECT_DOUBLE_EQ(std::accumulate(all.by_year.begin(), all.by_year.end(), 0.0), 0);
    EXPECT_EQ(all.contradictions.smallest.size(), 1u);
}

// The slow twin: every way in which some of the statements hold and the others do not. `always`: one that must
// hold.
std::vector<double> ways(const std::vector<YearStatement>& statements, std::size_t years, unsigned always = 0) {
    std::vector<double> out(years, 0);
    for (unsigned holds = 0; holds < 1u << statements.size(); ++holds) {
        if ((holds & always) != always) continue;
        for (std::size_t y = 0; y < years; ++y) {
            double p = 1;
            for (std::size_t i = 0; i < statements.size(); ++i) {
                const YearStatement& s = statements[i];
                const double drawn = s.agrees[y] / std::accumulate(s.agrees.begin(), s.agrees.end(), 0.0);
                p *= (holds >> i & 1) != 0 ? s.trust * drawn : (1 - s.trust) / static_cast<double>(years);
            }
            out[y] += p;
        }
    }
    return out;
}
double total(const std::vector<double>& shares) { return std::accumulate(shares.begin(), shares.end(), 0.0); }
std::vector<double> by_every_way(const std::vector<YearStatement>& statements, std::size_t years) {
    std::vector<double> out = ways(statements, years);
    const double sum = total(out);
    for (double& share : out) share /= sum;
    return out;
}
double chance_by_every_way(const std::vector<YearStatement>& statements, std::size_t one, std::size_t years) {
    return total(ways(statements, years, 1u << one)) / total(ways(statements, years));
}

TEST(Combine, AgreesWithCountingEveryWayInWhichStatementsHold) {
    std::mt19937 random(42);
    std::uniform_real_distribution<double> share(0, 1);
    for (int round = 0; round < 60; ++round) {
        std::vector<YearStatement> statements;
        for (unsigned i = 0; i < 1 + random() % 8; ++i) {
            YearStatement s = says("1900", 0.05 + 0.94 * share(random));
            for (double& a : s.agrees) a = random() % 3 == 0 ? 0 : share(random);
            statements.push_back(s);
        }
        const auto all = combine(statements, 50);
        EXPECT_THAT(all.by_year, Pointwise(DoubleNear(1e-12), by_every_way(statements, 50)));
        // P(holds) by the same counting: the share of the ways in which it does.
        for (std::size_t i = 0; i < statements.size(); ++i)
            EXPECT_NEAR(all.heard[i].holds, chance_by_every_way(statements, i, 50), 1e-12);
    }
}

TEST(Combine, DoesNotDependOnTheOrderOfStatements) {
    std::vector<YearStatement> statements{says("1910~/1930", 0.7), says("1920/1944?", 0.9), says("192X", 0.4),
                                          says("1931", 0.2)};
    const auto before = combine(statements, 50);
    std::mt19937 random(3);
    for (int round = 0; round < 10; ++round) {
        std::ranges::shuffle(statements, random);
        EXPECT_THAT(combine(statements, 50).by_year, Pointwise(DoubleNear(1e-14), before.by_year));
    }
}

TEST(Combine, KeepsItsHeadWhenAThousandDoubtfulStatementsAgree) {
    const auto all = combine(std::vector(1000, says("1931", 0.999999)), 50);
    EXPECT_NEAR(all.by_year[31], 1, 1e-12);
}

TEST(DatedUses, FallOffAsTheNextDrawFromAnUnknownPeriodWould) {
    // Predictive density under a flat prior on both ends, by summing over a fine grid of ends: n draws in [a, b]
    // have density (b - a)^-n; one more at y needs a <= y <= b as well.
    const double first = 1920, last = 1932;
    const int n = 4;
    const auto density = [&](double y) {
        double sum = 0;
        const double step = 0.5;
        for (double a = first; a > first - 4000; a -= step)
            for (double b = last; b < last + 4000; b += step * std::max(1.0, (b - last) / 40)) {
                if (a > y || b < y) continue;
                sum += std::pow(b - a, -(n + 1)) * std::max(1.0, (b - last) / 40);
                if (b - last > 400) break;
            }
        return sum;
    };
    const auto agrees = agrees_with_uses({1920, 1925, 1931, 1932}, 0.0001, 1900, 1949);
    EXPECT_DOUBLE_EQ(agrees[20], 1);
    EXPECT_DOUBLE_EQ(agrees[32], 1);
    const double inside = density(1926);
    for (const int year : {1933, 1936, 1942})
        EXPECT_NEAR(agrees[static_cast<std::size_t>(year - 1900)], density(year) / inside, 0.03) << year;
    EXPECT_NEAR(agrees[15], agrees[37], 1e-12) << "five years before weigh as five years after";
}

TEST(DatedUses, OfOneYearReachAsFarAsTheSettingSays) {
    const auto near = agrees_with_uses({1925}, 5, 1900, 1949), far = agrees_with_uses({1925}, 20, 1900, 1949);
    EXPECT_DOUBLE_EQ(near[30], 0.5);
    EXPECT_DOUBLE_EQ(far[45], 0.5);
    EXPECT_THAT(agrees_with_uses({}, 10, 1900, 1949), testing::Each(1.0));
}

TEST(Trust, OfSeveralSourcesIsThatNotAllOfThemErr) {
    book::Book book;
    book.sources = {
        {.id = "a", .kind = "", .creator = "", .title = "", .date = "", .locator = "", .trust = 0.8, .origin = {}},
        {.id = "b", .kind = "", .creator = "", .title = "", .date = "", .locator = "", .trust = {}, .origin = {}}};
    EXPECT_NEAR(trust_of(book, {{0}, {1}}, 0.5), 1 - 0.2 * 0.5, 1e-15);
    EXPECT_NEAR(trust_of(book, {}, 0.7), 0.7, 1e-15);
}

}  // namespace
}  // namespace footring::dating

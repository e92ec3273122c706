// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>
#include <random>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

using testing::DoubleEq;
using testing::ElementsAre;

std::vector<double> weights(std::string_view text, int first, int last, const Settings& settings = {}) {
    const auto date = parse(text);
    EXPECT_TRUE(date) << to_line(date.error());
    return date ? year_weights(*date, first, last, settings) : std::vector<double>{};
}

TEST(EdtfYears, ASharpYearCountsAlone) { EXPECT_THAT(weights("1934", 1932, 1936), ElementsAre(0, 0, 1, 0, 0)); }

TEST(EdtfYears, AboutFallsOffOverThreeYearsAndUncertainOverFive) {
    EXPECT_THAT(weights("1934~", 1930, 1938), ElementsAre(0, 0, DoubleEq(1 - 2.0 / 3), DoubleEq(1 - 1.0 / 3), 1,
                                                          DoubleEq(1 - 1.0 / 3), DoubleEq(1 - 2.0 / 3), 0, 0));
    EXPECT_THAT(weights("1934?", 1934, 1940),
                ElementsAre(1, DoubleEq(0.8), DoubleEq(0.6), DoubleEq(0.4), DoubleEq(1 - 4.0 / 5), 0, 0));
    EXPECT_EQ(weights("1934%", 1930, 1940), weights("1934?", 1930, 1940));  // the softer of the two
}

TEST(EdtfYears, EachEndOfAnIntervalIsAsSoftAsItsOwnDate) {
    EXPECT_THAT(weights("1930~/1932", 1928, 1934),
                ElementsAre(DoubleEq(1 - 2.0 / 3), DoubleEq(1 - 1.0 / 3), 1, 1, 1, 0, 0));
    EXPECT_THAT(weights("1930/..", 1929, 1931), ElementsAre(0, 1, 1));
    EXPECT_THAT(weights("/1930", 1929, 1931), ElementsAre(1, 1, 0));
    EXPECT_THAT(weights("193X", 1939, 1942), ElementsAre(1, DoubleEq(1 - 1.0 / 3), DoubleEq(1 - 2.0 / 3), 0));
    EXPECT_THAT(weights("2004-06-~11", 2003, 2005), ElementsAre(0, 1, 0));
}

TEST(EdtfYears, OfSeveralSpansTheLargestWeightCounts) {
    EXPECT_THAT(weights("[1930,1932~]", 1929, 1934), ElementsAre(DoubleEq(0), 1, DoubleEq(1 - 1.0 / 3), 1,
                                                                 DoubleEq(1 - 1.0 / 3), DoubleEq(1 - 2.0 / 3)));
    EXPECT_EQ(weight({}, 1930, {}), 0);
}

TEST(EdtfYears, TheReachIsASettingAndZeroMakesTheEndSharp) {
    Settings settings;
    settings.soft_about_years = 10;
    EXPECT_THAT(weights("1934~", 1935, 1936, settings), ElementsAre(DoubleEq(0.9), DoubleEq(0.8)));
    settings.soft_about_years = 0;
    EXPECT_THAT(weights("1934~", 1933, 1935, settings), ElementsAre(0, 1, 0));
}

TEST(EdtfYears, NoSpanAndNoYearOverflow) {
    constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max(),
                           kLeast = std::numeric_limits<std::int64_t>::min();
    const std::vector<Span> far{{kMost - 1, kMost, End::kAbout, End::kAbout}};
    EXPECT_EQ(weight(far, kLeast, {}), 0);
    EXPECT_DOUBLE_EQ(weight(far, kMost - 2, {}), 1 - 1.0 / 3);
    EXPECT_EQ(weight({{kLeast, kLeast, End::kUncertain, End::kUncertain}}, kMost, {}), 0);
    constexpr int kLast = std::numeric_limits<int>::max();
    EXPECT_THAT(weights("1934", kLast - 1, kLast), ElementsAre(0, 0));
    EXPECT_THAT(weights("1934", 1935, 1934), ElementsAre());
}

// Laws, on spans of every kind: never above 1 or below 0, 1 inside, and never rising on the way out.
TEST(EdtfYears, AWeightIsOneInsideAndFallsToNoughtOutside) {
    std::mt19937 random(7);
    const auto below = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
    for (int trial = 0; trial < 2000; ++trial) {
        Settings settings;
        settings.soft_about_years = below(6);
        settings.soft_uncertain_years = below(9);
        Span span;
        const int first = 1900 + below(50), last = first + below(20);
        if (below(4) != 0) span.first = first;
        if (below(4) != 0) span.last = last;
        span.first_end = static_cast<End>(below(3));
        span.last_end = static_cast<End>(below(3));
        for (int year = 1880; year <= 1990; ++year) {
            const double here = weight({span}, year, settings);
            ASSERT_GE(here, 0);
            ASSERT_LE(here, 1);
            const bool inside = (!span.first || year >= first) && (!span.last || year <= last);
            ASSERT_EQ(here == 1, inside);
            if (span.first && year < first) {
                ASSERT_LE(weight({span}, year - 1, settings), here);
            }
            if (span.last && year > last) {
                ASSERT_LE(weight({span}, year + 1, settings), here);
            }
            ASSERT_EQ(weight({span, span}, year, settings), here);
        }
    }
}

TEST(EdtfYears, YearsArePrintedAsADateThatIsReadBack) {
    EXPECT_EQ(from_years(1931, 1940), "1931/1940");
    EXPECT_EQ(from_years(1934, 1934), "1934");
    EXPECT_EQ(from_years(1940, 1931), "1931/1940");
    for (const auto& [first, last] : {std::pair{1931, 1940}, {-44, 85}, {0, 0}, {9999, 12345}, {-20000, -15000}}) {
        const auto date = parse(from_years(first, last));
        ASSERT_TRUE(date) << to_line(date.error());
        EXPECT_THAT(date->spans(), ElementsAre(Span{first, last}));
    }
}

}  // namespace
}  // namespace footring::edtf

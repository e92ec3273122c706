// SPDX-License-Identifier: Apache-2.0
#include "worth/holdings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "worth/test_sales.h"

namespace footring::worth {
namespace {

TEST(Holdings, GrowWithEachPieceAndAreWorthNowWhatTheyAreTogether) {
    const testing::Made made = testing::make({}, 41);
    const Things things(made.book);
    const auto prices = *Prices::fit(made.sales, things, "2026-03-01");
    std::vector<Holding> holdings;
    for (std::uint32_t i = 0; i < 30; ++i)
        holdings.push_back(
            {std::to_string(i),
             identities_of(things, {book::Ref<book::Form>{i % 12}, book::Ref<book::Treatment>{i}, {}},
                           {Condition::kGood, "first", Market::kAuction, std::nullopt}),
             2018.2 + i % 5, i % 2 == 0 ? std::optional(10.0) : std::nullopt});
    const auto points = over_time(*prices, holdings, 2024.5);
    ASSERT_EQ(points.size(), 7u);  // 2018 to 2023 and now
    EXPECT_EQ(points[0].pieces, 6);
    EXPECT_EQ(points[4].pieces, 30);
    EXPECT_EQ(points[6].cost, 150);
    EXPECT_EQ(points[6].costed, 15);
    double alone = 0;
    for (const Holding& holding : holdings) {
        Outlook outlook = prices->outlook(holding.identities[0].thing, 2024.5);
        alone += std::exp(outlook.log_middle + (outlook.middle_variance + outlook.spread * outlook.spread) / 2);
    }
    const Interval now = total(*prices, holdings, 2024.5);
    EXPECT_NEAR(now.median / alone, 1, 0.06);
    EXPECT_NEAR(points[6].worth->median / now.median, 1, 0.02);
    // Together they are far less in doubt than one of them.
    EXPECT_LT(now.ninety[1] / now.ninety[0], 2.2);
}

TEST(Holdings, OfNothingHaveNoPoints) {
    const testing::Made made = testing::make({}, 41);
    const auto prices = *Prices::fit(made.sales, Things(made.book), "2026-03-01");
    EXPECT_TRUE(over_time(*prices, {}, 2024.5).empty());
}

}  // namespace
}  // namespace footring::worth

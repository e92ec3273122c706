// SPDX-License-Identifier: Apache-2.0
#include "worth/haul.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "worth/test_sales.h"

namespace footring::worth {
namespace {

using testing::kToday;

class Haul : public ::testing::Test {
  protected:
    static void SetUpTestSuite() {
        made_ = new testing::Made(testing::make({}, 21));
        things_ = new Things(made_->book);
        prices_ = *Prices::fit(made_->sales, *things_, kToday);
    }
    static void TearDownTestSuite() {
        prices_.reset();
        delete things_;
        delete made_;
    }
    static HaulPiece piece(std::uint32_t treatment, std::uint32_t form, int count = 1) {
        return {"",
                identities_of(*things_,
                              {book::Ref<book::Form>{form}, book::Ref<book::Treatment>{treatment}, std::nullopt},
                              {Condition::kGood, "first", Market::kAuction, std::nullopt}),
                count};
    }
    static inline testing::Made* made_ = nullptr;
    static inline Things* things_ = nullptr;
    static inline std::shared_ptr<const Prices> prices_;
};

TEST_F(Haul, OfOnePieceIsWorthWhatThePieceIs) {
    const HaulPiece one = piece(0, 0);
    const HaulAnswer answer = haul(*prices_, {one}, {}, 2024.5);
    Outlook sound = prices_->outlook(one.identities[0].thing, 2024.5);
    sound.junk_share = 0;
    const Interval wanted = interval(sound);
    EXPECT_NEAR(answer.worth.median / wanted.median, 1, 0.04);
    EXPECT_NEAR(answer.worth.ninety[0] / wanted.ninety[0], 1, 0.06);
    EXPECT_NEAR(answer.worth.ninety[1] / wanted.ninety[1], 1, 0.06);
    const Weighted weighted{1, sound};
    EXPECT_NEAR(answer.mean / mean({&weighted, 1}), 1, 0.03);
}

TEST_F(Haul, OfAnUncertainPieceIsTheMixtureOfWhatItMayBe) {
    HaulPiece either = piece(0, 0);
    Identity other = piece(1, 0).identities[0];
    either.identities[0].probability = 0.7;
    other.probability = 0.3;
    either.identities.push_back(other);
    std::vector<Weighted> mixture;
    for (const Identity& identity : either.identities) {
        mixture.push_back({identity.probability, prices_->outlook(identity.thing, 2024.5)});
        mixture.back().outlook.junk_share = 0;
    }
    const HaulAnswer answer = haul(*prices_, {either}, {}, 2024.5);
    for (const double share : {0.05, 0.5, 0.95}) {
        const double found = share == 0.5 ? answer.worth.median : answer.worth.ninety[share < 0.5 ? 0 : 1];
        EXPECT_NEAR(found / quantile(mixture, share), 1, 0.06) << share;
    }
}

TEST_F(Haul, TheTopBidLeavesTheMarginOnAverageAndNotMore) {
    HaulCosts costs;
    costs.premium = 0.25;
    costs.tax = 0.1;
    costs.carriage = 12;
    costs.selling = 0.15;
    costs.selling_each = 1.5;
    costs.margin = 0.4;
    const HaulAnswer answer = haul(*prices_, {piece(0, 0, 3), piece(2, 4), piece(5, 1, 2)}, costs, 2024.5);
    ASSERT_TRUE(answer.top_bid.has_value() && answer.at_bid.has_value());
    EXPECT_EQ(answer.pieces, 6);
    const double outlay = *answer.top_bid * 1.25 * 1.1 + 12, income = answer.mean * 0.85 - 1.5 * 6;
    EXPECT_NEAR(answer.at_bid->outlay, outlay, 1e-9);
    EXPECT_NEAR(income, 1.4 * outlay, 1e-6 * income);
    EXPECT_NEAR(answer.at_bid->mean_gain, income - outlay, 1e-6 * income);
    double before = -1;
    for (const AtBid& at : answer.curve) {
        EXPECT_GE(at.loss_chance, before);
        before = at.loss_chance;
        EXPECT_GE(1 - at.loss_chance + 1e-12, at.margin_chance);
    }
    EXPECT_LT(answer.curve.front().loss_chance, 0.01);
    EXPECT_GT(answer.curve.back().loss_chance, 0.9);
}

TEST_F(Haul, ThatCannotPayItsCostsHasNoTopBid) {
    HaulCosts costs;
    costs.carriage = 1e5;
    const HaulAnswer answer = haul(*prices_, {piece(0, 0)}, costs, 2024.5);
    EXPECT_FALSE(answer.top_bid.has_value());
    EXPECT_FALSE(answer.at_bid.has_value());
    costs.bid = 10;
    EXPECT_NEAR(haul(*prices_, {piece(0, 0)}, costs, 2024.5).at_bid->loss_chance, 1, 1e-9);
}

// Twenty pieces of a form that nobody ever sold err together: were they independent, the sum would be far narrower.
TEST_F(Haul, PiecesOfOneKindErrTogether) {
    HaulPiece unknown = piece(0, 0, 20);
    unknown.identities[0].thing.form = "made:never-sold";
    const HaulAnswer answer = haul(*prices_, {unknown}, {}, 2024.5);
    const double width = std::log(answer.worth.ninety[1] / answer.worth.ninety[0]);
    const double form = prices_->model().sd[static_cast<std::size_t>(Term::kForm)];
    EXPECT_GT(width, 2 * 1.6 * form);
}

TEST_F(Haul, TheSameInputGivesTheSameBytes) {
    const HaulAnswer a = haul(*prices_, {piece(0, 0, 2), piece(3, 1)}, {}, 2024.5);
    const HaulAnswer b = haul(*prices_, {piece(0, 0, 2), piece(3, 1)}, {}, 2024.5);
    EXPECT_EQ(a.worth, b.worth);
    EXPECT_EQ(a.mean, b.mean);
}

TEST_F(Haul, SharesOfTheCostSumToTheOutlay) {
    const HaulAnswer answer = haul(*prices_, {piece(0, 0), piece(1, 1), piece(2, 2)}, {.bid = 31.01}, 2024.5);
    double cost = 0, share = 0;
    for (const HaulShare& s : answer.shares) cost += s.cost_share, share += s.share;
    EXPECT_NEAR(cost, 31.01, 1e-9);
    EXPECT_NEAR(share, 1, 1e-12);
    double density = 0;
    for (const Bin& bin : answer.density) density += bin.share;
    EXPECT_NEAR(density, 1, 1e-9);
    const auto height = [&](std::size_t b) {
        return answer.density[b].share / (answer.density[b].to - answer.density[b].from);
    };
    EXPECT_LT(height(0), height(1)) << "it rises from the least";
}

TEST(ShareOut, PartsSumExactlyAndFollowTheWeights) {
    EXPECT_THAT(share_out(100, {1, 1, 1}, 2), ::testing::ElementsAre(33.34, 33.33, 33.33));
    EXPECT_THAT(share_out(10, {3, 1}, 0), ::testing::ElementsAre(8, 2));
    EXPECT_THAT(share_out(10, {0, 0}, 2), ::testing::ElementsAre(5, 5));
    EXPECT_THAT(share_out(10, {}, 2), ::testing::IsEmpty());
    EXPECT_THAT(share_out(0.05, {5, 0, 5, 5}, 2), ::testing::ElementsAre(0.02, 0, 0.02, 0.01));
}

}  // namespace
}  // namespace footring::worth

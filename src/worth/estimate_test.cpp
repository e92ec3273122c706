// SPDX-License-Identifier: Apache-2.0
#include "worth/estimate.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "worth/test_sales.h"

namespace footring::worth {
namespace {

using testing::kToday;

class Estimates : public ::testing::Test {
  protected:
    static void SetUpTestSuite() {
        made_ = new testing::Made(testing::make({}, 31));
        things_ = new Things(made_->book);
        prices_ = *Prices::fit(made_->sales, *things_, kToday);
    }
    static void TearDownTestSuite() {
        prices_.reset();
        delete things_;
        delete made_;
    }
    static std::vector<Identity> thing(std::uint32_t treatment, std::uint32_t form) {
        return identities_of(*things_,
                             {book::Ref<book::Form>{form}, book::Ref<book::Treatment>{treatment}, std::nullopt},
                             {Condition::kGood, "first", Market::kAuction, std::nullopt});
    }
    static inline testing::Made* made_ = nullptr;
    static inline Things* things_ = nullptr;
    static inline std::shared_ptr<const Prices> prices_;
};

TEST_F(Estimates, OfAThingShowComparableSalesCarriedToTheDay) {
    const Estimate answer = estimate(*prices_, *things_, thing(0, 0), 2024.5);
    ASSERT_EQ(answer.comparables.size(), 8u);
    double before = 1.0001;
    for (const Comparable& one : answer.comparables) {
        EXPECT_LE(one.alike, before);
        before = one.alike;
        EXPECT_FALSE(one.because.empty());
        const double off = std::log(prices_->sales()[one.sale].price) - prices_->log_expected(one.sale);
        EXPECT_NEAR(std::log(one.adjusted / answer.medians[0]), off, 1e-9);
    }
    EXPECT_THAT(answer.comparables[0].because, ::testing::Contains("same treatment"));
    EXPECT_TRUE(answer.notes.empty());
}

TEST_F(Estimates, OfAnUncertainPieceAreWiderThanThoseOfWhatItMayBe) {
    // The dearest and the cheapest form stand for two readings of one piece.
    auto one = thing(0, 0), other = thing(0, 1);
    for (std::uint32_t f = 0; f < 12; ++f) {
        const auto middle = [&](const std::vector<Identity>& i) {
            return prices_->outlook(i[0].thing, 2024.5).log_middle;
        };
        if (middle(thing(0, f)) > middle(one)) one = thing(0, f);
        if (middle(thing(0, f)) < middle(other)) other = thing(0, f);
    }
    const Interval a = estimate(*prices_, *things_, one, 2024.5).worth,
                   b = estimate(*prices_, *things_, other, 2024.5).worth;
    one[0].probability = other[0].probability = 0.5;
    one.push_back(other[0]);
    const Interval both = estimate(*prices_, *things_, one, 2024.5).worth;
    EXPECT_LT(both.ninety[0], a.ninety[0]);
    EXPECT_GT(both.ninety[1], b.ninety[1]);
    EXPECT_GT(both.median, b.median);
    EXPECT_LT(both.median, a.median);
}

TEST_F(Estimates, OfAPieceFollowTheOddsOfNaming) {
    naming::Answer answer;
    answer.candidates = {{book::Ref<book::Treatment>{0}, 0.6, {}}, {book::Ref<book::Treatment>{1}, 0.3, {}}};
    answer.open.unlisted = 0.07, answer.open.elsewhere = 0.03;
    answer.grade = {0.75, 0.25};
    looks::Piece piece;
    piece.form = "form-0";
    piece.wear = looks::Wear::kHeavy;
    looks::Findings findings;
    findings.form = book::Ref<book::Form>{0};
    const auto all = identities_of(*things_, piece, findings, answer, {});
    ASSERT_EQ(all.size(), 6u);
    EXPECT_NEAR(all[0].probability, 0.45, 1e-12);
    EXPECT_EQ(all[0].words, "100, first");
    EXPECT_EQ(all[0].thing.condition, Condition::kPoor);
    EXPECT_NEAR(all[1].probability, 0.225, 1e-12);
    EXPECT_EQ(all[1].words, "101, first");
    EXPECT_EQ(all[4].words, "a treatment that no pack lists");
    EXPECT_EQ(all[5].words, "made or decorated elsewhere");
    double sum = 0;
    for (const Identity& identity : all) sum += identity.probability;
    EXPECT_NEAR(sum, 1, 1e-12);
}

TEST_F(Estimates, SayWhatNoSaleSpeaksOf) {
    auto one = thing(0, 0);
    one[0].thing.form = "made:epergne", one[0].thing.treatment = "made:t-9999";
    const Estimate answer = estimate(*prices_, *things_, one, 2035);
    EXPECT_THAT(
        answer.notes,
        ::testing::UnorderedElementsAre(
            "No sale of the form made:epergne is recorded: the interval holds what forms differ by.",
            "No sale of made:t-9999 is recorded: it borrows from sales of its decoration, its shape and its form.",
            "The last sale is of 2024: later prices follow the trend, which may have turned."));
}

TEST_F(Estimates, GiveAPriceToWhoeverPlansWhatToBuy) {
    const Price known =
        price_of(*prices_, *things_, book::Ref<book::Treatment>{0}, book::Ref<book::Form>{0}, "first", 2024.5);
    EXPECT_LT(known.low, known.median);
    EXPECT_LT(known.median, known.high);
    const Price second =
        price_of(*prices_, *things_, book::Ref<book::Treatment>{0}, book::Ref<book::Form>{0}, "second", 2024.5);
    EXPECT_LT(second.median, known.median);
    made_->book.forms.push_back({});  // a form that nobody sold: priced, with much more doubt
    const Price unsold = price_of(*prices_, *things_, std::nullopt, book::Ref<book::Form>{12}, "", 2024.5);
    const Price any = price_of(*prices_, *things_, std::nullopt, book::Ref<book::Form>{0}, "", 2024.5);
    EXPECT_GT(unsold.high / unsold.low, 1.5 * any.high / any.low);
    made_->book.forms.pop_back();
}

TEST(Money, IsAsSharpAsItIsMeant) {
    EXPECT_EQ(money(4.52), "4.5");
    EXPECT_EQ(money(38.4), "38");
    EXPECT_EQ(money(237), "235");
    EXPECT_EQ(money(1432), "1,450");
    EXPECT_EQ(money(1234567), "1,234,500");
    EXPECT_EQ(money(-12.3), "-12");
    EXPECT_EQ(in_words({40, {31, 52}, {20, 81.2}}, "USD"),
              "About 40 USD. Half of such sales bring 31 to 52, nine in ten 20 to 81.");
}

TEST(Outlooks, QuantilesAreTheInverseOfChances) {
    const std::vector<Weighted> mixture{{0.7, {3.5, 0.04, 0.3, 0.05, 5}}, {0.3, {4.5, 0.2, 0.3, 0.05, 5}}};
    for (const double share : {0.01, 0.05, 0.25, 0.5, 0.9, 0.99})
        EXPECT_NEAR(chance_up_to(mixture, quantile(mixture, share)), share, 1e-7);
    const Weighted plain{1, {std::log(40), 0.0, 0.5, 0, 1}};
    EXPECT_NEAR(quantile({&plain, 1}, 0.95), 40 * std::exp(1.6448536 * 0.5), 1e-4);
    EXPECT_NEAR(mean({&plain, 1}), 40 * std::exp(0.125), 1e-9);
    EXPECT_EQ(chance_up_to(mixture, 0), 0);
}

}  // namespace
}  // namespace footring::worth

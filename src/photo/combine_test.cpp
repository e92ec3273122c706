// SPDX-License-Identifier: Apache-2.0
#include "photo/combine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace footring::photo {
namespace {

Statement says(const std::string& photo, const std::string& place, const std::string& value, double chance) {
    return {photo, {"looks", place, value, looks::Sure::kGuess, chance, value + " by " + photo + "."}};
}
Statement field(const std::string& photo, const std::string& name, const std::string& value, double chance) {
    return {photo, {name, "", value, looks::Sure::kGuess, chance, value + " by " + photo + "."}};
}

TEST(Combine, LeavesASinglePhotographAsItWas) {
    const std::vector<Statement> one = {says("a", "rim", "fern-pair", 0.9), field("a", "glaze", "oat", 0.4)};
    const auto rows = combine(one);
    ASSERT_EQ(rows.size(), 2u);
    EXPECT_EQ(rows[0].what.value, "fern-pair");
    EXPECT_DOUBLE_EQ(rows[0].what.chance, 0.9);
    EXPECT_EQ(rows[0].what.sure, looks::Sure::kGuess);  // as it came in
    EXPECT_EQ(rows[0].what.why, "fern-pair by a.");
    EXPECT_DOUBLE_EQ(rows[1].what.chance, 0.4);
}

TEST(Combine, IsSurerOfWhatTwoPhotographsSay) {
    const auto rows = combine(std::vector{says("a", "rim", "fern-pair", 0.8), says("b", "rim", "fern-pair", 0.9)});
    ASSERT_EQ(rows.size(), 1u);
    // both right .8 * .9 = .72, both wrong .2 * .1 = .02
    EXPECT_NEAR(rows[0].what.chance, 0.72 / 0.74, 1e-12);
    EXPECT_EQ(rows[0].what.sure, looks::Sure::kLikely);
    EXPECT_EQ(rows[0].what.why, "2 photographs agree. fern-pair by b.");
    EXPECT_EQ(rows[0].for_it.size(), 2u);
    EXPECT_TRUE(rows[0].against.empty());
}

TEST(Combine, LetsTheMoreCertainWinAndShowsWhoDisagrees) {
    const auto rows = combine(std::vector{says("a", "rim", "bell-row", 0.6), says("b", "rim", "fern-pair", 0.9)});
    ASSERT_EQ(rows.size(), 1u);
    EXPECT_EQ(rows[0].what.value, "fern-pair");
    // fern .9 * .4 = .36, bell .6 * .1 = .06, neither .4 * .1 = .04
    EXPECT_NEAR(rows[0].what.chance, 0.36 / 0.46, 1e-12);
    EXPECT_EQ(rows[0].what.sure, looks::Sure::kGuess);
    EXPECT_EQ(rows[0].what.why, "fern-pair by b. Another photograph says bell-row (60 %): bell-row by a.");
    ASSERT_EQ(rows[0].against.size(), 1u);
    EXPECT_EQ(rows[0].against[0].photo, "a");
}

TEST(Combine, LetsTwoThatAgreeOutvoteOneThatIsSurer) {
    const auto rows = combine(std::vector{says("a", "rim", "fern-pair", 0.8), says("b", "rim", "bell-row", 0.85),
                                          says("c", "rim", "fern-pair", 0.8)});
    // fern .8 * .8 * .15 = .096, bell .2 * .2 * .85 = .034, neither .006
    EXPECT_EQ(rows[0].what.value, "fern-pair");
    EXPECT_NEAR(rows[0].what.chance, 0.096 / 0.136, 1e-12);
}

TEST(Combine, TakesAnUnrecognisedOrnamentAsAgreeingWithANamedOne) {
    const auto rows = combine(std::vector{says("a", "rim", "something", 0.97), says("b", "rim", "fern-pair", 0.9)});
    EXPECT_EQ(rows[0].what.value, "fern-pair");
    EXPECT_DOUBLE_EQ(rows[0].what.chance, 0.9);
    EXPECT_TRUE(rows[0].against.empty());
    const auto bare = combine(std::vector{says("a", "rim", "something", 0.97), says("b", "rim", "none", 0.6)});
    EXPECT_EQ(bare[0].what.value, "something");
    // there .97 * .4 = .388, bare .03 * .6 = .018, neither .03 * .4 = .012
    EXPECT_NEAR(bare[0].what.chance, 0.388 / 0.418, 1e-12);
    EXPECT_EQ(bare[0].against[0].what.value, "none");
}

TEST(Combine, FallsBackToSomethingWhereTheNameIsDoubtful) {
    const auto rows = combine(std::vector{says("a", "rim", "fern-pair", 0.55), says("b", "rim", "bell-row", 0.55),
                                          says("c", "rim", "worn", 0.9)});
    EXPECT_EQ(rows[0].what.value, "worn");
    EXPECT_GT(rows[0].what.chance, 0.85);
    EXPECT_EQ(rows[0].for_it.size(), 3u);  // all three say that there is something
    EXPECT_EQ(rows[0].for_it[0].photo, "c");
}

TEST(Combine, TakesLengthsWithinOnePerCentAsAgreeing) {
    const auto near =
        combine(std::vector{field("a", "length_mm", "227", 0.9), field("b", "length_mm", "229", 0.95)});
    EXPECT_EQ(near[0].what.value, "229");
    EXPECT_TRUE(near[0].against.empty());
    const auto far =
        combine(std::vector{field("a", "length_mm", "227", 0.9), field("b", "length_mm", "231", 0.95)});
    EXPECT_EQ(far[0].what.value, "231");
    EXPECT_EQ(far[0].against.size(), 1u);
    EXPECT_LT(far[0].what.chance, 0.95);
}

TEST(Combine, KeepsThingsApart) {
    const auto rows = combine(std::vector{says("a", "rim", "fern-pair", 0.9), says("a", "edge", "none", 0.9),
                                          field("b", "mark", "m-3", 0.9), says("b", "edge", "none", 0.9)});
    ASSERT_EQ(rows.size(), 3u);
    EXPECT_EQ(rows[0].what.place, "rim");
    EXPECT_EQ(rows[1].what.place, "edge");
    EXPECT_EQ(rows[2].what.field, "mark");
}

TEST(Combine, IsNeverSurerThanPhotographsOfOnePieceCanBe) {
    std::vector<Statement> many;
    for (const char* photo : {"a", "b", "c", "d", "e"}) many.push_back(says(photo, "rim", "fern-pair", 0.9));
    EXPECT_DOUBLE_EQ(combine(many)[0].what.chance, kSurestTogether);
    many.push_back(says("f", "rim", "fern-pair", 0.999));
    EXPECT_DOUBLE_EQ(combine(many)[0].what.chance, 0.999);
}

TEST(Combine, GivesAnAnswerWhereCertaintiesContradictEachOther) {
    const auto rows = combine(std::vector{says("a", "rim", "fern-pair", 1), says("b", "rim", "bell-row", 1)});
    ASSERT_EQ(rows.size(), 1u);
    EXPECT_DOUBLE_EQ(rows[0].what.chance, 0);
    EXPECT_FALSE(rows[0].what.sure);
    EXPECT_EQ(rows[0].against.size(), 1u);
}

// The slow twin: walk through every combination of right and wrong statements, and keep those that can be true
// together.
double by_counting(const std::vector<Statement>& all, const std::string& value) {
    double wanted = 0, sum = 0;
    for (unsigned right = 0; right < 1u << all.size(); ++right) {
        double p = 1;
        std::string truth;
        bool possible = true;
        for (std::size_t i = 0; i < all.size(); ++i) {
            const bool is_right = (right >> i & 1) != 0;
            p *= is_right ? all[i].what.chance : 1 - all[i].what.chance;
            if (is_right && !truth.empty() && truth != all[i].what.value) possible = false;
            if (is_right) truth = all[i].what.value;
        }
        for (std::size_t i = 0; i < all.size(); ++i)
            if ((right >> i & 1) == 0 && all[i].what.value == truth) possible = false;
        if (!possible) continue;
        sum += p;
        if (truth == value) wanted += p;
    }
    return wanted / sum;
}

TEST(Combine, AgreesWithCountingEveryCombinationAndNotWithTheOrder) {
    std::mt19937 random(7);
    const std::vector<std::string> values = {"fern-pair", "bell-row", "none"};
    for (int round = 0; round < 300; ++round) {
        std::vector<Statement> all;
        const int n = 2 + round % 4;
        for (int i = 0; i < n; ++i)
            all.push_back(says(std::string(1, static_cast<char>('a' + i)), "rim", values[random() % 3],
                               0.5 + 0.49 * static_cast<double>(random() % 1000) / 1000));
        const Combined row = combine(all).front();
        if (!row.against.empty()) EXPECT_NEAR(row.what.chance, by_counting(all, row.what.value), 1e-9);
        else EXPECT_GE(row.what.chance, std::min(kSurestTogether, by_counting(all, row.what.value)) - 1e-9);
        for (const std::string& other : values)
            EXPECT_LE(by_counting(all, other), by_counting(all, row.what.value) + 1e-9);
        std::ranges::shuffle(all, random);
        const Combined shuffled = combine(all).front();
        EXPECT_EQ(shuffled.what.value, row.what.value);
        EXPECT_NEAR(shuffled.what.chance, row.what.chance, 1e-12);
    }
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "dating/clue_statements.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;

constexpr YearRange kRange{1870, 1990};

std::vector<YearStatement> statements(const std::vector<WordingText>& texts) {
    auto made = clue_statements(ClueFinder(law_pack()), texts, kRange, true, Settings{});
    EXPECT_TRUE(made) << to_line(made.error());
    return *made;
}
std::vector<std::string> subjects(const std::vector<YearStatement>& list) {
    std::vector<std::string> out;
    for (const YearStatement& one : list) out.push_back(one.subject);
    return out;
}

TEST(ClueStatements, SayWhatTheWordingTellsAndWhereItStands) {
    const auto made = statements({{"MADE IN OCCUPIED JAPAN", "the wording given", 1}});
    ASSERT_THAT(subjects(made), ElementsAre("wording occupied-japan"));
    EXPECT_EQ(made[0].what,
              "\"MADE IN OCCUPIED JAPAN\" in the wording given tells between 20 February 1947 and 28 "
              "April 1952");
    EXPECT_EQ(made[0].agrees[1946 - 1870], 0);
    EXPECT_EQ(made[0].agrees[1947 - 1870], 1);
    EXPECT_EQ(made[0].agrees[1953 - 1870], 0);
    EXPECT_NEAR(made[0].trust, 0.98, 0.02);
}

TEST(ClueStatements, CountAClueOnceHoweverOftenItIsThere) {
    const auto twice = statements({{"Nippon", "photograph 1", 0.5}, {"NIPPON", "the wording given", 1}});
    ASSERT_THAT(subjects(twice), ElementsAre("wording nippon"));
    EXPECT_THAT(twice[0].what, ::testing::HasSubstr("the wording given")) << "the one that is read better stays";
}

TEST(ClueStatements, ReadBadlyWeighLess) {
    EXPECT_DOUBLE_EQ(statements({{"NIPPON", "photograph 1", 0.5}})[0].trust,
                     0.5 * statements({{"NIPPON", "photograph 1", 1}})[0].trust);
}

TEST(ClueStatements, SayWhenTheirRuleWasNotVerified) {
    const auto made = statements({{"Microwave safe", "the wording given", 1}});
    ASSERT_EQ(made.size(), 1u);
    EXPECT_THAT(made[0].what, ::testing::EndsWith("(not verified)"));
}

TEST(ClueStatements, OfNoWordsAreNone) { EXPECT_TRUE(statements({{"  \n", "the wording given", 1}}).empty()); }

}  // namespace
}  // namespace footring::dating

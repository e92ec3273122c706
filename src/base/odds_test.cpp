// SPDX-License-Identifier: Apache-2.0
#include "base/odds.h"

#include <gtest/gtest.h>

namespace footring {
namespace {

TEST(Odds, AreSaidInWords) {
    EXPECT_EQ(odds_in_words(0.999), "all but certain");
    EXPECT_EQ(odds_in_words(0.95), "very likely");
    EXPECT_EQ(odds_in_words(0.61), "rather likely");
    EXPECT_EQ(odds_in_words(0.5), "about even");
    EXPECT_EQ(odds_in_words(0.2), "unlikely");
    EXPECT_EQ(odds_in_words(0.02), "very unlikely");
    EXPECT_EQ(odds_in_words(0.001), "all but ruled out");
}

TEST(Odds, NeverClaimCertaintyByRounding) {
    EXPECT_EQ(odds_in_figures(0.996), "over 99 in 100");
    EXPECT_EQ(odds_in_figures(0.71), "71 in 100");
    EXPECT_EQ(odds_in_figures(0.004), "under 1 in 100");
}

}  // namespace
}  // namespace footring

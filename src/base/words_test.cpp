// SPDX-License-Identifier: Apache-2.0
#include "base/words.h"

#include <gtest/gtest.h>

#include <vector>

namespace footring {
namespace {

using Words = std::vector<std::string>;

TEST(Words, ACapitalChangesOneLetterAndNothingElse) {
    EXPECT_EQ(capital("rim of gold"), "Rim of gold");
    EXPECT_EQ(capital("117"), "117");
    EXPECT_EQ(capital("\u00e9tag\u00e8re"), "\u00e9tag\u00e8re");
    EXPECT_EQ(capital(""), "");
}

TEST(Words, JoiningLeavesOutWhatIsEmpty) {
    EXPECT_EQ(joined(Words{"", "Harrow", "", "oat"}, ", "), "Harrow, oat");
    EXPECT_EQ(joined(Words{}, ", "), "");
}

TEST(Words, AListHasItsLastWordBehindAnd) {
    EXPECT_EQ(listed(Words{"a"}), "a");
    EXPECT_EQ(listed(Words{"a", "b"}), "a and b");
    EXPECT_EQ(listed(Words{"a", "b", "c"}, " or "), "a, b or c");
}

}  // namespace
}  // namespace footring

// SPDX-License-Identifier: Apache-2.0
#include "cli/text_page.h"

#include <gtest/gtest.h>

namespace footring::cli {
namespace {

TEST(TextPage, CountsCharactersAndNotBytes) {
    EXPECT_EQ(width_of("plate"), 5u);
    EXPECT_EQ(width_of("Gefäß"), 5u);
    EXPECT_EQ(padded("Gefäß", 7), "Gefäß  ");
    EXPECT_EQ(padded_left("61 %", 5), " 61 %");
    EXPECT_EQ(padded("long", 2), "long");
}

TEST(TextPage, ShortensWithAnEllipsisAndOnlyWhatIsTooLong) {
    EXPECT_EQ(shortened("sauce boat", 10), "sauce boat");
    EXPECT_EQ(shortened("sauce boat", 7), "sauce …");
    EXPECT_EQ(shortened("Gefäßdeckel", 6), "Gefäß…");
}

TEST(TextPage, WrapsAtTheWidthAndKeepsALongWordWhole) {
    EXPECT_EQ(wrapped("turn it over and read the mark", 14, "- ", "  "),
              "- turn it over\n  and read the\n  mark\n");
    EXPECT_EQ(wrapped("an unbreakablyLongWord here", 10, "", "  "), "an\n  unbreakablyLongWord\n  here\n");
    EXPECT_EQ(wrapped("", 10, "  ", ""), "  \n");
}

TEST(TextPage, ABarIsFilledInEighthsAndNeverHidesASmallShare) {
    EXPECT_EQ(bar(0.5, 4), "██  ");
    EXPECT_EQ(bar(1.0 / 32, 4), "▏   ");
    EXPECT_EQ(bar(1e-6, 4), "▏   ");
    EXPECT_EQ(bar(0, 4), "    ");
    EXPECT_EQ(bar(1, 4), "████");
    EXPECT_EQ(bar(7, 4), "████");  // no share is over 1; a wrong one does not break the page
}

TEST(TextPage, ASignedBarGrowsFromTheMiddle) {
    EXPECT_EQ(signed_bar(0.5, 4), "    │██  ");
    EXPECT_EQ(signed_bar(-0.5, 4), "  ▒▒│    ");
    EXPECT_EQ(signed_bar(0, 4), "    │    ");
    EXPECT_EQ(signed_bar(-0.01, 4), "   ▒│    ");
}

TEST(TextPage, ASkylineIsTallestWhereTheValuesAreLargest) {
    const std::vector<double> hill{0, 0.125, 0.5, 1, 0.5, 0.125, 0};
    EXPECT_EQ(skyline(hill, 20), " ▁▄█▄▁ ");
    const std::vector<double> pairs{1, 1, 0.5, 0.5};
    EXPECT_EQ(skyline(pairs, 2), "█▄");
    EXPECT_EQ(skyline({}, 5), "");
    const std::vector<double> nothing{0, 0};
    EXPECT_EQ(skyline(nothing, 5), "  ");
}

TEST(TextPage, PercentagesNeverRoundDoubtAway) {
    EXPECT_EQ(percent(0.614), "61 %");
    EXPECT_EQ(percent(0.0004), "<1 %");
    EXPECT_EQ(percent(0.9996), ">99 %");
    EXPECT_EQ(percent(1), "100 %");
    EXPECT_EQ(percent(0), "0 %");
}

TEST(TextPage, InkIsInvisibleWhenItIsOff) {
    EXPECT_EQ(Ink{false}.strong("Date"), "Date");
    EXPECT_EQ(Ink{true}.strong("Date"), "\x1b[1mDate\x1b[0m");
}

}  // namespace
}  // namespace footring::cli

// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

std::string printed(std::string_view text) {
    const auto date = parse(text);
    EXPECT_TRUE(date) << to_line(date.error());
    return date ? print(*date) : "";
}

TEST(EdtfPrint, WritesEachMarkOnceAndNoBlanks) {
    EXPECT_EQ(printed("?1985"), "1985?");
    EXPECT_EQ(printed("2004?-06?"), "2004-06?");
    EXPECT_EQ(printed("~2004-~06-11"), "2004-06~-11");
    EXPECT_EQ(printed("?2004-06-11"), "2004?-06-11");
    EXPECT_EQ(printed("2004?-06~-11"), "%2004-~06-11");
    EXPECT_EQ(printed("?1985~"), "1985%");
    EXPECT_EQ(printed("~-0043-05"), "-0043~-05");
    EXPECT_EQ(printed("2004-~06-~11"), "2004-~06-~11");
    EXPECT_EQ(printed("{1667 , 1668,  1670..1672}"), "{1667,1668,1670..1672}");
    EXPECT_EQ(printed("Y0017E007"), "Y17E7");
    EXPECT_EQ(printed("1985-04-12T23:20:30+0430"), "1985-04-12T23:20:30+04:30");
}

// Every way of putting marks beside the components of a date, with and without unspecified digits.
TEST(EdtfPrint, IsReadBackAsTheSameDateAndPrintsTheSameAgain) {
    const std::string marks[] = {"", "?", "~", "%"};
    int dates = 0;
    for (const char* year : {"2004", "-0043", "193X"})
        for (const char* month : {"", "-06", "-XX"})
            for (const char* day : {"", "-11", "-XX"})
                for (int bits = 0; bits < 4096; ++bits) {
                    if (*month == '\0' && (*day != '\0' || bits >= 16)) continue;
                    if (*day == '\0' && bits >= 256) continue;
                    const auto mark = [&](int at) { return marks[(bits >> (2 * at)) & 3]; };
                    std::string text = fmt::format("{}{}{}", mark(0), year, mark(1));
                    if (*month != '\0') text += fmt::format("-{}{}{}", mark(2), month + 1, mark(3));
                    if (*day != '\0') text += fmt::format("-{}{}{}", mark(4), day + 1, mark(5));
                    const auto date = parse(text);
                    ASSERT_TRUE(date) << to_line(date.error());
                    const std::string out = print(*date);
                    const auto again = parse(out);
                    ASSERT_TRUE(again) << text << ": " << to_line(again.error());
                    ASSERT_EQ(print(*again), out) << text;
                    ASSERT_TRUE(*again == *date) << text;
                    ASSERT_EQ(again->level(), date->level()) << text;
                    ASSERT_EQ(again->earliest(), date->earliest()) << text;
                    ASSERT_EQ(again->latest(), date->latest()) << text;
                    ASSERT_EQ(again->approximate(), date->approximate()) << text;
                    ASSERT_EQ(again->uncertain(), date->uncertain()) << text;
                    ASSERT_EQ(again->spans(), date->spans()) << text;
                    ++dates;
                }
    EXPECT_EQ(dates, 3 * (16 + 2 * 256 + 2 * 2 * 4096));
}

TEST(EdtfPrint, EqualityIsOfWhatIsStatedNotOfTheText) {
    EXPECT_TRUE(*parse("?1985") == *parse("1985?"));
    EXPECT_FALSE(*parse("1985") == *parse("1985?"));
    EXPECT_FALSE(*parse("1985/") == *parse("1985/.."));
    EXPECT_FALSE(*parse("[1985]") == *parse("{1985}"));
    EXPECT_EQ(parse("?1985")->text(), "?1985");
}

TEST(EdtfPrint, ADateThatWasNeverReadPrintsEmpty) {
    EXPECT_EQ(print(Edtf{}), "");
    EXPECT_EQ(in_words(Edtf{}), "");
    EXPECT_EQ(caution(Edtf{}), "");
}

}  // namespace
}  // namespace footring::edtf

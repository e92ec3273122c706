// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gtest/gtest.h>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

constexpr const char* kGeneral =
    "write a date such as 1934, 1934-05, 1934~ (about), 193X (the 1930s), 1931/1940 or ../1940 (not later)";

std::string refused(std::string_view text) {
    const auto date = parse(text);
    EXPECT_FALSE(date) << text;
    return date ? "" : to_line(date.error());
}
std::string remedy(std::string_view text) {
    const auto date = parse(text);
    EXPECT_FALSE(date) << text;
    return date ? "" : date.error().remedy;
}

TEST(EdtfRefusal, SaysWhatIsWrongAtWhichCharacterAndHowToWriteIt) {
    EXPECT_EQ(refused("c. 1934"), "date 'c. 1934': 'c' cannot begin a date (character 1): write 1934~");
    EXPECT_EQ(refused("1930s"), "date '1930s': 's' cannot follow '1930' (character 5): write 193X");
    EXPECT_EQ(refused("before 1940"), "date 'before 1940': 'b' cannot begin a date (character 1): write ../1940");
    EXPECT_EQ(refused("1930-1940"),
              "date '1930-1940': '1940' is not a month of two digits (character 6): write 1930/1940");
    EXPECT_EQ(refused("1930-45"), "date '1930-45': there is no month 45 (character 6): write 1930/1945");
    EXPECT_EQ(refused("1985-04-31"),
              "date '1985-04-31': April 1985 has only 30 days (character 9): write 1985-04 for the whole month");
    EXPECT_EQ(refused("1985-00"),
              "date '1985-00': there is no month 00 (character 6): months are 01 to 12, seasons and "
              "other parts of a year 21 to 41");
    EXPECT_EQ(refused("19X1-02-29"),
              "date '19X1-02-29': no date of the calendar fits '19X1-02-29' (character 9): months "
              "are 01 to 12 and days 01 to 31");
    EXPECT_EQ(refused("[1667,1668"),
              "date '[1667,1668': the closing ] is missing (character 11): write [1667,1668]");
    EXPECT_EQ(refused("1985/P10Y"),
              "date '1985/P10Y': a duration cannot stand here (character 6): write the date at which it ends");
    EXPECT_EQ(refused("85"),
              "date '85': '85' is not a year of four digits (character 1): write all four digits, with X "
              "for those that are not known");
    EXPECT_EQ(
        refused("1985-366"),
        "date '1985-366': '366' is not a month of two digits (character 6): write the month and the day with two "
        "digits each, such as 1934-05-12");
    EXPECT_EQ(refused(""), fmt::format("date '': nothing is written: {}", kGeneral));
    EXPECT_EQ(refused("rubbish"),
              fmt::format("date 'rubbish': 'r' cannot begin a date (character 1): {}", kGeneral));
}

TEST(EdtfRefusal, AnIntervalThatEndsBeforeItBeginsIsToBeSwapped) {
    EXPECT_EQ(refused("1940/1931"),
              "date '1940/1931': it ends before it begins (character 6): swap the two: 1931/1940");
    EXPECT_EQ(refused("1985-04-12~/1985-04-11"),
              "date '1985-04-12~/1985-04-11': it ends before it begins (character 13): swap the two: "
              "1985-04-11/1985-04-12~");
    EXPECT_EQ(refused("[1672..1670]"),
              "date '[1672..1670]': the range ends before it begins (character 8): swap the two: 1670..1672");
}

TEST(EdtfRefusal, CountsCharactersAndNotBytes) {
    const std::string text =
        "1930\u2013"
        "1940\u00E9";
    EXPECT_EQ(refused(text),
              fmt::format("date '{}': '\u2013' cannot follow '1930' (character 5): {}", text, kGeneral));
    EXPECT_EQ(remedy("1930\xE2\x80\x93"
                     "1940"),
              "write 1930/1940");
    EXPECT_NE(refused("[1984,\xC3\xA9]").find("(character 7)"), std::string::npos);
}

TEST(EdtfRefusal, QuotesOnlyCleanTextOfReasonableLength) {
    EXPECT_EQ(parse("\x01\xFF\n1934").error().where, "date '???1934'");
    EXPECT_EQ(parse(std::string(500, 'x')).error().where, fmt::format("date '{}...'", std::string(40, 'x')));
    EXPECT_EQ(parse(std::string_view("1934\0", 5)).error().where, "date '1934?'");
}

// What catalogues and letters write, and what it is in EDTF.
TEST(EdtfRefusal, KnowsHowPeopleWriteDates) {
    const struct {
        const char *text, *meant;
    } kHabits[] = {
        {"circa 1934", "1934~"},
        {"ca. 1934-05", "1934-05~"},
        {"about 1930 to 1940", "1930~/1940~"},
        {"c. 1930s", "193X~"},
        {"probably 1934", "1934?"},
        {"1934 (?)", "1934?"},
        {"c. 1934?", "1934%"},
        {"1930's", "193X"},
        {"the 1930s", "193X"},
        {"1900s", "190X or 19XX"},
        {"early 1930s", "1930/1933~"},
        {"mid-1930s", "1934~/1936~"},
        {"late 1930s", "1937~/1939"},
        {"19th century", "18XX"},
        {"late 19th century", "1870~/1899"},
        {"by 1940", "../1940"},
        {"not after 1940", "../1940"},
        {"pre-1940", "../1940"},
        {"1940 or earlier", "../1940"},
        {"after 1930", "1930/.."},
        {"since c. 1930", "1930~/.."},
        {"1930 onwards", "1930/.."},
        {"1930+", "1930/.."},
        {"1930-", "1930/.."},
        {"1930 to present", "1930/.."},
        {"post-1930", "1930/.."},
        {"between 1930 and 1940", "1930/1940"},
        {"from 1930 until 1940", "1930/1940"},
        {"1930 - 40", "1930/1940"},
        {"c. 1930-35", "1930~/1935~"},
        {"c. 1910-12", "1910~/1912~"},  // without "c." it is December 1910
        {"1930/40", "1930/1940"},
        {"1930s-1940s", "193X/194X"},
        {"1930-5", "1930-05 or 1930/1935"},
        {"1985-4", "1985-04"},
        {"1934-5-2", "1934-05-02"},
        {"12 June 1934", "1934-06-12"},
        {"June 12th, 1934", "1934-06-12"},
        {"Sept. 1934", "1934-09"},
        {"fall 1931", "1931-23"},
        {"12/25/1934", "1934-12-25"},
        {"25.12.1934", "1934-12-25"},
        {"4/5/1934", "1934-05-04 or 1934-04-05"},
        {"19340512", "1934-05-12"},
        {"193-", "193X"},
        {"193-?", "193X?"},
        {"19--", "19XX"},
        {"193x", "193X"},
        {"[c. 1934]", "1934~"},
        {"1930 or 1931", "[1930,1931]"},
        {"1930, 1931 and 1935", "{1930,1931,1935}"},
        {"1985?~", "1985%"},
        {"open/1985", "../1985"},
        {"1985/unknown", "1985/"},
        {" 1934 ", "1934"},
    };
    for (const auto& [text, meant] : kHabits) EXPECT_EQ(remedy(text), fmt::format("write {}", meant)) << text;
}

TEST(EdtfRefusal, NeverAdvisesWhatItWouldRefuse) {
    for (const char* text : {"31 June 1934", "c. 1940-1930", "30/02/1934", "0th century", "between 1940 and 1930",
                             "1930s or", "late", "before", "(((((((((((((((("})
        EXPECT_EQ(remedy(text), kGeneral) << text;
}

}  // namespace
}  // namespace footring::edtf

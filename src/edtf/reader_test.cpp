// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <limits>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

using testing::ElementsAre;

Edtf read(std::string_view text) {
    const auto date = parse(text);
    EXPECT_TRUE(date) << to_line(date.error());
    return date.value_or(Edtf{});
}
Span years(std::optional<std::int64_t> first, std::optional<std::int64_t> last, End first_end = End::kSharp,
           End last_end = End::kSharp) {
    return {first, last, first_end, last_end};
}
Day day(std::int64_t year, int month, int of_month) { return {year, month, of_month}; }

TEST(EdtfReader, ADateSpansItsYear) {
    EXPECT_THAT(read("1934").spans(), ElementsAre(years(1934, 1934)));
    EXPECT_THAT(read("1934-05-12").spans(), ElementsAre(years(1934, 1934)));
    EXPECT_THAT(read("-0043").spans(), ElementsAre(years(-43, -43)));
    EXPECT_THAT(read("0000").spans(), ElementsAre(years(0, 0)));
}

TEST(EdtfReader, ASeasonHasNoDaysAndYetSpansItsYear) {
    for (int code = 21; code <= 32; ++code) {
        const Edtf season = read(fmt::format("2001-{}", code));
        EXPECT_EQ(season.earliest(), std::nullopt) << code;
        EXPECT_EQ(season.latest(), std::nullopt) << code;
        EXPECT_THAT(season.spans(), ElementsAre(years(2001, 2001))) << code;
        EXPECT_EQ(season.level(), code <= 24 ? 1 : 2) << code;
    }
}

TEST(EdtfReader, QuartersThirdsAndHalvesHaveDays) {
    const auto expect = [](std::string_view text, Day first, Day last) {
        EXPECT_EQ(read(text).earliest(), first) << text;
        EXPECT_EQ(read(text).latest(), last) << text;
    };
    expect("2001-33", day(2001, 1, 1), day(2001, 3, 31));
    expect("2001-36", day(2001, 10, 1), day(2001, 12, 31));
    expect("2004-37", day(2004, 1, 1), day(2004, 4, 30));
    expect("2004-38", day(2004, 5, 1), day(2004, 8, 31));
    expect("2004-39", day(2004, 9, 1), day(2004, 12, 31));
    expect("2004-40", day(2004, 1, 1), day(2004, 6, 30));
    expect("-2004-41", day(-2004, 7, 1), day(-2004, 12, 31));
}

TEST(EdtfReader, MarksSoftenTheYearOnlyWhereTheyApplyToIt) {
    const auto end_of = [](std::string_view text) { return read(text).spans().front().first_end; };
    EXPECT_EQ(end_of("1934~"), End::kAbout);
    EXPECT_EQ(end_of("1934?"), End::kUncertain);
    EXPECT_EQ(end_of("1934%"), End::kUncertain);
    EXPECT_EQ(end_of("2004-06-11~"), End::kAbout);  // the whole date
    EXPECT_EQ(end_of("2004-06~-11"), End::kAbout);  // month and year
    EXPECT_EQ(end_of("2004?-06-11"), End::kUncertain);
    EXPECT_EQ(end_of("?2004-06-~11"), End::kUncertain);
    EXPECT_EQ(end_of("2004-06-~11"), End::kSharp);  // the day alone
    EXPECT_EQ(end_of("2004-%06-11"), End::kSharp);  // the month alone
    EXPECT_EQ(end_of("2004-~06~"), End::kAbout);    // the right mark holds for the year too
}

TEST(EdtfReader, UnspecifiedDigitsOfTheYearAreAboutAtBothEnds) {
    EXPECT_THAT(read("193X").spans(), ElementsAre(years(1930, 1939, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("19XX").spans(), ElementsAre(years(1900, 1999, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("19X4").spans(), ElementsAre(years(1904, 1994, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("193X-12-25").spans(), ElementsAre(years(1930, 1939, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("1934-XX").spans(), ElementsAre(years(1934, 1934)));
    EXPECT_THAT(read("193X?").spans(), ElementsAre(years(1930, 1939, End::kUncertain, End::kUncertain)));
}

TEST(EdtfReader, AnIntervalTakesEachEndFromItsOwnDate) {
    EXPECT_THAT(read("1930~/1940").spans(), ElementsAre(years(1930, 1940, End::kAbout, End::kSharp)));
    EXPECT_THAT(read("1930/1940?").spans(), ElementsAre(years(1930, 1940, End::kSharp, End::kUncertain)));
    EXPECT_THAT(read("193X/1945").spans(), ElementsAre(years(1930, 1945, End::kAbout, End::kSharp)));
    EXPECT_THAT(read("1930~/..").spans(), ElementsAre(years(1930, std::nullopt, End::kAbout)));
    EXPECT_THAT(read("/1940").spans(), ElementsAre(years(std::nullopt, 1940)));
    EXPECT_THAT(read("2004-06/2004").spans(), ElementsAre(years(2004, 2004)));
    EXPECT_THAT(read("1935-06/193X").spans(), ElementsAre(years(1935, 1939, End::kSharp, End::kAbout)));
    EXPECT_THAT(read("1934/1934").spans(), ElementsAre(years(1934, 1934)));
}

TEST(EdtfReader, ASetHasASpanForEachMember) {
    EXPECT_THAT(read("[1667,1668,1670..1672]").spans(),
                ElementsAre(years(1667, 1667), years(1668, 1668), years(1670, 1672)));
    EXPECT_THAT(read("{..1984,1986~,1990-12..}").spans(),
                ElementsAre(years(std::nullopt, 1984), years(1986, 1986, End::kAbout, End::kAbout),
                            years(1990, std::nullopt)));
}

TEST(EdtfReader, ASetThatIsOutOfOrderStillKnowsItsOutermostDays) {
    const Edtf set = read("[1672,1667-03,1670]");
    EXPECT_EQ(set.earliest(), day(1667, 3, 1));
    EXPECT_EQ(set.latest(), day(1672, 12, 31));
}

TEST(EdtfReader, TheTwentyNinthOfFebruaryNeedsALeapYear) {
    for (const char* good : {"2000-02-29", "2004-02-29", "0000-02-29", "-0004-02-29", "1600-02-29"})
        EXPECT_TRUE(parse(good)) << good;
    for (const char* bad : {"1900-02-29", "2001-02-29", "-0001-02-29", "2100-02-29", "19X1-02-29", "2004-02-30"})
        EXPECT_FALSE(parse(bad)) << bad;
    EXPECT_EQ(read("2004-02").latest(), day(2004, 2, 29));
    EXPECT_EQ(read("1900-02").latest(), day(1900, 2, 28));
    EXPECT_EQ(read("193X-02-29").earliest(), day(1932, 2, 29));
    EXPECT_EQ(read("193X-02-29").latest(), day(1936, 2, 29));
    EXPECT_EQ(read("193X-02-XX").latest(), day(1939, 2, 28));
}

TEST(EdtfReader, UnspecifiedDigitsAreFilledOnlyWithWhatTheCalendarHas) {
    EXPECT_EQ(read("1984-X3").earliest(), day(1984, 3, 1));
    EXPECT_EQ(read("1984-X0").earliest(), day(1984, 10, 1));
    EXPECT_EQ(read("1984-0X-31").latest(), day(1984, 8, 31));
    EXPECT_EQ(read("1985-04-3X").earliest(), day(1985, 4, 30));
    EXPECT_EQ(read("1985-04-X0").earliest(), day(1985, 4, 10));
    EXPECT_EQ(read("-193X-XX").earliest(), day(-1939, 1, 1));
    EXPECT_EQ(read("-00X0").latest(), day(-10, 12, 31));  // there is no year -0000
    EXPECT_FALSE(parse("1984-3X"));
    EXPECT_FALSE(parse("1984-XX-4X"));
}

TEST(EdtfReader, SignificantDigitsWidenTheYear) {
    EXPECT_THAT(read("1950S2").spans(), ElementsAre(years(1900, 1999, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("-1950S3").spans(), ElementsAre(years(-1959, -1950, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("0950S1").spans(), ElementsAre(years(900, 999, End::kAbout, End::kAbout)));
    EXPECT_THAT(read("1950S4").spans(), ElementsAre(years(1950, 1950)));
}

TEST(EdtfReader, YearsBeyondSixtyFourBitsAreRefusedAndNeverOverflow) {
    constexpr std::int64_t kMost = std::numeric_limits<std::int64_t>::max();
    EXPECT_THAT(read("Y9223372036854775807").spans(), ElementsAre(years(kMost, kMost)));
    EXPECT_THAT(read("Y-9223372036854775807").spans(), ElementsAre(years(-kMost, -kMost)));
    EXPECT_THAT(read("Y9E18").spans(), ElementsAre(years(9'000'000'000'000'000'000, 9'000'000'000'000'000'000)));
    EXPECT_THAT(read("Y0E999999999999").spans(), ElementsAre(years(0, 0)));
    for (const char* far : {"Y9223372036854775808", "Y-9223372036854775808", "Y99999999999999999999999", "Y1E19",
                            "Y10E18", "Y1E999999999999", "Y9223372036854775807S1"})
        EXPECT_EQ(to_line(parse(far).error()),
                  fmt::format("date '{}': the year is too far away to be kept (character 1): years reach from "
                              "Y-9223372036854775807 to Y9223372036854775807",
                              far));
}

TEST(EdtfReader, TheLevelIsTheLeastThatAllowsTheDate) {
    const auto level = [](std::string_view text) { return read(text).level(); };
    EXPECT_EQ(level("1985-04-12T23:20:30Z"), 0);
    EXPECT_EQ(level("1934/1940"), 0);
    EXPECT_EQ(level("-0043/1940"), 1);
    EXPECT_EQ(level("1934~/1940-05?"), 1);
    EXPECT_EQ(level("1934/.."), 1);
    EXPECT_EQ(level("193X~"), 1);
    EXPECT_EQ(level("2004?-06?"), 1);  // all of it uncertain: 2004-06?
    EXPECT_EQ(level("XXXX"), 2);
    EXPECT_EQ(level("19X4"), 2);
    EXPECT_EQ(level("193X/194X"), 2);
    EXPECT_EQ(level("1934-X5"), 2);
    EXPECT_EQ(level("1950S2"), 2);
    EXPECT_EQ(level("[1934]"), 2);
}

TEST(EdtfReader, OneOpenMemberOrSeasonLeavesTheWholeWithoutThatDay) {
    EXPECT_EQ(read("[..1984,1986]").earliest(), std::nullopt);
    EXPECT_EQ(read("[..1984,1986]").latest(), day(1986, 12, 31));
    EXPECT_EQ(read("[1984,1986..]").latest(), std::nullopt);
}

TEST(EdtfReader, TimesOfDayAreKeptAndDoNotMoveTheDay) {
    for (const char* text :
         {"1985-04-12T23:20:30-04", "1985-04-12T24:00:00", "1985-04-12T00:00", "1985-04-12T23:20:30.25+14:00"}) {
        EXPECT_EQ(read(text).earliest(), day(1985, 4, 12)) << text;
        EXPECT_EQ(read(text).latest(), day(1985, 4, 12)) << text;
    }
    for (const char* bad : {"1985-04T23:20:30", "1985-04-12~T23:20:30", "1985-04-12T23", "1985-04-12T24:00:01",
                            "1985-04-12T23:20:30-00", "1985-04-12T23:20:30+15", "1985-04-12T23:20:30.",
                            "1985-04-12T23:20:30/1986", "1985-04-12T23:20:30~", "1985-04-12T2X:20:30"})
        EXPECT_FALSE(parse(bad)) << bad;
}

TEST(EdtfReader, RefusesWhatTheSpecificationDoesNotAllowTogether) {
    for (const char* bad : {"2001-21~",
                            "?2001-21",
                            "193X-21",
                            "2001-21/2003",
                            "1990/2001-21",
                            "[2001-21]",
                            "1950S2/1960",
                            "[1950S2]",
                            "1950S2~",
                            "19XXS2",
                            "~Y12345",
                            "Y12345~",
                            "1950S0",
                            "1950S",
                            "Y",
                            "Y-",
                            "YE5",
                            "Y1E",
                            "Y-0E5",
                            "Y012345",
                            "2004-06-11-12",
                            "2004-06-",
                            "[1984,..1986]",
                            "[1984..,1986]",
                            "[..1984..]",
                            "[..1984..1986]",
                            "[1672..1670]",
                            "[1670..1672-01]",
                            "[1670~..1672]",
                            "[]",
                            "{}",
                            "[1984,]",
                            "[,1984]",
                            "[ 1984]",
                            "[1984 ]",
                            "[1984}",
                            "[1984]x",
                            "[1984",
                            "/",
                            "../",
                            "/..",
                            "../..",
                            "85",
                            "198",
                            "19850412",
                            "1984/1985/1986",
                            "1985-01-00",
                            "1985-01-32"})
        EXPECT_FALSE(parse(bad)) << bad;
}

}  // namespace
}  // namespace footring::edtf

// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

struct Saying {
    const char *text, *words;
};

void expect(std::initializer_list<Saying> sayings) {
    for (const auto& [text, words] : sayings) {
        const auto date = parse(text);
        ASSERT_TRUE(date) << to_line(date.error());
        EXPECT_EQ(in_words(*date), words) << text;
    }
}

TEST(EdtfWords, DatesAreSaidAsOnALabel) {
    expect({{"1934", "1934"},
            {"1934-05", "May 1934"},
            {"1934-05-02", "2 May 1934"},
            {"0085", "AD 85"},
            {"-0043", "44 BC"},
            {"0000", "1 BC"},
            {"Y12345", "the year 12345"},
            {"Y-17E7", "170000001 BC"},
            {"1985-04-12T23:20:30", "12 April 1985, 23:20:30"},
            {"1985-04-12T23:20:30Z", "12 April 1985, 23:20:30 UTC"},
            {"1985-04-12T23:20:30-04", "12 April 1985, 23:20:30 UTC-04"}});
}

// Found by fuzz/edtf_fuzz.cpp: what prints alike must be said alike.
TEST(EdtfWords, ATimeZoneIsSaidTheSameWithAndWithoutItsColon) {
    expect({{"1985-04-12T23:20:30+0430", "12 April 1985, 23:20:30 UTC+04:30"},
            {"1985-04-12T23:20:30+04:30", "12 April 1985, 23:20:30 UTC+04:30"}});
}

TEST(EdtfWords, MarksAreWordsWhereTheyHoldForAllAndANoteOtherwise) {
    expect({{"1934~", "about 1934"},
            {"1934?", "perhaps 1934"},
            {"1934%", "perhaps about 1934"},
            {"1934-05~", "about May 1934"},
            {"2004-06~-11", "11 June 2004 (year and month approximate)"},
            {"2004?-06-11", "11 June 2004 (year uncertain)"},
            {"?2004-06-~11", "11 June 2004 (day approximate, year uncertain)"},
            {"2004-%06-11", "11 June 2004 (month uncertain and approximate)"},
            {"193X~", "about the 1930s"},
            {"1934-XX~", "some month in 1934 (approximate)"}});
}

TEST(EdtfWords, UnspecifiedDigitsAreSaidByWhatTheyLeaveOpen) {
    expect({{"193X", "the 1930s"},
            {"190X", "some year from 1900 to 1909"},
            {"19XX", "some year from 1900 to 1999"},
            {"000X", "some year from 1 BC to AD 9"},
            {"-193X", "some year from 1940 BC to 1931 BC"},
            {"19X4", "a year of the form 19X4"},
            {"XXXX", "an unknown year"},
            {"1934-XX", "some month in 1934"},
            {"1934-XX-XX", "some day in 1934"},
            {"1934-04-XX", "some day in April 1934"},
            {"193X-XX", "some month in the 1930s"},
            {"19XX-XX", "some month of some year from 1900 to 1999"},
            {"193X-12-25", "25 December of some year in the 1930s"},
            {"XXXX-12-XX", "some day in December of an unknown year"},
            {"1984-1X", "October, November or December 1984"},
            {"1984-0X", "January to September 1984"},
            {"1985-04-X5", "5, 15 or 25 April 1985"},
            {"1985-04-1X", "10 to 19 April 1985"},
            {"1985-02-2X", "20 to 28 February 1985"},
            {"1985-XX-12", "12 of some month in 1985"}});
}

TEST(EdtfWords, IntervalsSayWhichEndIsOpenAndWhichUnknown) {
    expect(
        {{"1931/1940", "between 1931 and 1940"},
         {"1931~/1940", "between about 1931 and 1940"},
         {"1934/1934", "1934"},
         {"1930/..", "1930 or later"},
         {"1930~/..", "about 1930 or later"},
         {"../1940", "1940 or earlier"},
         {"1930/", "from 1930, end unknown"},
         {"/1940", "until 1940, beginning unknown"},
         {"193X/194X", "between the 1930s and the 1940s"},
         {"2004-06-~01/2004-06-~20", "between 1 June 2004 (day approximate) and 20 June 2004 (day approximate)"}});
}

TEST(EdtfWords, SeasonsAndPartsOfYearsHaveTheirNames) {
    expect({{"2001-21", "spring 2001"},
            {"2001-23", "autumn 2001"},
            {"2001-26", "summer 2001 (northern hemisphere)"},
            {"2001-32", "winter 2001 (southern hemisphere)"},
            {"2001-34", "the second quarter of 2001"},
            {"2001-38", "the middle four months of 2001"},
            {"2001-41", "the second half of 2001"}});
}

TEST(EdtfWords, EstimatesSayHowFarTheyReach) {
    expect({{"1950S2", "some year from 1900 to 1999, estimated at 1950"}, {"1950S4", "1950"}});
}

TEST(EdtfWords, SetsOfferAndListsEnumerate) {
    expect({{"[1667,1668,1670..1672]", "1667, 1668 or 1670 to 1672"},
            {"{1667,1668,1670..1672}", "1667, 1668 and 1670 to 1672"},
            {"{1960,1961-12}", "1960 and December 1961"},
            {"[1934]", "1934"},
            {"[..1984]", "1984 or earlier"},
            {"[1760-12..]", "December 1760 or later"},
            {"{..1984}", "1984 and earlier"},
            {"[..1984,1986]", "1984 or earlier, or 1986"},
            {"{1984,1986..}", "1984, and 1986 and later"}});
}

TEST(EdtfWords, ASeasonThatMayBeTwoYearsIsNotPassedOverInSilence) {
    EXPECT_EQ(caution(*parse("1930-35")),
              "1930-35 means the third quarter of 1930; for the years it is written 1930/1935");
    EXPECT_EQ(caution(*parse("2001-21")), "2001-21 means spring 2001; for the years it is written 2001/2021");
    EXPECT_EQ(caution(*parse("1938-35")), "");  // 1938 to 1935 nobody writes
    EXPECT_EQ(caution(*parse("1930-05")), "");
    EXPECT_EQ(caution(*parse("1930/1935")), "");
}

}  // namespace
}  // namespace footring::edtf

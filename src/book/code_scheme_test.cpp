// SPDX-License-Identifier: Apache-2.0
#include "book/code_scheme.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

CodeScheme scheme(std::string pattern, std::string tables = "", std::string note = "") {
    CodeScheme out{};
    out.id = "c-1";
    out.pattern = std::move(pattern);
    out.tables = std::move(tables);
    out.note = std::move(note);
    return out;
}
std::vector<int> years(const CodeScheme& s, std::string_view code, int first = 1870, int last = 1990) {
    const auto decoded = decode(s, code, first, last);
    if (!decoded) {
        ADD_FAILURE() << to_line(decoded.error());
        return {};
    }
    return *decoded;
}
std::string refusal(const CodeScheme& s, std::string_view code) {
    const auto decoded = decode(s, code, 1870, 1990);
    return decoded ? "decoded" : to_line(decoded.error());
}
std::string fault(const CodeScheme& s) {
    const auto fine = check(s);
    return fine ? "fine" : to_line(fine.error());
}

TEST(CodeScheme, DigitsWithoutATableStandForThemselves) {
    const CodeScheme any = scheme("(?<year>[0-9]+)");
    EXPECT_THAT(years(any, "1934"), ElementsAre(1934));
    EXPECT_THAT(years(any, "80"), ElementsAre(1880, 1980));
    EXPECT_THAT(years(any, "34"), ElementsAre(1934));
    EXPECT_THAT(years(any, "04"), ElementsAre(1904));
    EXPECT_THAT(years(any, "4", 1925, 1950), ElementsAre(1934, 1944));
    EXPECT_THAT(years(any, "934"), ElementsAre(1934));
    EXPECT_THAT(years(any, "1834"), IsEmpty()) << "outside the years asked for";
    EXPECT_EQ(refusal(any, "19340"),
              "date code: year '19340' is not used in the scheme 'c-1': write the digits of a year");
}

TEST(CodeScheme, LettersMeanWhatTheirTableSays) {
    const CodeScheme letters = scheme(
        "(?P<year>[A-Z])", R"({"year":{"A":1921,"B":[1932,1922],"C":"1923/1925","D":"[1926,1928]","e":"1889~/"}})");
    EXPECT_THAT(years(letters, "A"), ElementsAre(1921));
    EXPECT_THAT(years(letters, "b"), ElementsAre(1922, 1932)) << "ascending, case ignored";
    EXPECT_THAT(years(letters, "C"), ElementsAre(1923, 1924, 1925));
    EXPECT_THAT(years(letters, "D"), ElementsAre(1926, 1928));
    EXPECT_THAT(years(letters, "E", 1887, 1891), ElementsAre(1889, 1890, 1891));
    EXPECT_EQ(refusal(letters, "Q"),
              "date code: year 'Q' is not used in the scheme 'c-1': use one of A, B, C, D, e");
}

TEST(CodeScheme, LettersOfEveryScriptAreAlikeInCapitalsAndSmall) {
    const CodeScheme letters = scheme("(?<year>[ČŘŽ])", R"({"year":{"Č":1921,"ř":1922,"Ž":1923}})");
    EXPECT_THAT(years(letters, "č"), ElementsAre(1921));
    EXPECT_THAT(years(letters, "Ř"), ElementsAre(1922));
    EXPECT_THAT(years(letters, "ž"), ElementsAre(1923));
}

TEST(CodeScheme, DecadeAndDigitMakeAYear) {
    const CodeScheme split =
        scheme("(?<decade>[A-C])(?<digit>[0-9X])", R"({"decade":{"A":1920,"B":1930,"C":1860},"digit":{"X":0}})");
    EXPECT_THAT(years(split, "A7"), ElementsAre(1927));
    EXPECT_THAT(years(split, "BX"), ElementsAre(1930));
    EXPECT_THAT(years(split, "C9"), IsEmpty());
    EXPECT_THAT(years(split, "C9", 1865, 1990), ElementsAre(1869)) << "the decade may begin before the first year";
    const CodeScheme digits = scheme("(?<decade>[0-9]+)-(?<digit>[0-9])");
    EXPECT_THAT(years(digits, "1930-4"), ElementsAre(1934));
    EXPECT_THAT(years(digits, "30-4"), ElementsAre(1934));
    const CodeScheme roman = scheme("(?<decade>[A-C])(?<digit>[A-Z])", R"({"decade":{"A":1920}})");
    EXPECT_EQ(refusal(roman, "AB"),
              "date code: digit 'B' is not used in the scheme 'c-1': write the digits of a year");
    EXPECT_EQ(refusal(roman, "B1"),
              "date code: digit '1' is not used in the scheme 'c-1': "
              "a code of it fits (?<decade>[A-C])(?<digit>[A-Z])");
}

TEST(CodeScheme, ALetterThatThePatternLeavesOutIsNamed) {
    const CodeScheme s =
        scheme("(?P<month>[A-HJ-M])(?P<year>\\d\\d)", R"({"month":{"A":"January","B":"February"}})",
               "A letter for the month, then the year.");
    EXPECT_EQ(refusal(s, "Q34"), "date code: month 'Q' is not used in the scheme 'c-1': use one of A, B");
    EXPECT_EQ(refusal(s, "A3x"),
              "date code: year '3x' is not used in the scheme 'c-1': A letter for the month, then the year.");
    EXPECT_EQ(refusal(s, "34"),
              "date code: '34' does not follow the scheme 'c-1': A letter for the month, then the "
              "year.");
    EXPECT_EQ(refusal(s, "Q3x"),
              "date code: 'Q3x' does not follow the scheme 'c-1': A letter for the month, then the "
              "year.");
}

TEST(CodeScheme, LettersThatRecurEveryDecadeAreReadingsOfTheirOwn) {
    const CodeScheme s = scheme("(?P<year>[A-K])", R"({"year":{"A":[1921,1931,1941],"B":[1922,1932,1942]}})");
    std::vector<std::string> dates;
    const auto all = readings(s, "B", 1870, 1990);
    ASSERT_TRUE(all);
    for (const CodeReading& one : *all) {
        dates.push_back(one.date);
        EXPECT_NEAR(one.weight, 1.0 / 3, 1e-12);
    }
    EXPECT_THAT(dates, ElementsAre("1922", "1932", "1942"));
}

TEST(CodeScheme, OtherGroupsHaveToBeInTheirTable) {
    const CodeScheme s = scheme("(?<month>[A-M]) ?(?<plant>[0-9])? ?(?<year>[0-9]{2})",
                                R"({"month":{"A":"January","B":2}})", "A letter for the month, then the year.");
    EXPECT_THAT(years(s, "A 34"), ElementsAre(1934));
    EXPECT_THAT(years(s, " b3 34 "), ElementsAre(1934));
    EXPECT_EQ(refusal(s, "C 34"), "date code: month 'C' is not used in the scheme 'c-1': use one of A, B");
    EXPECT_EQ(refusal(s, "A 34 x"),
              "date code: 'A 34 x' does not follow the scheme 'c-1': A letter for the month, then the year.");
    EXPECT_EQ(refusal(s, "\xFF"),
              "date code: '\xFF' does not follow the scheme 'c-1': "
              "A letter for the month, then the year.");
}

TEST(CodeScheme, ACodeMaySayNothingOfTheYear) {
    EXPECT_THAT(years(scheme("(?<plant>[A-Z])(?<year>[0-9]{2})?"), "Q"), IsEmpty());
    EXPECT_THAT(years(scheme("(?<month>[A-Z])"), "Q"), IsEmpty());
}

TEST(CodeScheme, AnglesInsideClassesAndEscapesAreNoGroups) {
    EXPECT_THAT(years(scheme(R"([(?<]?\(?<?(?<year>[0-9]{2}))"), "(<34"), ElementsAre(1934));
}

TEST(CodeScheme, TellsWhatIsWrongWithItself) {
    EXPECT_EQ(fault(scheme("(?<year>[0-9]{2})")), "fine");
    EXPECT_EQ(fault(scheme("(?<year>[0-9]{2}")),
              "pattern: pattern '(?<year>[0-9]{2}' is not a regular expression "
              "(missing ): (?P<year>[0-9]{2}): correct it (RE2 syntax)");
    EXPECT_EQ(fault(scheme("[0-9]{2}")),
              "pattern: pattern '[0-9]{2}' has no named group: name what it finds, such as (?<year>[0-9]{2})");
    EXPECT_EQ(fault(scheme("(?<decade>[A-Z])")),
              "pattern: pattern '(?<decade>[A-Z])' has only one of the groups decade "
              "and digit: a year needs both of them, or a group year");
    const auto tables = [](std::string json) {
        return fault(scheme("(?<year>[A-Z])(?<month>.)", std::move(json)));
    };
    EXPECT_EQ(tables("{"),
              "tables: tables: this is not JSON (unexpected end of input, expected string literal): "
              "correct the text at this place");
    EXPECT_EQ(tables("[1]"), "tables: tables is not a JSON object: write it as {\"month\": {\"A\": 1, \"B\": 2}}");
    EXPECT_EQ(tables(R"({"moth":{"A":1}})"),
              "tables: tables has 'moth', which is no group of the pattern: did you mean 'month'?");
    EXPECT_EQ(tables(R"({"shift":{"A":1}})"),
              "tables: tables has 'shift', which is no group of the pattern: name the group in the pattern: "
              "(?<shift>...)");
    EXPECT_EQ(tables(R"({"month":["A"]})"),
              "tables: tables 'month' is not an object from tokens to meanings: "
              "write it as {\"month\": {\"A\": ...}}");
    for (const auto meaning : {"\"soon\"", "19340", "1934.5", "[]", "[1934,\"x\"]", "null", "{}"})
        EXPECT_EQ(tables(std::string(R"({"year":{"A":)") + meaning + "}}"),
                  "tables: tables 'year' does not say what 'A' means: "
                  "write a year, a list of years, or a period such as \"1931/1934\"");
    EXPECT_EQ(tables(R"({"year":{"A":1934,"a":1935}})"),
              "tables: tables 'year' has 'a' in capitals and in small letters: keep one: case is ignored");
    EXPECT_EQ(
        fault(scheme("(?<decade>.)(?<digit>.)", R"({"decade":{"A":1934}})")),
        "tables: tables 'decade' does not say what 'A' means: write the first year of a decade, such as 1930");
    EXPECT_EQ(fault(scheme("(?<decade>.)(?<digit>.)", R"({"digit":{"A":10}})")),
              "tables: tables 'digit' does not say what 'A' means: write a number from 0 to 9");
    EXPECT_EQ(refusal(scheme("("), "34"),
              "pattern: pattern '(' is not a regular expression (missing ): (): correct it (RE2 syntax)");
}

// ---- readings

std::vector<std::string> read(const CodeScheme& s, std::string_view code, int first = 1870, int last = 1990) {
    const auto found = readings(s, code, first, last);
    if (!found) return {to_line(found.error())};
    std::vector<std::string> out;
    for (const CodeReading& one : *found) {
        std::string line = one.date;
        for (const CodePart& part : one.parts)
            line += " " + part.group + "=" + part.token + (part.meaning.empty() ? "" : ":" + part.meaning);
        out.push_back(line + (one.note.empty() ? "" : " (" + one.note + ")"));
    }
    return out;
}

TEST(CodeReadings, EachRecurringYearIsAReadingAndAPeriodIsOne) {
    const CodeScheme letters =
        scheme("(?P<year>[A-C])", R"({"year":{"A":[1941,1921],"B":"1923/1925","C":"[1926,1928]"}})");
    EXPECT_THAT(read(letters, "A"), ElementsAre("1921 year=A:1921", "1941 year=A:1941"));
    EXPECT_THAT(read(letters, "b"), ElementsAre("1923/1925 year=b:1923/1925"));
    EXPECT_THAT(read(letters, "C"), ElementsAre("[1926,1928] year=C:[1926,1928]"));
    EXPECT_EQ(readings(letters, "A", 1870, 1990)->front().weight, 0.5);
    EXPECT_THAT(read(letters, "A", 1970, 1990), ElementsAre("1921 year=A:1921", "1941 year=A:1941"))
        << "years that a table names are kept";
    EXPECT_THAT(read(scheme("(?P<year>[0-9]+)"), "34", 1800, 1990),
                ElementsAre("1834 year=34:1834", "1934 year=34:1934"));
}

TEST(CodeReadings, MonthDayPlantAndShiftAreSaidInWords) {
    const CodeScheme full = scheme(
        "(?<month>[A-L])(?<day>[0-9]{1,2})(?<year>[0-9]{2})(?<plant>[NS])(?<shift>[0-9])",
        R"({"month":{"A":1,"B":"February"},"plant":{"N":"North works","S":"South works"},"shift":{"1":"day","2":"night"}})");
    EXPECT_THAT(read(full, "B0734N2"),
                ElementsAre("1934-02-07 month=B:February day=07 year=34:1934 plant=N:North works shift=2:night"));
    EXPECT_THAT(read(full, "B3034N2"),
                ElementsAre("date code: there is no day '30' in February 1934: read the day and the month again"));
    EXPECT_THAT(read(full, "A0034N2"),
                ElementsAre("date code: there is no day '00' in January 1934: read the day and the month again"));
    EXPECT_THAT(read(full, "C0734N2"),
                ElementsAre("date code: month 'C' is not used in the scheme 'c-1': use one of A, B"));
    const CodeScheme leap = scheme("(?<month>[0-9]{2})(?<day>[0-9]{2})(?<year>[0-9]{2})");
    EXPECT_THAT(read(leap, "022904", 1800, 1990), ElementsAre("1804-02-29 month=02:February day=29 year=04:1804",
                                                              "1904-02-29 month=02:February day=29 year=04:1904"));
    EXPECT_THAT(read(leap, "022900", 1800, 1990).size(), 1u) << "neither 1800 nor 1900 was a leap year";
}

TEST(CodeReadings, ACodeWithoutAYearStillSaysItsParts) {
    EXPECT_THAT(read(scheme("(?<plant>[NS])", R"({"plant":{"N":"North works"}})"), "n"),
                ElementsAre(" plant=n:North works"));
}

TEST(CodeReadings, ExceptionsAreReadBesideThePlainMeaning) {
    const CodeScheme s =
        scheme("(?<year>[A-Z?])(?<day>[0-9]+|[?])(?<month>[A-Z?])",
               R"({"year":{"K":1857,"?":"1842/1867"},"month":{"R":"August","D":"September","?":"not legible"},)"
               R"("exceptions":[{"when":{"year":"K","month":"R","day":[1,19]},)"
               R"("means":{"month":"September"},"note":"R for D."},)"
               R"({"when":{"year":"W","month":"G"},"means":{"year":1878,"month":"March"}}]})");
    EXPECT_THAT(read(s, "K5R"), ElementsAre("1857-08-05 year=K:1857 day=5 month=R:August",
                                            "1857-09-05 year=K:1857 day=5 month=R:September (R for D.)"));
    EXPECT_THAT(read(s, "K20R"), ElementsAre("1857-08-20 year=K:1857 day=20 month=R:August"));
    EXPECT_THAT(read(s, "K?R").size(), 2u) << "an illegible token fulfils any condition";
    EXPECT_THAT(read(s, "W3G"), ElementsAre("1878-03-03 year=W:1878 day=3 month=G:March"));
    EXPECT_THAT(read(s, "W3R"),
                ElementsAre("date code: year 'W' is not used in the scheme 'c-1': use one of ?, K"));
    EXPECT_THAT(read(s, "?30D").front(), "1842/1867 year=?:1842/1867 day=30 month=D:September");
    EXPECT_THAT(years(s, "W3G"), ElementsAre(1878)) << "decode() knows exceptions too";
    EXPECT_EQ(fault(scheme("(?<year>.)", R"({"exceptions":[{"when":{"year":"K"}}]})")),
              "tables: tables: exception 1 is not an object with \"when\" and \"means\": write it as "
              "{\"when\": {\"year\": \"K\"}, \"means\": {\"year\": 1857}, \"note\": \"...\"}");
    EXPECT_EQ(fault(scheme("(?<year>.)", R"({"exceptions":[{"when":{"yaer":"K"},"means":{"year":1857}}]})")),
              "tables: tables: exception 1 asks for 'yaer', which is no group of the pattern: write it as "
              "{\"when\": {\"year\": \"K\"}, \"means\": {\"year\": 1857}, \"note\": \"...\"}");
}

TEST(CodeReadings, TogetherAreTheYearsOfDecode) {
    const std::vector<CodeScheme> schemes = {
        scheme("(?<year>[0-9]+)"),
        scheme("(?<year>[A-C])", R"({"year":{"A":[1921,1931],"B":"1923/1925","C":1860}})"),
        scheme("(?<decade>[3-7])(?<digit>[0-9])", R"({"decade":{"3":1930,"4":1940}})")};
    for (const CodeScheme& s : schemes)
        for (const std::string code : {"4", "34", "1934", "A", "B", "C", "39"}) {
            const auto found = readings(s, code, 1870, 1990);
            const auto all = decode(s, code, 1870, 1990);
            ASSERT_EQ(found.has_value(), all.has_value()) << s.pattern << " " << code;
            if (!found) continue;
            std::vector<int> joined;
            for (const CodeReading& one : *found)
                for (const int year : one.years)
                    if (year >= 1870 && year <= 1990) joined.push_back(year);
            std::sort(joined.begin(), joined.end());
            joined.erase(std::unique(joined.begin(), joined.end()), joined.end());
            EXPECT_EQ(joined, *all) << s.pattern << " " << code;
        }
}

}  // namespace
}  // namespace footring::book

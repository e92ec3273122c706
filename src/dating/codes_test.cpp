// SPDX-License-Identifier: Apache-2.0
#include "dating/codes.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>

#include "book/pack_text.h"
#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;

std::vector<std::string> lines(const book::Book& book, std::string_view name, std::string_view code,
                               std::string_view mark = "") {
    const auto schemes = schemes_named(book, name, "SCHEME");
    if (!schemes) return {to_line(schemes.error())};
    std::optional<book::Ref<book::Mark>> borne;
    if (!mark.empty()) borne = *book::find<book::Mark>(book, mark, "test");
    const auto answer = read_code(book, *schemes, code, borne, Settings{});
    if (!answer) return {to_line(answer.error())};
    std::vector<std::string> out;
    double sum = 0;
    for (const CodeMeaning& one : answer->readings) {
        sum += one.reading.weight;
        out.push_back(fmt::format("{} {:.3g}", one.reading.date, one.reading.weight));
    }
    EXPECT_NEAR(sum, 1, 1e-12);
    return out;
}
std::vector<std::string> diamond(std::string_view code) { return lines(law_pack(), "registration-diamond", code); }

TEST(RegistrationDiamond, BothSeriesAreToldByWhereTheLettersStand) {
    EXPECT_THAT(diamond("IV X 12 3 C"), ElementsAre("1842-01-12 1"));
    EXPECT_THAT(diamond("IV 12 X C 3"), ElementsAre("1868-01-12 1"));
    EXPECT_THAT(diamond("iv/k/5/2/e"), ElementsAre("1857-05-05 1"));
    EXPECT_THAT(diamond("5, V, M, 9"), ElementsAre("1876-06-05 1")) << "the class may be worn away";
    EXPECT_THAT(diamond("XII ii P 1 1 W"), ElementsAre("1851-03-01 1"));
    EXPECT_THAT(diamond("IV ? ? ? C"), ElementsAre("1842/1867 1"));
}

TEST(RegistrationDiamond, EachPublishedLetterMeansItsYearAndMonth) {
    int years = 0, months = 0, classes = 0;
    for (const FactRow& row : facts("registration_diamond.csv")) {
        const std::string& code = row.at("code");
        if (row.at("kind") == "year") {
            const bool early = row.at("series") == "1842-1867";
            const std::string text = early ? "IV " + code + " 25 3 M" : "IV 25 " + code + " M 3";
            EXPECT_THAT(diamond(text), ElementsAre(row.at("value") + "-06-25 1")) << text;
            ++years;
        } else if (row.at("kind") == "month") {
            const int month = std::stoi(row.at("value"));
            EXPECT_THAT(diamond("IV X 25 3 " + code), ElementsAre(fmt::format("1842-{:02}-25 1", month)));
            EXPECT_THAT(diamond("IV 25 X " + code + " 3"), ElementsAre(fmt::format("1868-{:02}-25 1", month)));
            ++months;
        } else if (row.at("kind") == "class") {
            const auto schemes = schemes_named(law_pack(), "registration-diamond-1842", "x");
            const auto answer = read_code(law_pack(), *schemes, code + " X 25 3 M", std::nullopt, Settings{});
            ASSERT_TRUE(answer) << code;
            EXPECT_EQ(answer->readings[0].reading.parts[0].meaning, row.at("value"));
            ++classes;
        }
    }
    EXPECT_EQ(years, 42);
    EXPECT_EQ(months, 12);
    EXPECT_EQ(classes, 14);
}

TEST(RegistrationDiamond, ThePublishedExceptionsAreReadings) {
    EXPECT_THAT(diamond("IV K 5 2 R"), ElementsAre("1857-08-05 0.5", "1857-09-05 0.5"));
    EXPECT_THAT(diamond("IV K 20 2 R"), ElementsAre("1857-08-20 1"));
    EXPECT_THAT(diamond("IV Z 20 2 K"), ElementsAre("1860-11-20 0.5", "1860-12-20 0.5"));
    EXPECT_THAT(diamond("IV 3 W G 2"), ElementsAre("1878-03-03 1"));
}

TEST(RegistrationDiamond, BadCodesAreExplained) {
    EXPECT_THAT(
        diamond("IV X 12 3 Q"),
        ElementsAre("code IV X 12 3 Q: month 'Q' is not used in the scheme 'registration-diamond-1842': use one "
                    "of ?, A, B, C, D, E, G, H, I, K, M, R, W"));
    EXPECT_THAT(
        diamond("IV X 31 3 G"),
        ElementsAre("code IV X 31 3 G: there is no day '31' in February 1842: read the day and the month again"));
    EXPECT_THAT(diamond("IV N 12 5 Q 1").front(),
                ::testing::StartsWith("code IV N 12 5 Q 1: 'IV N 12 5 Q 1' does not follow"));
    EXPECT_THAT(
        lines(law_pack(), "registration-dimond", "x"),
        ElementsAre("SCHEME: there is no code scheme 'registration-dimond': did you mean 'registration-diamond'?"));
}

const char* const kLetters =
    "id,pattern,tables\nletter,(?P<year>[AB]),\"{\"\"year\"\":{\"\"A\"\":[1921,1931,1941],\"\"B\"\":1960}}\"\n";

TEST(Codes, MarksThatBearTheSchemeWeighItsReadings) {
    const book::Book book = book::book_from_tables(
        {{"code_schemes", kLetters},
         {"marks",
          "id,wording,years,code_scheme\nm-1,ONE,1919/1930,letter\nm-2,TWO,1929/1935,letter\nm-3,THREE,,\n"}});
    EXPECT_THAT(lines(book, "letter", "A"), ElementsAre("1921 0.5", "1931 0.5", "1941 0"));
    EXPECT_THAT(lines(book, "letter", "A", "m-2"), ElementsAre("1931 1", "1921 0", "1941 0"));
    const auto answer = read_code(book, {{0}}, "B", std::nullopt, Settings{});
    EXPECT_TRUE(answer->outside_marks);
    EXPECT_EQ(answer->readings[0].reading.weight, 1);
    EXPECT_EQ(read_code(book, {{0}}, "A", std::nullopt, Settings{})->years, "[1921,1931]");
}

TEST(Codes, AMarkOfAnotherSchemeIsRefused) {
    const book::Book book = book::book_from_tables(
        {{"code_schemes", kLetters},
         {"marks", "id,wording,years,code_scheme\nm-1,ONE,1919/1930,letter\nm-3,THREE,,\n"}});
    EXPECT_THAT(lines(book, "letter", "A", "m-3"),
                ElementsAre("mark m-3: does not bear the scheme letter: leave it out, or name one of m-1"));
}

TEST(Codes, WithoutMarksReadingsShareTheWeight) {
    const book::Book book = book::book_from_tables({{"code_schemes", kLetters}});
    EXPECT_THAT(lines(book, "letter", "A"), ElementsAre("1921 0.333", "1931 0.333", "1941 0.333"));
}

}  // namespace
}  // namespace footring::dating

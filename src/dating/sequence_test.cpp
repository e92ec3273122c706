// SPDX-License-Identifier: Apache-2.0
#include "dating/sequence.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "base/text.h"
#include "book/pack_text.h"
#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;

std::vector<double> numbers(const std::string& text) {
    std::vector<double> out;
    for (const std::string& word : split(text, ' ')) out.push_back(*to_number(word));
    return out;
}

TEST(Isotonic, GivesThePublishedExamples) {
    int seen = 0;
    for (const FactRow& row : facts("isotonic.csv")) {
        const auto wanted = numbers(row.at("fitted"));
        const auto got = isotonic(numbers(row.at("y")), numbers(row.at("weights")));
        ASSERT_EQ(got.size(), wanted.size());
        for (std::size_t i = 0; i < got.size(); ++i) EXPECT_NEAR(got[i], wanted[i], 1e-12) << row.at("example");
        ++seen;
    }
    EXPECT_EQ(seen, 4);
}

// max over a <= i of min over b >= i of the weighted mean of a..b: the closed form of isotonic regression.
std::vector<double> max_min(const std::vector<double>& y, const std::vector<double>& w) {
    std::vector<double> out;
    for (std::size_t i = 0; i < y.size(); ++i) {
        double best = -1e300;
        for (std::size_t a = 0; a <= i; ++a) {
            double least = 1e300;
            for (std::size_t b = i; b < y.size(); ++b) {
                double sum = 0, weight = 0;
                for (std::size_t k = a; k <= b; ++k) sum += w[k] * y[k], weight += w[k];
                least = std::min(least, sum / weight);
            }
            best = std::max(best, least);
        }
        out.push_back(best);
    }
    return out;
}

TEST(Isotonic, AgreesWithItsMaxMinFormula) {
    std::mt19937 random(7);
    for (int round = 0; round < 200; ++round) {
        std::vector<double> y, w;
        for (std::size_t i = 0, n = 1 + random() % 9; i < n; ++i)
            y.push_back(static_cast<double>(random() % 12)), w.push_back(0.25 + static_cast<double>(random() % 8));
        const auto fast = isotonic(y, w), slow = max_min(y, w);
        for (std::size_t i = 0; i < y.size(); ++i) EXPECT_NEAR(fast[i], slow[i], 1e-9);
    }
}

TEST(IsotonicMedians, NoOtherRisingLineIsNearerInAbsoluteDeviations) {
    std::mt19937 random(3);
    for (int round = 0; round < 60; ++round) {
        std::vector<double> y;
        for (int i = 0; i < 5; ++i) y.push_back(static_cast<double>(random() % 6));
        const auto cost = [&](const std::vector<double>& line) {
            double sum = 0;
            for (std::size_t i = 0; i < y.size(); ++i) sum += std::abs(y[i] - line[i]);
            return sum;
        };
        const auto fit = isotonic_medians(y, {});
        EXPECT_TRUE(std::ranges::is_sorted(fit));
        double best = 1e300;  // some best line has only values of y: try them all
        for (int code = 0; code < 6 * 6 * 6 * 6 * 6; ++code) {
            std::vector<double> line;
            for (int i = 0, rest = code; i < 5; ++i, rest /= 6) line.push_back(rest % 6);
            if (std::ranges::is_sorted(line)) best = std::min(best, cost(line));
        }
        EXPECT_NEAR(cost(fit), best, 1e-9);
    }
}

DatedNumber dated(std::int64_t number, double first, double last) {
    return {fmt::format("t-{}", number), number, first, last, {}};
}

TEST(Sequence, NamesANumberThatIsFarOutOfStepAndNoOther) {
    std::vector<DatedNumber> all;
    for (int i = 0; i < 20; ++i) all.push_back(dated(100 + i, 1920 + i, 1920 + i));
    EXPECT_TRUE(fit_sequence(all, Settings{})->outliers.empty());
    all[8] = dated(108, 1951, 1951);
    const auto fit = fit_sequence(all, Settings{});
    ASSERT_EQ(fit->outliers.size(), 1u);
    EXPECT_EQ(fit->dated[fit->outliers[0].at].name, "t-108");
    EXPECT_NEAR(fit->outliers[0].line, 1928, 1e-9);
    EXPECT_NEAR(year_of_number(*fit, 108, Settings{}).year, 1928, 1e-9) << "it does not drag the line along";
}

TEST(Sequence, YearsBetweenDatedNumbersLieOnTheLine) {
    const auto fit =
        fit_sequence({dated(300, 1934, 1934), dated(100, 1920, 1920), dated(200, 1930, 1930)}, Settings{});
    const NumberYear middle = year_of_number(*fit, 150, Settings{});
    EXPECT_NEAR(middle.year, 1925, 1e-9);
    EXPECT_LE(middle.low, 1925);
    EXPECT_GE(middle.high, 1925);
    EXPECT_EQ(middle.where, NumberYear::Where::kBetween);
    EXPECT_EQ(year_of_number(*fit, 50, Settings{}).year, 1920);
    EXPECT_EQ(year_of_number(*fit, 50, Settings{}).where, NumberYear::Where::kBefore);
    EXPECT_EQ(year_of_number(*fit, 301, Settings{}).where, NumberYear::Where::kAfter);
    EXPECT_EQ(year_of_number(*fit, 150, Settings{}).low, middle.low) << "same seed, same interval";
}

// Made years: numbers given out at an uneven pace, dates known within 2 years. Nine of ten have to lie inside.
TEST(Sequence, ItsIntervalHoldsWhatItPromises) {
    std::mt19937 random(11);
    Settings settings;
    settings.sequence_resamples = 150;
    int held = 0, asked = 0;
    for (int world = 0; world < 60; ++world) {
        std::vector<double> year_of;  // number -> true year
        double year = 1910;
        for (int n = 0; n < 400; ++n) year_of.push_back(year += (random() % 4 == 0 ? 0.4 : 0.05));
        std::vector<DatedNumber> some;
        for (int i = 0; i < 25; ++i) {
            const auto n = static_cast<std::size_t>(random() % 400);
            const double off = static_cast<double>(random() % 5) - 2;
            some.push_back(dated(static_cast<std::int64_t>(n), year_of[n] + off - 1, year_of[n] + off + 1));
        }
        const auto fit = fit_sequence(some, settings);
        for (int i = 0; i < 5; ++i, ++asked) {
            const auto n = static_cast<std::size_t>(40 + random() % 320);
            const NumberYear got = year_of_number(*fit, static_cast<std::int64_t>(n), settings);
            held += got.low <= year_of[n] && year_of[n] <= got.high;
        }
    }
    EXPECT_GE(held, asked * 85 / 100) << held << " of " << asked;
}

TEST(Sequence, AFewerThanThreeAreRefused) {
    EXPECT_EQ(to_line(fit_sequence({dated(1, 1, 1), dated(2, 2, 2)}, Settings{}).error()),
              "sequence: fewer than three numbers of it are dated: "
              "give the years of more treatments, or ask for a wider sequence");
}

TEST(SequenceNumber, IsTheDigitsAtTheEnd) {
    EXPECT_EQ(sequence_number("117")->number, 117);
    EXPECT_EQ(sequence_number("H-0117")->sequence, "h-");
    EXPECT_EQ(sequence_number("H-0117")->number, 117);
    EXPECT_FALSE(sequence_number("117a"));
    EXPECT_FALSE(sequence_number("1?7"));
    EXPECT_FALSE(sequence_number("1234567890"));
    EXPECT_FALSE(sequence_number(""));
}

TEST(DatedNumbers, ComeFromTheBookWithTheirPeriods) {
    const book::Book book = book::book_from_tables(
        {{"makers", "id\nmill\n"},
         {"shapes", "id,maker\nharrow,mill\nweir,\n"},
         {"sources", "id\ns-1\ns-2\n"},
         {"treatments",
          "id,shape,number,years,source\nt-1,harrow,101,1920/1930,s-1\nt-2,harrow,102,1924~/1930,\n"
          "t-3,harrow,103,,\nt-4,harrow,H-9,1920,\nt-5,weir,104,1931,\nt-6,harrow,105,,\n"},
         {"dated_uses", "subject,date,kind,source\nt-3,1929,letter,\nt-3,1927,letter,s-2\n"}});
    std::vector<std::string> got;
    for (const DatedNumber& one :
         dated_numbers(book, {book::Ref<book::Shape>{0}, std::nullopt, "", false}, Settings{}))
        got.push_back(fmt::format("{} {} {} {} {}", one.name, one.number, one.first, one.last, one.sources.size()));
    EXPECT_THAT(got, ElementsAre("t-1 101 1920 1920 1", "t-2 102 1921 1927 0", "t-3 103 1922 1927 1"));
    EXPECT_EQ(dated_numbers(book, {}, Settings{}).size(), 4u);
    EXPECT_EQ(dated_numbers(book, {std::nullopt, book::Ref<book::Maker>{0}, "h-", false}, Settings{}).size(), 1u);
}

TEST(DatedNumbers, OfSecondsAreASequenceOfTheirOwn) {
    const book::Book book = book::book_from_tables(
        {{"makers", "id\nmill\n"},
         {"shapes", "id,maker\nharrow,mill\n"},
         {"treatments",
          "id,shape,number,grade,years\nt-1,harrow,101,first,1920\nt-2,harrow,140,any,1930\n"
          "t-3,harrow,601,second,1921\nt-4,harrow,640,second,1931\nt-5,harrow,110,second,\n"}});
    const auto count = [&](bool seconds) {
        return dated_numbers(book, {std::nullopt, std::nullopt, "", seconds}, Settings{}).size();
    };
    EXPECT_EQ(count(false), 2u);
    EXPECT_EQ(count(true), 2u);
    EXPECT_FALSE(is_number_of_seconds(book, {}, 101));
    EXPECT_TRUE(is_number_of_seconds(book, {}, 110)) << "recorded as one";
    EXPECT_TRUE(is_number_of_seconds(book, {}, 620)) << "among theirs";
    EXPECT_FALSE(is_number_of_seconds(book, {}, 120)) << "among both";
    EXPECT_FALSE(is_number_of_seconds(book, {}, 900));
}

TEST(Sequence, ManyNumbersAtOnceGiveWhatEachGivesAlone) {
    std::vector<DatedNumber> some;
    for (int i = 0; i < 30; ++i) some.push_back(dated(100 + 3 * i, 1900 + i + i % 4, 1903 + i + i % 4));
    const Settings settings;
    const auto fit = fit_sequence(some, settings);
    const std::vector<std::int64_t> numbers = {95, 101, 150, 150, 187, 400};
    const auto all = years_of_numbers(*fit, numbers, settings);
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const NumberYear alone = year_of_number(*fit, numbers[i], settings);
        EXPECT_EQ(all[i].year, alone.year) << numbers[i];
        EXPECT_EQ(all[i].low, alone.low) << numbers[i];
        EXPECT_EQ(all[i].high, alone.high) << numbers[i];
        EXPECT_LE(all[i].low, all[i].high);
    }
}

}  // namespace
}  // namespace footring::dating

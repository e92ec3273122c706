// SPDX-License-Identifier: Apache-2.0
#include "dating/assemblage.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "base/text.h"
#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

TEST(MeanCeramicDate, GivesThePublishedExample) {
    std::vector<CountedDate> dates;
    double wanted = 0;
    for (const FactRow& row : facts("mean_ceramic_date.csv"))
        if (row.at("type").starts_with("TOTAL")) wanted = *to_number(row.at("median_date"));
        else dates.push_back({*to_number(row.at("median_date")), *to_number(row.at("count"))});
    ASSERT_EQ(dates.size(), 3u);
    EXPECT_NEAR(mean_ceramic_date(dates).mean, wanted, 5e-5);
}

TEST(MeanCeramicDate, ItsErrorIsThatOfCountingEachPiece) {
    const auto counted = mean_ceramic_date(std::vector<CountedDate>{{1920, 3}, {1931, 1}});
    const auto each = mean_ceramic_date(std::vector<CountedDate>{{1920, 1}, {1920, 1}, {1920, 1}, {1931, 1}});
    EXPECT_EQ(counted.mean, 1922.75);
    EXPECT_EQ(counted.mean, each.mean);
    EXPECT_NEAR(counted.spread, 5.5, 1e-12);  // squares 3 * 2.75^2 + 8.25^2 = 90.75; / 3 = 30.25
    EXPECT_NEAR(*counted.standard_error, 2.75, 1e-12);
    EXPECT_FALSE(mean_ceramic_date(std::vector<CountedDate>{{1920, 1}}).standard_error);
}

// Even over first..last of 1900..1959.
DatedPiece piece(std::string id, int first, int last, int count = 1) {
    DatedPiece out{std::move(id), count, std::vector<double>(60, 0.0)};
    for (int year = first; year <= last; ++year)
        out.by_year[static_cast<std::size_t>(year - 1900)] = 1.0 / (last - first + 1);
    return out;
}

TEST(Assemblage, SumsArePiecesSpreadOverTheirYears) {
    const auto a = *assemble(std::vector{piece("a", 1910, 1919), piece("b", 1915, 1924, 3)}, 1900, Settings{});
    EXPECT_NEAR(a.pieces_by_year[12], 0.1, 1e-12);
    EXPECT_NEAR(a.pieces_by_year[16], 0.4, 1e-12);
    EXPECT_NEAR(a.pieces_by_year[22], 0.3, 1e-12);
    EXPECT_NEAR(std::accumulate(a.pieces_by_year.begin(), a.pieces_by_year.end(), 0.0), 4, 1e-12);
    EXPECT_THAT(a.medians, ElementsAre(1914, 1919));
    EXPECT_NEAR(a.mean_date.mean, (1914 + 3 * 1919) / 4.0, 1e-12);
}

TEST(Assemblage, CannotBeOlderThanItsYoungestPiece) {
    const auto a = *assemble(std::vector{piece("a", 1910, 1919), piece("b", 1931, 1931), piece("c", 1920, 1940)},
                             1900, Settings{});
    EXPECT_EQ(a.terminus_post_quem, 1931);
    EXPECT_EQ(a.terminus_piece, 1u);
    EXPECT_THAT(a.not_before, ElementsAre(1910, 1931, 1920));
}

TEST(Assemblage, NamesWhatIsOutOfStepAndNothingElse) {
    std::vector<DatedPiece> pieces = {piece("a", 1920, 1930), piece("b", 1922, 1935), piece("c", 1918, 1928)};
    EXPECT_THAT(assemble(pieces, 1900, Settings{})->out_of_step, IsEmpty());
    pieces.push_back(piece("late", 1950, 1955));
    pieces.push_back(piece("early", 1901, 1905));
    const auto a = *assemble(pieces, 1900, Settings{});
    ASSERT_EQ(a.out_of_step.size(), 2u);
    EXPECT_EQ(a.out_of_step[0].piece, 3u);
    EXPECT_FALSE(a.out_of_step[0].earlier);
    EXPECT_EQ(a.out_of_step[1].piece, 4u);
    EXPECT_TRUE(a.out_of_step[1].earlier);
    EXPECT_THAT(assemble(std::vector{piece("alone", 1901, 1905)}, 1900, Settings{})->out_of_step, IsEmpty());
}

TEST(Assemblage, DoesNotDependOnTheOrderOfPieces) {
    std::vector<DatedPiece> pieces = {piece("a", 1920, 1930), piece("b", 1922, 1935, 2), piece("c", 1948, 1958)};
    const auto one = *assemble(pieces, 1900, Settings{});
    std::ranges::reverse(pieces);
    const auto two = *assemble(pieces, 1900, Settings{});
    EXPECT_NEAR(one.mean_date.mean, two.mean_date.mean, 1e-9);
    EXPECT_EQ(one.terminus_post_quem, two.terminus_post_quem);
    EXPECT_EQ(one.out_of_step.size(), two.out_of_step.size());
    for (std::size_t y = 0; y < 60; ++y) EXPECT_NEAR(one.pieces_by_year[y], two.pieces_by_year[y], 1e-12);
}

TEST(Assemblage, OfNothingIsRefused) {
    EXPECT_EQ(to_line(assemble({}, 1900, Settings{}).error()),
              "assemblage: there is no piece in it: give at least one piece");
}

}  // namespace
}  // namespace footring::dating

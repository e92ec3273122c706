// SPDX-License-Identifier: Apache-2.0
#include "papers/showing_order.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>
#include <random>

namespace footring::papers {
namespace {

std::vector<Showpiece> some(std::mt19937& random, std::size_t n) {
    std::vector<Showpiece> out(n);
    for (Showpiece& piece : out)
        piece = {1910.0 + static_cast<double>(random() % 40), static_cast<std::uint32_t>(random() % 3),
                 static_cast<std::uint32_t>(random() % 3), static_cast<std::uint32_t>(random() % 2)};
    return out;
}

TEST(ShowingOrder, CostsNoMoreThanAnyOtherOrder) {
    std::mt19937 random(5);
    for (int round = 0; round < 30; ++round) {
        const auto pieces = some(random, 6);
        std::vector<std::size_t> any(6);
        std::iota(any.begin(), any.end(), 0u);
        double least = 1e300;
        do least = std::min(least, showing_cost(pieces, any));
        while (std::ranges::next_permutation(any).found);
        EXPECT_DOUBLE_EQ(showing_cost(pieces, showing_order(pieces)), least);
    }
}

TEST(ShowingOrder, ShowsEveryPieceOnce) {
    std::mt19937 random(6);
    for (const std::size_t n : {0u, 1u, 14u, 15u, 40u}) {
        auto order = showing_order(some(random, n));
        std::ranges::sort(order);
        std::vector<std::size_t> all(n);
        std::iota(all.begin(), all.end(), 0u);
        EXPECT_EQ(order, all);
    }
}

TEST(ShowingOrder, GoesThroughTimeAndKeepsShapesTogether) {
    // Two shapes that overlap by a year or two: one change of shape, not three.
    const std::vector<Showpiece> pieces{{1930, 1, 0, 0}, {1924, 0, 0, 0}, {1931, 0, 0, 0}, {1932, 1, 0, 0}};
    EXPECT_THAT(showing_order(pieces), testing::ElementsAre(1u, 2u, 0u, 3u));
}

TEST(ShowingOrder, OfManyPiecesIsNotFarFromWhatTimeAloneWouldCost) {
    std::mt19937 random(8);
    const auto pieces = some(random, 60);
    std::vector<std::size_t> by_year(60);
    std::iota(by_year.begin(), by_year.end(), 0u);
    std::ranges::stable_sort(by_year, {}, [&](std::size_t i) { return pieces[i].year; });
    EXPECT_LT(showing_cost(pieces, showing_order(pieces)), 1.25 * showing_cost(pieces, by_year));
}

}  // namespace
}  // namespace footring::papers

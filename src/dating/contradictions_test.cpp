// SPDX-License-Identifier: Apache-2.0
#include "dating/contradictions.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <set>

namespace footring::dating {
namespace {

using Allowed = std::vector<std::vector<bool>>;
using Sets = std::vector<std::vector<std::size_t>>;

std::vector<bool> period(int years, int first, int last) {
    std::vector<bool> out(static_cast<std::size_t>(years));
    for (int y = first; y <= last; ++y) out[static_cast<std::size_t>(y)] = true;
    return out;
}

bool contradicts(const Allowed& allowed, unsigned chosen) {
    for (std::size_t y = 0; y < allowed.front().size(); ++y) {
        bool all = true;
        for (std::size_t i = 0; i < allowed.size(); ++i) all = all && ((chosen >> i & 1) == 0 || allowed[i][y]);
        if (all) return false;
    }
    return true;
}
// The slow twin: every set of statements is tried.
std::set<std::vector<std::size_t>> by_trying(const Allowed& allowed) {
    std::set<std::vector<std::size_t>> out;
    for (unsigned chosen = 1; chosen < 1u << allowed.size(); ++chosen) {
        if (!contradicts(allowed, chosen)) continue;
        bool smallest = true;
        std::vector<std::size_t> members;
        for (std::size_t i = 0; i < allowed.size(); ++i)
            if ((chosen >> i & 1) != 0) {
                members.push_back(i);
                smallest = smallest && !contradicts(allowed, chosen & ~(1u << i));
            }
        if (smallest) out.insert(members);
    }
    return out;
}

TEST(Contradictions, FindsNoneWhereAYearIsLeft) {
    const auto found = contradictions({period(10, 0, 5), period(10, 5, 9), period(10, 2, 7)});
    EXPECT_TRUE(found.smallest.empty());
    EXPECT_TRUE(found.frees.empty());
    EXPECT_TRUE(found.complete);
    EXPECT_TRUE(contradictions({}).smallest.empty());
}

TEST(Contradictions, NamesPairsOfPeriodsThatDoNotMeet) {
    const auto found = contradictions({period(10, 0, 3), period(10, 4, 9), period(10, 2, 6), period(10, 3, 5)});
    EXPECT_EQ(found.smallest, (Sets{{0, 1}}));
    EXPECT_EQ(found.frees, (std::vector<std::size_t>{0, 1}));
}

TEST(Contradictions, NamesASetOfThreeWhereAPeriodFallsBetweenTheYearsOfACode) {
    // The code letter means year 1 or year 8; each end of the period alone leaves one of them.
    std::vector<bool> code(10);
    code[1] = code[8] = true;
    const auto found = contradictions({code, period(10, 3, 9), period(10, 0, 6)});
    EXPECT_EQ(found.smallest, (Sets{{0, 1, 2}}));
    EXPECT_EQ(found.frees, (std::vector<std::size_t>{0, 1, 2}));
}

TEST(Contradictions, SaysThatNoSingleStatementFreesTwoQuarrels) {
    const auto found = contradictions({period(9, 0, 1), period(9, 2, 3), period(9, 4, 5), period(9, 6, 8)});
    EXPECT_EQ(found.smallest.size(), 6u);
    EXPECT_TRUE(found.frees.empty());
}

TEST(Contradictions, CallsAStatementThatAllowsNothingAContradictionOfItsOwn) {
    const auto found = contradictions({period(5, 0, 4), std::vector<bool>(5), period(5, 0, 1)});
    EXPECT_EQ(found.smallest, (Sets{{1}}));
    EXPECT_EQ(found.frees, (std::vector<std::size_t>{1}));
}

TEST(Contradictions, AgreesWithTryingEverySet) {
    std::mt19937 random(20260712);
    for (int round = 0; round < 400; ++round) {
        const int statements = 1 + static_cast<int>(random() % 10), years = 1 + static_cast<int>(random() % 12);
        Allowed allowed;
        for (int i = 0; i < statements; ++i) {
            if (random() % 2 == 0) {
                const int a = static_cast<int>(random() % static_cast<unsigned>(years));
                const int b = static_cast<int>(random() % static_cast<unsigned>(years));
                allowed.push_back(period(years, std::min(a, b), std::max(a, b)));
            } else {
                std::vector<bool> row(static_cast<std::size_t>(years));
                for (std::size_t y = 0; y < row.size(); ++y) row[y] = random() % 3 != 0;
                allowed.push_back(row);
            }
        }
        const auto expected = by_trying(allowed);
        const auto found = contradictions(allowed);
        EXPECT_EQ(std::set(found.smallest.begin(), found.smallest.end()), expected) << "round " << round;
        EXPECT_EQ(found.smallest.size(), expected.size()) << "one was told twice in round " << round;
        for (std::size_t i = 0; i < allowed.size(); ++i) {
            const unsigned all = (1u << allowed.size()) - 1;
            const bool frees = !expected.empty() && !contradicts(allowed, all & ~(1u << i));
            EXPECT_EQ(std::ranges::count(found.frees, i), frees ? 1 : 0) << "round " << round;
        }
    }
}

TEST(Contradictions, FindsEveryPairAmongFiveHundredStatements) {
    std::mt19937 random(7);
    Allowed allowed;
    for (int i = 0; i < 500; ++i) {
        const int first = static_cast<int>(random() % 110);
        allowed.push_back(period(121, first, first + static_cast<int>(random() % 11)));
    }
    std::size_t pairs = 0;
    for (std::size_t i = 0; i < allowed.size(); ++i)
        for (std::size_t j = i + 1; j < allowed.size(); ++j) {
            bool meet = false;
            for (std::size_t y = 0; y < 121; ++y) meet = meet || (allowed[i][y] && allowed[j][y]);
            if (!meet) ++pairs;
        }
    const auto found = contradictions(allowed);
    EXPECT_TRUE(found.complete);
    EXPECT_EQ(found.smallest.size(), pairs);
    for (const auto& set : found.smallest) EXPECT_EQ(set.size(), 2u);
}

TEST(Contradictions, SaysWhenThereAreMoreThanAskedFor) {
    const auto found = contradictions({period(9, 0, 1), period(9, 2, 3), period(9, 4, 5), period(9, 6, 8)}, 2);
    EXPECT_FALSE(found.complete);
    EXPECT_EQ(found.smallest.size(), 2u);
}

}  // namespace
}  // namespace footring::dating

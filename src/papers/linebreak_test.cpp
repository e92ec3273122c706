// SPDX-License-Identifier: Apache-2.0
#include "papers/linebreak.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace footring::papers {
namespace {

std::vector<BreakPlace> words(const std::vector<double>& widths, double space = 3) {
    std::vector<BreakPlace> out;
    double at = 0;
    int spaces = 0;
    for (const double width : widths) {
        out.push_back({at + width, at + width + space, spaces, false});
        at += width + space;
        ++spaces;
    }
    if (!out.empty()) out.back().next = out.back().end;
    return out;
}

TEST(LineBreaking, TakesTheLastPlaceAndNoneOfNothing) {
    EXPECT_TRUE(break_lines({}, {.width = 100}).empty());
    EXPECT_THAT(break_lines(words({20}), {.width = 100}), testing::ElementsAre(0u));
}

TEST(LineBreaking, KeepsEveryLineWithinItsWidth) {
    std::mt19937 random(3);
    std::uniform_real_distribution<double> width(5, 40);
    for (int round = 0; round < 50; ++round) {
        std::vector<double> list(60);
        for (double& w : list) w = width(random);
        const auto places = words(list);
        const Measure ragged{.width = 120, .justified = false};
        double start = 0;
        for (const std::size_t at : break_lines(places, ragged)) {
            EXPECT_LE(places[at].end - start, ragged.width + 0.01);
            start = places[at].next;
        }
    }
}

TEST(LineBreaking, AgreesWithTryingEveryWay) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> width(5, 45);
    std::bernoulli_distribution hyphen(0.25);
    for (int round = 0; round < 120; ++round) {
        std::vector<double> list(10);
        for (double& w : list) w = width(random);
        auto places = words(list);
        for (std::size_t i = 0; i + 1 < places.size(); ++i)
            if (hyphen(random)) places[i].hyphen = true, places[i].next = places[i].end;
        const Measure measure{.width = 90, .justified = round % 2 == 0};
        double least = 1e300;
        for (unsigned way = 0; way < 1u << 9; ++way) {
            std::vector<std::size_t> taken;
            for (std::size_t i = 0; i < 9; ++i)
                if ((way >> i & 1u) != 0) taken.push_back(i);
            taken.push_back(9);
            least = std::min(least, demerits(places, measure, taken));
        }
        EXPECT_NEAR(demerits(places, measure, break_lines(places, measure)), least, 1e-6 * least) << round;
    }
}

TEST(LineBreaking, TakesTwoHyphensUnderEachOtherForWorseThanTwoApart) {
    const auto with_hyphens_at = [](std::initializer_list<std::size_t> at) {
        auto places = words(std::vector<double>(32, 10));
        for (const std::size_t i : at) places[i].hyphen = true;
        return demerits(places, {.width = 101, .hyphen = 0}, {7, 15, 23, 31});
    };
    const double none = with_hyphens_at({}), one = with_hyphens_at({7});
    EXPECT_GT(one, none);
    EXPECT_GT(with_hyphens_at({7, 15}) - none, 2 * (one - none) + 1000);
}

}  // namespace
}  // namespace footring::papers

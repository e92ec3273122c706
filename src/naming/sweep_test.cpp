// SPDX-License-Identifier: Apache-2.0
#include "naming/sweep.h"

#include <gtest/gtest.h>

#include "naming/examine.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

TEST(Sweep, GivesTheOddsOfExamineOnRandomBooks) {
    std::mt19937 random(77);
    for (int round = 0; round < 40; ++round) {
        const book::Book b = testing::random_book(random);
        std::optional<book::Ref<book::Form>> form;
        if (round % 4 != 0) form = book::Ref<book::Form>{static_cast<std::uint32_t>(round % 3)};
        const FormView view(b, form, Settings{});
        std::vector<looks::Findings> pieces;
        for (int k = 0; k < 60; ++k) {
            pieces.push_back(testing::random_findings(b, random));
            pieces.back().form = form;
            if (k % 3 == 0) pieces.push_back(pieces[random() % pieces.size()]);
        }
        std::vector<int> called(pieces.size());
        sweep(view, pieces, [&](std::size_t i, const Odds& odds) {
            ++called[i];
            const Answer a = examine(view, pieces[i], {false, false, false});
            EXPECT_NEAR(odds.open.unlisted, a.open.unlisted, 1e-12);
            EXPECT_NEAR(odds.open.elsewhere, a.open.elsewhere, 1e-12);
            ASSERT_EQ(odds.treatments.size(), a.candidates.size());
            for (const auto& [treatment, p] : odds.treatments)
                for (const Candidate& c : a.candidates)
                    if (c.treatment == treatment) {
                        EXPECT_NEAR(p, c.probability, 1e-12);
                    }
        });
        EXPECT_EQ(std::ranges::count(called, 1), std::ssize(called));
    }
}

}  // namespace
}  // namespace footring::naming

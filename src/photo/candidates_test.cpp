// SPDX-License-Identifier: Apache-2.0
#include "photo/candidates.h"

#include <gtest/gtest.h>

#include "photo/test_strips.h"

namespace footring::photo {
namespace {

TEST(Candidates, AGraphOfManyDrawingsLeadsToTheSameOrnamentAsComparingAll) {
    const book::Book book = testing::random_book(150, 0, 41);
    const OrnamentShelf all(book, 1000), graph(book, 100);
    ASSERT_TRUE(all.all().front().border);
    ASSERT_FALSE(graph.all().front().border) << "of many, drawings are prepared when they are asked for";
    testing::Random random(3);
    int right = 0;
    for (std::size_t i = 0; i < 150; i += 15) {
        const auto seen = testing::laid_border(book.ornaments[i], random, {0.3}).seen;
        const auto a = border_candidates(all, seen), b = border_candidates(graph, seen);
        ASSERT_FALSE(a.empty());
        ASSERT_FALSE(b.empty());
        EXPECT_EQ(a[0].drawing, b[0].drawing);
        EXPECT_NEAR(a[0].odds, b[0].odds, 1e-6);
        right += graph.all()[b[0].drawing].id == book.ornaments[i].id;
    }
    EXPECT_GE(right, 9) << "of 10; among 150 made at random some are much alike";
}
TEST(Candidates, ExtraInkSpeaksMoreStronglyAgainstADrawingThanMissingInk) {
    Evidence e{0.8f, 0.8f, 0.8f, 0.1f, 0.1f, 1, 0, 0, 0, 0};
    const double border = border_odds(e), centre = centre_odds(e);
    e.missing = 0.4f;
    const double worn = border_odds(e), worn_centre = centre_odds(e);
    e.missing = 0.1f, e.extra = 0.4f;
    EXPECT_LT(border_odds(e), worn);
    EXPECT_LT(centre_odds(e), worn_centre);
    EXPECT_LT(worn, border);
    EXPECT_LT(worn_centre, centre);
}

}  // namespace
}  // namespace footring::photo

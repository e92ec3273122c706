// SPDX-License-Identifier: Apache-2.0
#include "photo/likeness.h"

#include <gtest/gtest.h>

#include "book/pack.h"
#include "photo/test_strips.h"

namespace footring::photo {
namespace {
using testing::laid_border;
using testing::Random;

TEST(Likeness, TheSameBorderOnTwoPlatesIsAlikeAndDifferentOnesAreNot) {
    const book::Book book = testing::random_book(24, 0, 31);  // known to no pack
    Random random(4);
    std::vector<Descriptor> first, second;
    for (const auto& o : book.ornaments) {
        first.push_back(describe(laid_border(o, random, {0.4}).seen));
        second.push_back(describe(laid_border(o, random, {0.4}).seen));
    }
    int same = 0, all = 0, mistaken = 0, pairs = 0;
    for (std::size_t i = 0; i < first.size(); ++i) {
        same += likeness(first[i], second[i]) > 0.5;
        ++all;
        for (std::size_t k : {(i + 1) % first.size(), (i + 7) % first.size()}) {
            mistaken += likeness(first[i], second[k]) > 0.5;
            ++pairs;
        }
    }
    EXPECT_GE(same, 0.9 * all) << same << " of " << all;
    EXPECT_LE(mistaken, 0.05 * pairs) << mistaken << " of " << pairs;
}
TEST(Likeness, DoesNotDependOnWhichIsAskedFirst) {
    const book::Book book = testing::random_book(3, 0, 32);
    Random random(5);
    const auto a = describe(laid_border(book.ornaments[0], random).seen);
    const auto b = describe(laid_border(book.ornaments[0], random).seen);
    EXPECT_NEAR(likeness(a, b), likeness(b, a), 0.15);
    EXPECT_GT(likeness(a, a), 0.98);
}
TEST(Likeness, NothingSeenIsLikeNothing) {
    EXPECT_EQ(likeness(describe({}), describe({})), 0);
    EXPECT_TRUE(describe({}).index.empty());
}
TEST(Likeness, IndexNumbersDoNotDependOnWhereARepeatBegins) {
    const book::Book book = testing::random_book(1, 0, 33);
    const cv::Mat ink = pixels_of(book.ornaments[0], {128, 40}).value().ink;
    cv::Mat turned;
    cv::hconcat(ink.colRange(37, 128), ink.colRange(0, 37), turned);
    const auto a = index_numbers(ink), b = index_numbers(turned);
    for (std::size_t i = 0; i < a.size(); ++i) EXPECT_NEAR(a[i], b[i], 1e-4);
}

}  // namespace
}  // namespace footring::photo

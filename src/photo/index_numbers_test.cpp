// SPDX-License-Identifier: Apache-2.0
#include "photo/index_numbers.h"

#include <gtest/gtest.h>

#include "photo/test_strips.h"

namespace footring::photo {
namespace {

TEST(IndexNumbers, DoNotDependOnWhereARepeatBegins) {
    const book::Book book = testing::random_book(1, 0, 33);
    const cv::Mat ink = pixels_of(book.ornaments[0], {128, 40}).value().ink;
    cv::Mat turned;
    cv::hconcat(ink.colRange(37, 128), ink.colRange(0, 37), turned);
    const auto a = index_numbers(ink), b = index_numbers(turned);
    for (std::size_t i = 0; i < a.size(); ++i) EXPECT_NEAR(a[i], b[i], 1e-4);
}

}  // namespace
}  // namespace footring::photo

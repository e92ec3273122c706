// SPDX-License-Identifier: Apache-2.0
#include "photo/read.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "photo/test_scene.h"

namespace footring::photo {
namespace {

using testing::SceneSpec;

std::string jpeg_of(const cv::Mat& bgr) {
    std::vector<uchar> bytes;
    cv::imencode(".jpg", bgr, bytes, {cv::IMWRITE_JPEG_QUALITY, 92});
    return {bytes.begin(), bytes.end()};
}

// A photograph of very many pixels is measured in a smaller one, and told in its own.
TEST(Read, GivesPlacesInThePhotographItselfHoweverManyPixelsItHas) {
    SceneSpec spec;
    spec.size = {1200, 900};
    spec.fill = 0.6;
    spec.tilt_deg = 20;
    spec.card = true;
    spec.card_at_mm = {135, -20};
    spec.specks_per_dm2 = 3;
    const cv::Mat small = render(spec).picture.bgr;
    cv::Mat large;
    cv::resize(small, large, {}, 3, 3, cv::INTER_CUBIC);
    book::Book book;
    book.index();
    const Library library(book);
    ReadOptions options;
    options.rim_height_mm = spec.height_mm;
    const auto one = read(jpeg_of(small), "small", library, options);
    const auto three = read(jpeg_of(large), "large", library, options);
    ASSERT_TRUE(one && three);
    EXPECT_EQ(three->width, 3600);
    ASSERT_EQ(three->outline.kind, OutlineKind::kRound);
    EXPECT_NEAR(three->outline.rim.a / one->outline.rim.a, 3, 0.01);
    EXPECT_NEAR(three->outline.rim.b / one->outline.rim.b, 3, 0.01);
    EXPECT_NEAR(three->outline.rim.centre.x, 3 * one->outline.rim.centre.x, 3);
    EXPECT_NEAR(three->outline.rim.centre.y, 3 * one->outline.rim.centre.y, 3);
    ASSERT_TRUE(one->card && three->card && one->scale && three->scale);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(three->card->corners[i].x, 3 * one->card->corners[i].x, 3) << i;
    EXPECT_NEAR(three->scale->mm_per_px / one->scale->mm_per_px, 1.0 / 3, 0.002);
    EXPECT_NEAR(*three->outline.long_mm, spec.diameter_mm, 1.5);
    // The plate's own middle, by the matrix, lies near the ellipse's.
    const auto& m = *three->photo_from_plate;
    EXPECT_NEAR(m[3] / m[11], three->outline.rim.centre.x - 0.5, 0.03 * three->outline.rim.a);
    ASSERT_FALSE(three->faults.specks.empty());
    double furthest = 0;
    for (const Point& p : three->faults.specks)
        furthest =
            std::max(furthest, std::hypot(p.x - three->outline.rim.centre.x, p.y - three->outline.rim.centre.y));
    EXPECT_GT(furthest, 0.5 * three->outline.rim.a);
    EXPECT_LT(furthest, 1.05 * three->outline.rim.a);
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/regions.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

namespace footring::photo {
namespace {

// A cloth of pale, dark and middling squares, 9 px each.
cv::Mat chequered() {
    cv::Mat cloth(200, 270, CV_8UC3);
    for (int y = 0; y < cloth.rows; ++y)
        for (int x = 0; x < cloth.cols; ++x) {
            const int dark = x / 9 % 2 + y / 9 % 2;
            cloth.at<cv::Vec3b>(y, x) = dark == 0 ? cv::Vec3b(225, 205, 190)
                                                  : (dark == 1 ? cv::Vec3b(160, 140, 120) : cv::Vec3b(110, 70, 50));
        }
    return cloth;
}

TEST(RegionsOfOneColour, HoldAPaleOvalOnAChequeredCloth) {
    cv::Mat picture = chequered();
    cv::ellipse(picture, {140, 105}, {70, 40}, 20, 0, 360, cv::Scalar(225, 235, 240), cv::FILLED, cv::LINE_AA);
    cv::ellipse(picture, {140, 105}, {45, 24}, 20, 0, 360, cv::Scalar(60, 130, 180), 2,
                cv::LINE_AA);  // a verge line
    const double area = CV_PI * 70 * 40;
    bool held = false;
    for (const auto& hull : regions_of_one_colour(picture)) {
        const cv::Moments m = cv::moments(hull);
        held = held || (std::abs(m.m00 / area - 1) < 0.06 && std::abs(m.m10 / m.m00 - 140) < 2 &&
                        std::abs(m.m01 / m.m00 - 105) < 2);
    }
    EXPECT_TRUE(held);
}

TEST(RegionsOfOneColour, OfAClothAloneAreNoLargerThanItsSquares) {
    EXPECT_TRUE(regions_of_one_colour(chequered()).empty());
}

TEST(RegionUnlikeBorder, IsThePieceAndNotTheCard) {
    cv::Mat picture(200, 270, CV_8UC3, cv::Scalar(60, 80, 60));
    cv::circle(picture, {110, 100}, 50, cv::Scalar(220, 230, 235), cv::FILLED, cv::LINE_AA);
    const auto hull = region_unlike_border(picture, 1, std::nullopt);
    ASSERT_TRUE(hull);
    EXPECT_NEAR(cv::contourArea(*hull) / (CV_PI * 50 * 50), 1, 0.06);
    picture.setTo(cv::Scalar(60, 80, 60));
    EXPECT_FALSE(region_unlike_border(picture, 1, std::nullopt));
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/ring_surroundings.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

namespace footring::photo {
namespace {

const Hoop kRing = hoop_of(cv::Point2d(200, 150), Axes{100, 80, 0.3});

void draw(cv::Mat& picture, const cv::Scalar& colour, int thickness) {
    const Axes axes = axes_of(kRing);
    cv::ellipse(picture, cv::Point(200, 150), cv::Size(cvRound(axes.a), cvRound(axes.b)), axes.turn * 180 / CV_PI,
                0, 360, colour, thickness, cv::LINE_AA);
}
void add_noise(cv::Mat& picture) {
    cv::Mat noise(picture.size(), CV_16SC3);
    cv::RNG random(3);
    random.fill(noise, cv::RNG::NORMAL, 0, 1.5);
    cv::add(picture, noise, picture, cv::noArray(), CV_8UC3);
}
cv::Mat chequered_cloth() {
    cv::Mat cloth(300, 400, CV_8UC3, cv::Scalar(200, 210, 215));
    for (int y = 0; y < cloth.rows; y += 40)
        for (int x = y / 40 % 2 * 40; x < cloth.cols; x += 80)
            cloth(cv::Rect(x, y, 40, 40) & cv::Rect(0, 0, 400, 300)) = cv::Scalar(140, 80, 50);
    return cloth;
}

TEST(DrawnUpon, TellsARingOfOrnamentFromARim) {
    cv::Mat ornament(300, 400, CV_8UC3, cv::Scalar(205, 215, 222));
    draw(ornament, cv::Scalar(50, 120, 160), 5);
    add_noise(ornament);
    EXPECT_TRUE(drawn_upon(ornament, kRing));
    cv::Mat rim(300, 400, CV_8UC3, cv::Scalar(180, 190, 196));  // on paper of nearly the glaze's colour
    draw(rim, cv::Scalar(205, 215, 222), cv::FILLED);
    draw(rim, cv::Scalar(50, 120, 160), 5);
    add_noise(rim);
    EXPECT_FALSE(drawn_upon(rim, kRing));
}

TEST(SeenThrough, TellsAGlassOnAChequeredClothFromAPiece) {
    cv::Mat glass = chequered_cloth();
    draw(glass, cv::Scalar(90, 90, 90), 4);
    EXPECT_TRUE(seen_through(glass, kRing));
    cv::Mat piece = chequered_cloth();
    draw(piece, cv::Scalar(200, 210, 215), cv::FILLED);  // as pale as the cloth's pale squares
    EXPECT_FALSE(seen_through(piece, kRing));
    cv::Mat plain(300, 400, CV_8UC3, cv::Scalar(205, 210, 214));  // a white piece on white paper has but one colour
    draw(plain, cv::Scalar(90, 90, 90), 4);
    EXPECT_FALSE(seen_through(plain, kRing));
}

TEST(SeenThrough, TellsAGlassOnATableOfFewHuesByItsGrain) {
    cv::Mat table(300, 400, CV_8UC3);
    for (int x = 0; x < table.cols; ++x)
        table.col(x) =
            cv::Scalar(90 + 14 * std::sin(x / 3.0), 130 + 16 * std::sin(x / 3.0), 160 + 18 * std::sin(x / 3.0));
    cv::Mat glass = table.clone(), piece = table.clone();
    draw(glass, cv::Scalar(40, 45, 50), 4);
    EXPECT_TRUE(seen_through(glass, kRing));
    draw(piece, cv::Scalar(98, 140, 172), cv::FILLED);  // a glaze in the colour of the wood, but without its grain
    EXPECT_FALSE(seen_through(piece, kRing));
}

TEST(Evenness, IsThatOfGlazeAndNotOfAPattern) {
    cv::Mat piece = chequered_cloth();
    draw(piece, cv::Scalar(200, 210, 215), cv::FILLED);
    EXPECT_GT(evenness(piece, kRing), 0.95);
    EXPECT_LT(evenness(chequered_cloth(), kRing), 0.8);
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/strip.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/test_scene.h"

namespace footring::photo {

namespace {
using testing::SceneSpec;

SceneSpec lined(double tilt, double drop) {
    SceneSpec spec;
    spec.size = {900, 700};
    spec.tilt_deg = tilt;
    spec.turn_deg = 33;
    spec.drop = drop;
    spec.highlight = 0;
    spec.lines = {{.at = 0.2, .width = 0.03, .finish = "blue"}};
    return spec;
}
// Rows of the blue line, column by column: their middle.
std::pair<double, double> lowest_and_highest(const Strip& strip) {
    double low = 1e9, high = -1e9;
    for (int c = 0; c < strip.bgr.cols; ++c) {
        double sum = 0, weight = 0;
        for (int r = 0; r < strip.bgr.rows; ++r) {
            const auto p = strip.bgr.at<cv::Vec3b>(r, c);
            if (p[0] - p[2] < 40) continue;
            sum += r;
            ++weight;
        }
        if (weight == 0) continue;
        low = std::min(low, strip.t_of_row(sum / weight));
        high = std::max(high, strip.t_of_row(sum / weight));
    }
    return {low, high};
}
}  // namespace

TEST(Unroll, LaysALineRoundTheRimStraightAtItsTrueDistanceOnceTheDropIsRight) {
    const auto scene = render(lined(30, 0.3));
    const auto [low, high] =
        lowest_and_highest(unroll(scene.picture, scene.plate, 0.1, 0.3, {1024, 200}, {0.3, 0}));
    EXPECT_NEAR(low, 0.2, 0.003);
    EXPECT_NEAR(high, 0.2, 0.003);
    const auto [bent_low, bent_high] =
        lowest_and_highest(unroll(scene.picture, scene.plate, 0.1, 0.3, {1024, 200}, {0, 0}));
    EXPECT_GT(bent_high - bent_low, 0.03);  // 2 * 0.2 * 0.3 * tan 30 without the slope
}

TEST(FindSlope, IsWithinThreeHundredthsUnderTiltWhateverTheSlope) {
    for (const double drop : {0.1, 0.3, 0.45}) {
        auto spec = lined(28, drop);
        spec.border = testing::SceneBorder{};
        spec.border->tile = testing::tile_named("leaf");
        spec.border->to = 0.17;
        const auto scene = render(spec);
        EXPECT_NEAR(find_slope(scene.picture, scene.plate).slope.depth(0.15) / 0.15, drop, 0.03);
    }
}

TEST(RisesInwards, IsTrueOfAPieceThatStandsOnItsRimAlone) {
    for (const double drop : {-0.35, -0.25}) {
        const auto scene = render(lined(25, drop));
        EXPECT_TRUE(rises_inwards(scene.picture, scene.plate)) << drop;
    }
    for (const double drop : {0.1, 0.3, 0.45})
        for (const double tilt : {4.0, 25.0}) {
            const auto scene = render(lined(tilt, drop));
            EXPECT_FALSE(rises_inwards(scene.picture, scene.plate)) << drop << " at " << tilt;
        }
    SceneSpec bare;
    bare.size = {900, 700};
    bare.tilt_deg = 30;
    const auto scene = render(bare);
    EXPECT_FALSE(rises_inwards(scene.picture, scene.plate));
}

TEST(Unroll, MarksWhatLiesBeyondThePictureAsNotSeen) {
    auto spec = lined(0, 0.2);
    spec.off = {0.75, 0};  // the right side of the plate is cut off
    const auto scene = render(spec);
    const auto strip = unroll(scene.picture, scene.plate, 0.05, 0.1, {720, 20}, {0.2, 0});
    const auto seen_at = [&](double turns) {  // of the plate, which is itself turned by 33 degrees
        const double s = turns - 33.0 / 360;
        return strip.seen.at<uchar>(10, static_cast<int>((s - std::floor(s)) * 720));
    };
    EXPECT_EQ(seen_at(0.0), 0);
    EXPECT_EQ(seen_at(0.5), 255);
}

namespace {
// A square piece from straight above, its corners rounded, with a line on it; 200 px to a plate unit.
struct SquareScene {
    Picture picture;
    Plate plate;
};
SquareScene rounded_square(double radius) {
    constexpr double kUnit = 200, kMiddle = 300;
    constexpr int kFine = 4;  // drawn so many times larger
    cv::Mat large(600 * kFine, 600 * kFine, CV_8UC3, cv::Scalar(60, 75, 90));
    const auto fill = [&](double size, const cv::Scalar& colour) {
        std::vector<cv::Point> outline;
        for (const auto& [x, y] : {std::pair{1, 1}, {-1, 1}, {-1, -1}, {1, -1}})
            for (int i = 0; i <= 30; ++i) {
                const double first = std::atan2(y, x) - CV_PI / 4, m = first + CV_PI / 2 * i / 30;
                const cv::Point2d at(x * (1 - radius) + radius * std::cos(m),
                                     y * (1 - radius) + radius * std::sin(m));
                outline.emplace_back(static_cast<int>(std::lround((kMiddle + kUnit * size * at.x) * kFine)),
                                     static_cast<int>(std::lround((kMiddle + kUnit * size * at.y) * kFine)));
            }
        cv::fillPoly(large, std::vector{outline}, colour);
    };
    fill(1, {225, 230, 235});
    fill(0.88, {150, 60, 40});
    fill(0.86, {225, 230, 235});
    SquareScene scene;
    cv::resize(large, scene.picture.bgr, {600, 600}, 0, 0, cv::INTER_AREA);
    scene.plate.outline.kind = OutlineKind::kSquare;
    scene.plate.outline.rim = {px_from_mat({kMiddle - 0.5, kMiddle - 0.5}), kUnit, kUnit, 0};
    scene.plate.photo_from_plate = cv::Matx34d(kUnit, 0, 0, kMiddle - 0.5, 0, kUnit, 0, kMiddle - 0.5, 0, 0, 0, 1);
    for (const auto& [x, y] : {std::pair{-1, -1}, {1, -1}, {1, 1}, {-1, 1}})
        scene.plate.outline.corners.push_back(px_from_mat({kMiddle - 0.5 + kUnit * x, kMiddle - 0.5 + kUnit * y}));
    return scene;
}
}  // namespace

TEST(FindCorner, SaysHowFarTheCornersOfASquareAreRounded) {
    for (const double radius : {0.12, 0.3, 0.5}) {
        const auto scene = rounded_square(radius);
        EXPECT_NEAR(find_corner(scene.picture, scene.plate), radius, 0.03);
    }
    EXPECT_LT(find_corner(rounded_square(0.001).picture, rounded_square(0.001).plate), 0.04);
    SceneSpec round;
    round.size = {900, 700};
    const auto scene = render(round);
    EXPECT_EQ(find_corner(scene.picture, scene.plate), 0);
}

TEST(Unroll, OfARoundedSquareLaysALineStraightRoundItsCorners) {
    auto scene = rounded_square(0.3);
    scene.plate.corner = 0.3;
    const auto strip = unroll(scene.picture, scene.plate, 0.05, 0.25, {1024, 120}, {0, 0});
    const auto [low, high] = lowest_and_highest(strip);
    EXPECT_NEAR(low, 0.13, 0.006);
    EXPECT_NEAR(high, 0.13, 0.006);
    EXPECT_EQ(cv::countNonZero(strip.seen == 0), 0);
}

TEST(Upright, PutsThePlateFrameWhereItsScaleSays) {
    SceneSpec spec;
    spec.size = {900, 700};
    spec.tilt_deg = 25;
    spec.highlight = 0;
    spec.lines = {{.at = 0.01, .width = 0.02, .finish = "blue"}};
    const auto scene = render(spec);
    const cv::Mat top = upright(scene.picture, scene.plate, 420, 0);
    ASSERT_EQ(top.size(), cv::Size(420, 420));
    for (const double m : {0.3, 1.7, 2.9, 4.4}) {  // on the line; 200 px for each plate unit
        const auto p = top.at<cv::Vec3b>(static_cast<int>(209.5 + 198 * std::sin(m)),
                                         static_cast<int>(209.5 + 198 * std::cos(m)));
        EXPECT_GT(p[0] - p[2], 30) << m;
    }
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "photo/outline.h"

namespace footring::photo {

TEST(PlateCurve, OfARoundPlateRunsFromPlusXTowardsPlusYAndLooksInwards) {
    Plate plate;
    const auto quarter = plate.at(0.25), start = plate.at(0);
    EXPECT_NEAR(start.at.x, 1, 1e-12);
    EXPECT_NEAR(start.at.y, 0, 1e-12);
    EXPECT_NEAR(quarter.at.y, 1, 1e-12);
    EXPECT_NEAR(quarter.inwards.y, -1, 1e-12);
}

TEST(PlateCurve, OfAnOvalCutsItIntoArcsOfEqualLength) {
    Plate plate;
    plate.outline.kind = OutlineKind::kOval;
    plate.aspect = 0.7;
    const auto feet = plate.feet(1000);
    double shortest = 1, longest = 0, sum = 0;
    for (std::size_t i = 0; i < feet.size(); ++i) {
        const double step = cv::norm(feet[(i + 1) % feet.size()].at - feet[i].at);
        shortest = std::min(shortest, step);
        longest = std::max(longest, step);
        sum += step;
        EXPECT_NEAR(cv::norm(feet[i].inwards), 1, 1e-12);
        const auto slow = plate.at((static_cast<double>(i) + 0.5) / 1000);
        EXPECT_NEAR(cv::norm(slow.at - feet[i].at), 0, 1e-7);
    }
    EXPECT_NEAR(longest / shortest, 1, 1e-4);
    // Ramanujan's second approximation, good to 1e-7 here
    const double h = std::pow(0.3 / 1.7, 2);
    EXPECT_NEAR(sum, std::numbers::pi * 1.7 * (1 + 3 * h / (10 + std::sqrt(4 - 3 * h))), 1e-4);
}

TEST(PlateCurve, OfASquareFollowsItsSidesWhicheverWayTheCornersAreListed) {
    for (const bool backwards : {false, true}) {
        Plate plate;
        plate.outline.kind = OutlineKind::kSquare;
        plate.photo_from_plate = cv::Matx34d(100, 0, 0, 200, 0, 100, 0, 200, 0, 0, 0, 1);
        const auto px = [](double x, double y) { return px_from_mat({200 + 100 * x, 200 + 100 * y}); };
        plate.outline.corners = {px(-1, -1), px(1, -1), px(1, 1), px(-1, 1)};
        if (backwards) std::swap(plate.outline.corners[1], plate.outline.corners[3]);
        const auto start = plate.at(0), corner = plate.at(0.125), top = plate.at(0.75);
        EXPECT_NEAR(start.at.x, 1, 1e-9);
        EXPECT_NEAR(start.at.y, 0, 1e-9);
        EXPECT_NEAR(start.inwards.x, -1, 1e-9);
        EXPECT_NEAR(corner.at.x, 1, 1e-9);
        EXPECT_NEAR(corner.at.y, 1, 1e-9);
        // From the corner inwards lies the corner of the next ring, whichever side it is counted to.
        EXPECT_NEAR(corner.inwards.x, -1, 1e-9);
        EXPECT_NEAR(corner.inwards.y, -1, 1e-9);
        EXPECT_NEAR(top.at.y, -1, 1e-9);
        EXPECT_NEAR(top.inwards.y, 1, 1e-9);
    }
}

TEST(PlateCurve, OfARoundedSquareFollowsItsArcsInEqualStepsAndShrinksTowardsItsMiddle) {
    Plate plate;
    plate.outline.kind = OutlineKind::kSquare;
    plate.photo_from_plate = cv::Matx34d(100, 0, 0, 200, 0, 100, 0, 200, 0, 0, 0, 1);
    const auto px = [](double x, double y) { return px_from_mat({200 + 100 * x, 200 + 100 * y}); };
    plate.outline.corners = {px(-1, -1), px(1, -1), px(1, 1), px(-1, 1)};
    plate.corner = 0.3;
    const auto feet = plate.feet(2000);
    double sum = 0;
    for (std::size_t i = 0; i < feet.size(); ++i) {
        const double step = cv::norm(feet[(i + 1) % feet.size()].at - feet[i].at);
        EXPECT_NEAR(step, (8 - 8 * 0.3 + 2 * std::numbers::pi * 0.3) / 2000, 1e-5);
        sum += step;
        // a step of a tenth inwards leads to the same outline at nine tenths of its size
        EXPECT_NEAR(cv::norm(feet[i].at + 0.1 * feet[i].inwards - 0.9 * feet[i].at), 0, 1e-9);
    }
    EXPECT_NEAR(sum, 8 - (8 - 2 * std::numbers::pi) * 0.3, 1e-3);
    const auto start = plate.at(0), corner = plate.at(0.125);
    EXPECT_NEAR(start.at.y, 0, 1e-9);
    EXPECT_NEAR(corner.at.x, 0.7 + 0.3 * std::sqrt(0.5), 1e-6);
    EXPECT_NEAR(corner.at.y, 0.7 + 0.3 * std::sqrt(0.5), 1e-6);
}

}  // namespace footring::photo

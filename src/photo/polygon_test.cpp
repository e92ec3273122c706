// SPDX-License-Identifier: Apache-2.0
#include "photo/polygon.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/outline.h"
#include "photo/sampling.h"

namespace footring::photo {
namespace {

constexpr double kPi = std::numbers::pi;

struct Drawn {
    Picture picture;
    std::vector<cv::Point2d> corners;  // where the sides would meet
    cv::Matx33d photo_from_plane;      // the sides lie 1 from the middle
};
// A piece with `sides` sides, corners cut round by `round`, seen 30 degrees aslant from `distance`; a line within.
Drawn drawn(int sides, double round, bool line, const std::optional<cv::Scalar>& edge_line = {}) {
    const double tilt = kPi / 6, focal = 1100, distance = 5;
    const cv::Matx33d camera(focal, 0, 399.5, 0, focal, 299.5, 0, 0, 1);
    Drawn out;
    out.photo_from_plane = camera * cv::Matx33d(1, 0, 0, 0, std::cos(tilt), 0, 0, -std::sin(tilt), distance);
    const double half = kPi / sides, far = 1 / std::cos(half);
    const auto outline = [&](double scale) {
        std::vector<cv::Point> points;
        std::vector<cv::Point2d> c;
        for (int i = 0; i < sides; ++i) {
            const double f = half + 2 * half * i + 0.1;
            c.emplace_back(far * std::cos(f), far * std::sin(f));
        }
        const auto add = [&](cv::Point2d p) {
            const cv::Point2d q = through(out.photo_from_plane, p * scale);
            points.emplace_back(cvRound((q.x + 0.5) * 4 * 16) - 8,
                                cvRound((q.y + 0.5) * 4 * 16) - 8);  // 4 times as large
        };
        for (std::size_t i = 0; i < c.size(); ++i) {
            const cv::Point2d p = c[i], a = c[(i + c.size() - 1) % c.size()], b = c[(i + 1) % c.size()];
            for (int k = 0; k <= 8; ++k) {  // a quadratic curve round the corner
                const double t = k / 8.0;
                const cv::Point2d from = p + (a - p) * round, to = p + (b - p) * round;
                add(from * ((1 - t) * (1 - t)) + p * (2 * t * (1 - t)) + to * (t * t));
            }
        }
        if (scale == 1)
            for (const auto& p : c) out.corners.push_back(through(out.photo_from_plane, p));
        return std::vector<std::vector<cv::Point>>{points};
    };
    cv::Mat large(2400, 3200, CV_8UC3, cv::Scalar(70, 95, 130));
    if (edge_line) cv::fillPoly(large, outline(1), *edge_line, cv::LINE_AA, 4);
    cv::fillPoly(large, outline(edge_line ? 0.975 : 1), cv::Scalar(215, 228, 235), cv::LINE_AA, 4);
    if (line) cv::polylines(large, outline(0.7), true, cv::Scalar(150, 170, 180), 12, cv::LINE_AA, 4);
    cv::resize(large, out.picture.bgr, {800, 600}, 0, 0, cv::INTER_AREA);
    cv::Mat noise(600, 800, CV_16SC3);
    cv::RNG random(5);
    random.fill(noise, cv::RNG::NORMAL, 0, 2);
    cv::add(out.picture.bgr, noise, out.picture.bgr, cv::noArray(), CV_8UC3);
    out.picture.focal_px = focal;
    return out;
}
double worst_corner(const Plate& plate, const Drawn& truth) {
    double worst = 0;
    for (const auto& must : truth.corners) {
        double nearest = 1e9;
        for (const auto& is : plate.outline.corners) nearest = std::min(nearest, cv::norm(mat_from_px(is) - must));
        worst = std::max(worst, nearest);
    }
    return worst;
}

TEST(Polygon, OfASquareAndAnOctagonalPieceHasTheirSidesAndPose) {
    for (const int sides : {4, 8}) {
        const Drawn truth = drawn(sides, sides == 4 ? 0.12 : 0.03, true);
        std::vector<std::string> notes;
        const auto plate = find_plate(truth.picture, {}, {}, notes);
        ASSERT_TRUE(plate) << sides;
        EXPECT_EQ(plate->outline.kind, sides == 4 ? OutlineKind::kSquare : OutlineKind::kOctagonal);
        ASSERT_EQ(plate->outline.corners.size(), static_cast<std::size_t>(sides));
        EXPECT_LT(worst_corner(*plate, truth), 2) << sides;
        EXPECT_NEAR(plate->outline.tilt_deg, 30, 2);
        EXPECT_EQ(plate->aspect, 1);
        // The rim's curve in the plate frame lies where the sides are.
        for (int i = 0; i < 16; ++i) {
            const auto foot = plate->at(i / 16.0);
            const cv::Vec3d h = plate->photo_from_plate * cv::Vec4d(foot.at.x, foot.at.y, 0, 1);
            const cv::Point2d plane = through(truth.photo_from_plane.inv(), {h[0] / h[2], h[1] / h[2]});
            double furthest = 0;
            for (int k = 0; k < sides; ++k) {
                const double f = 2 * kPi * k / sides + 0.1;
                furthest = std::max(furthest, plane.x * std::cos(f) + plane.y * std::sin(f));
            }
            EXPECT_NEAR(furthest, 1, 0.015) << sides << " " << i;
        }
        EXPECT_NEAR(plate->at(0).at.y, 0, 0.01);
        EXPECT_NEAR(plate->at(0).at.x, 1, 0.02);
    }
}

TEST(Polygon, ReachesToTheOuterSideOfALineThatIsAsDarkAsTheTable) {
    for (const int sides : {4, 8}) {
        const Drawn truth = drawn(sides, sides == 4 ? 0.12 : 0.03, true, cv::Scalar(60, 115, 75));
        std::vector<std::string> notes;
        const auto plate = find_plate(truth.picture, {}, {}, notes);
        ASSERT_TRUE(plate) << sides;
        EXPECT_LT(worst_corner(*plate, truth), 2) << sides;
    }
}

TEST(Polygon, IsFoundRoundARingOfOrnamentThatIsPlainerThanItsSides) {
    Drawn square = drawn(4, 0.12, false, cv::Scalar(72, 100, 140));  // its edge line is of the table's colour
    const cv::Point2d middle = through(square.photo_from_plane, {0, 0});
    cv::ellipse(square.picture.bgr, middle, {70, 61}, 0, 0, 360, cv::Scalar(40, 110, 150), 5, cv::LINE_AA);
    std::vector<std::string> notes;
    const auto plate = find_plate(square.picture, {}, {}, notes);
    ASSERT_TRUE(plate);
    EXPECT_EQ(plate->outline.kind, OutlineKind::kSquare);
    EXPECT_TRUE(notes.empty() && plate->notes.empty());  // nothing of round and oval
}

TEST(Polygon, PutsASideRightThatRunsAlongAShadow) {
    Drawn octagon = drawn(8, 0.03, true);
    // A sharp shadow beside two of its sides.
    std::vector<cv::Point> shade;
    const cv::Point2d middle = through(octagon.photo_from_plane, {0, 0});
    for (const auto& c : octagon.corners)
        if (c.x > middle.x - 20) shade.emplace_back(c + cv::Point2d(26, 10));
    std::vector<cv::Point> piece, hull;
    for (const auto& c : octagon.corners) piece.emplace_back(c);
    cv::convexHull(shade, hull);
    cv::Mat there = cv::Mat::zeros(octagon.picture.bgr.size(), CV_8U), dark;
    cv::fillConvexPoly(there, hull, 255);
    cv::fillConvexPoly(there, piece, 0);
    octagon.picture.bgr.convertTo(dark, -1, 0.72);
    dark.copyTo(octagon.picture.bgr, there);
    std::vector<std::string> notes;
    const auto plate = find_plate(octagon.picture, {}, {}, notes);
    ASSERT_TRUE(plate);
    EXPECT_EQ(plate->outline.kind, OutlineKind::kOctagonal);
    EXPECT_LT(worst_corner(*plate, octagon), 6);
}

TEST(Polygon, OfASheetOfPaperIsNoPiece) {
    const Drawn sheet = drawn(4, 0, false);
    std::vector<std::string> notes;
    EXPECT_FALSE(find_plate(sheet.picture, {}, {}, notes));
    EXPECT_EQ(notes.size(), 1u);
}

TEST(Polygon, DoesNotTakeARoundPlateForAnOctagon) {
    const Drawn round = drawn(60, 0.1, true);
    std::vector<std::string> notes;
    const auto plate = find_plate(round.picture, {}, {}, notes);
    ASSERT_TRUE(plate);
    EXPECT_EQ(plate->outline.kind, OutlineKind::kRound);
}

TEST(Polygon, DoesNotTakeANapkinForThePlateUponIt) {
    Drawn napkin = drawn(4, 0, false);
    const cv::Point2d middle = through(napkin.photo_from_plane, {0, 0});
    cv::ellipse(napkin.picture.bgr, middle, {120, 104}, 0, 0, 360, cv::Scalar(190, 120, 90), cv::FILLED,
                cv::LINE_AA);
    std::vector<std::string> notes;
    const auto plate = find_plate(napkin.picture, {}, {}, notes);
    ASSERT_TRUE(plate);
    EXPECT_EQ(plate->outline.kind, OutlineKind::kRound);
    EXPECT_NEAR(plate->outline.rim.a, 120.3, 1.5);
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/hoop.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <numbers>
#include <random>
#include <sstream>

namespace footring::photo {
namespace {

constexpr double kPi = std::numbers::pi;
const Hoop kHoop = hoop_of(cv::Point2d(812.3, 604.9), Axes{402.5, 301.25, 0.35});

std::vector<cv::Point2d> points_on(const Hoop& hoop, int count, double from = 0, double to = 2 * kPi) {
    std::vector<cv::Point2d> out;
    for (int i = 0; i < count; ++i) out.push_back(hoop.at(from + (to - from) * i / count));
    return out;
}
void expect_same(const Hoop& a, const Hoop& b, double px) {
    const Axes p = axes_of(a), q = axes_of(b);
    EXPECT_NEAR(a.centre.x, b.centre.x, px);
    EXPECT_NEAR(a.centre.y, b.centre.y, px);
    EXPECT_NEAR(p.a, q.a, px);
    EXPECT_NEAR(p.b, q.b, px);
    EXPECT_NEAR(std::remainder(p.turn - q.turn, kPi), 0, px / 100);
}

TEST(Hoop, SurvivesTheWayThroughItsConic) {
    const auto back = hoop_of(conic_of(kHoop));
    ASSERT_TRUE(back);
    expect_same(*back, kHoop, 1e-6);
    EXPECT_FALSE(hoop_of(cv::Matx33d(1, 0, 0, 0, -1, 0, 0, 0, -1)));  // a hyperbola
    EXPECT_FALSE(hoop_of(cv::Matx33d(1, 0, 0, 0, 1, 0, 0, 0, 1)));    // no real point
}

TEST(Hoop, IsDrawnThroughExactPoints) {
    const auto points = points_on(kHoop, 9);
    const auto fit = direct_fit(points);
    ASSERT_TRUE(fit);
    expect_same(*fit, kHoop, 1e-6);
    EXPECT_FALSE(direct_fit(std::vector<cv::Point2d>(points.begin(), points.begin() + 4)));
}

// x^2 + y^2 = z^2 seen by a pinhole camera: the image of the circle is worked out point by point.
TEST(Hoop, IsTheTrueImageOfACircleAslant) {
    const double tilt = 0.6, focal = 1500;
    std::vector<cv::Point2d> image;
    for (int i = 0; i < 50; ++i) {
        const double f = 2 * kPi * i / 50, x = std::cos(f), y = std::sin(f) * std::cos(tilt),
                     z = 5 + std::sin(f) * std::sin(tilt);
        image.emplace_back(focal * x / z, focal * y / z);
    }
    const auto fit = direct_fit(image);
    ASSERT_TRUE(fit);
    for (const auto& p : image) EXPECT_NEAR(distance_from(*fit, p), 0, 1e-6);
}

TEST(Hoop, FitsAsScikitImageDoes) {
    std::ifstream file(std::string(FOOTRING_ROOT) + "/tests/facts/ellipse_fits.csv");
    ASSERT_TRUE(file.good());
    std::map<int, std::vector<cv::Point2d>> points;
    std::map<int, std::array<double, 4>> truth;
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) {
        for (char& c : line) c = c == ',' ? ' ' : c;
        std::istringstream in(line);
        int number = 0;
        double x = 0, y = 0;
        std::array<double, 4> t{};
        in >> number >> x >> y >> t[0] >> t[1] >> t[2] >> t[3];
        points[number].emplace_back(x, y);
        truth[number] = t;
    }
    ASSERT_EQ(points.size(), 5u);
    for (const auto& [number, p] : points) {
        const auto fit = direct_fit(p);
        ASSERT_TRUE(fit) << number;
        const auto& t = truth[number];
        // Theirs takes raw coordinates, ours centred ones: the algebraic distance differs a little where there is
        // noise.
        const double px = number == 0 ? 1e-3 : 0.02 * t[2];
        EXPECT_NEAR(fit->centre.x, t[0], px) << number;
        EXPECT_NEAR(fit->centre.y, t[1], px) << number;
        EXPECT_NEAR(axes_of(*fit).a, t[2], px) << number;
        EXPECT_NEAR(axes_of(*fit).b, t[3], px) << number;
    }
}

TEST(Hoop, LosesNothingToAShadowAlongATenthOfTheRim) {
    std::mt19937 random(7);
    std::normal_distribution<double> noise(0, 0.3);
    auto points = points_on(kHoop, 360);
    for (std::size_t i = 0; i < points.size(); ++i) {
        const double f = 2 * kPi * static_cast<double>(i) / 360;
        const double off = i < 36 ? 6 : 0;
        points[i] += kHoop.outwards(f) * (off + noise(random));
    }
    const Hoop start = hoop_of(kHoop.centre + cv::Point2d(1, -1), Axes{403, 300.5, 0.348});
    const auto fit = robust_fit(start, points, {}, 8);
    ASSERT_TRUE(fit);
    expect_same(fit->hoop, kHoop, 0.25);
    EXPECT_LT(fit->weights[18], 0.05);
    EXPECT_GT(fit->weights[200], 0.5);
}

TEST(Hoop, KnowsHowFarAPointLiesOutside) {
    for (const double f : {0.0, 1.0, 2.5, 4.0})
        for (const double off : {-1.5, 0.0, 2.0}) {
            const cv::Point2d p = kHoop.at(f) + kHoop.outwards(f) * off;
            EXPECT_NEAR(distance_from(kHoop, p), off, 0.02);
        }
}

TEST(Hoop, ChangesAsItsBasisSays) {
    const Change change{0.004, -0.003, 0.002, 0.005, -0.004};
    const Hoop moved = changed(kHoop, change);
    for (int i = 0; i < 24; ++i) {
        const double f = 2 * kPi * i / 24;
        const auto basis = change_basis(f);
        double sum = 0;
        for (std::size_t k = 0; k < 5; ++k) sum += change[k] * basis[k];
        const cv::Vec2d w = kHoop.shape.inv().t() * cv::Vec2d(std::cos(f), std::sin(f));
        EXPECT_NEAR(-distance_from(moved, kHoop.at(f)), sum / cv::norm(w), 0.05) << i;
    }
}

TEST(Hoop, GrowsWithItsPictureAboutTheCornerOfTheFirstPixel) {
    const Hoop small = hoop_of(cv::Point2d(-0.5, -0.5), Axes{10, 5, 0});  // about the outer corner
    const Hoop large = rescaled(small, 4);
    EXPECT_NEAR(large.centre.x, -0.5, 1e-12);
    EXPECT_NEAR(axes_of(large).a, 40, 1e-12);
}

}  // namespace
}  // namespace footring::photo

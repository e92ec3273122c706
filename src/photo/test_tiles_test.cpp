// The tiles of photo/test_scene.h.
// SPDX-License-Identifier: Apache-2.0
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/test_scene.h"

namespace footring::photo::testing {

cv::Mat tile_named(const std::string& name) {
    constexpr int kHigh = 160;
    const auto blank = [](int wide, int high) { return cv::Mat(high, wide, CV_8UC1, cv::Scalar(0)); };
    const auto done = [](const cv::Mat& m) {
        cv::Mat f;
        m.convertTo(f, CV_32F, 1 / 255.0);
        cv::GaussianBlur(f, f, {}, 0.8);
        return f;
    };
    const auto leaf = [](cv::Mat& m, cv::Point c, cv::Size half, double angle) {
        cv::ellipse(m, c, half, angle, 0, 360, 255, cv::FILLED, cv::LINE_AA);
    };
    if (name == "leaf") {
        cv::Mat m = blank(200, kHigh);
        cv::line(m, {20, 120}, {180, 70}, 255, 5, cv::LINE_AA);
        leaf(m, {60, 75}, {30, 12}, 60);
        leaf(m, {95, 60}, {32, 13}, 55);
        leaf(m, {130, 45}, {30, 12}, 50);
        leaf(m, {90, 125}, {26, 11}, -50);
        leaf(m, {130, 112}, {28, 11}, -48);
        cv::circle(m, {182, 62}, 13, 255, cv::FILLED, cv::LINE_AA);
        return done(m);
    }
    if (name == "pair") {
        cv::Mat m = blank(320, kHigh);
        cv::circle(m, {80, 80}, 42, 255, 9, cv::LINE_AA);
        cv::circle(m, {80, 80}, 16, 255, cv::FILLED, cv::LINE_AA);
        leaf(m, {240, 80}, {52, 16}, 45);
        leaf(m, {240, 80}, {52, 16}, -45);
        return done(m);
    }
    if (name == "key") {
        cv::Mat m = blank(128, kHigh);
        cv::rectangle(m, {0, 10}, {127, 17}, 255, cv::FILLED);
        cv::rectangle(m, {0, 142}, {127, 149}, 255, cv::FILLED);
        const std::vector<cv::Point> line{{0, 125}, {105, 125}, {105, 42}, {36, 42}, {36, 95}, {70, 95}, {70, 70}};
        cv::polylines(m, line, false, 255, 10, cv::LINE_8);
        cv::line(m, {100, 125}, {127, 125}, 255, 10);
        return done(m);
    }
    if (name == "dots") {
        cv::Mat m = blank(240, kHigh);
        for (int i = 0; i < 3; ++i) cv::circle(m, {40 + 80 * i, 80}, 22, 255, cv::FILLED, cv::LINE_AA);
        return done(m);
    }
    if (name == "spray") {
        cv::Mat m = blank(480, kHigh), inside = m(cv::Rect(160, 0, 160, kHigh));
        cv::line(inside, {10, 130}, {150, 40}, 255, 6, cv::LINE_AA);
        leaf(inside, {50, 70}, {32, 13}, 70);
        leaf(inside, {110, 100}, {32, 13}, 10);
        cv::circle(inside, {125, 45}, 24, 255, 8, cv::LINE_AA);
        return done(m);
    }
    cv::Mat m = blank(320, 320);  // rosette
    for (int i = 0; i < 8; ++i) {
        const double a = i * std::numbers::pi / 4;
        leaf(m, {160 + static_cast<int>(90 * std::cos(a)), 160 + static_cast<int>(90 * std::sin(a))}, {58, 20},
             i * 45.0);
    }
    cv::circle(m, {160, 160}, 22, 255, cv::FILLED, cv::LINE_AA);
    cv::circle(m, {160, 160}, 152, 255, 5, cv::LINE_AA);
    return done(m);
}

}  // namespace footring::photo::testing

// SPDX-License-Identifier: Apache-2.0
#include "photo/seen_centre.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
constexpr double kReach = 1.25;
}

Disc disc_of(const cv::Mat& ink) {
    // Faint traces are noise, of which a large ground holds much.
    double peak = 0;
    cv::minMaxLoc(ink, nullptr, &peak);
    cv::Mat strong;
    cv::threshold(ink, strong, 0.3 * peak, 0, cv::THRESH_TOZERO);
    const cv::Moments m = cv::moments(strong);
    Disc out;
    if (m.m00 <= 0) return {{ink.cols / 2.0, ink.rows / 2.0}, std::max(1.0, ink.rows / 2.0)};
    out.middle = {m.m10 / m.m00, m.m01 / m.m00};
    std::vector<double> within(static_cast<std::size_t>(std::hypot(ink.cols, ink.rows)) + 2);
    for (int y = 0; y < ink.rows; ++y)
        for (int x = 0; x < ink.cols; ++x)
            within[static_cast<std::size_t>(std::hypot(x - out.middle.x, y - out.middle.y))] +=
                strong.at<float>(y, x);
    double sum = 0;
    std::size_t r = 0;
    while (r + 1 < within.size() && sum + within[r] < 0.95 * m.m00) sum += within[r++];
    out.radius = static_cast<double>(r) + (within[r] > 0 ? (0.95 * m.m00 - sum) / within[r] : 0);
    out.radius = std::max(1.0, out.radius);
    return out;
}

cv::Mat polar(const cv::Mat& ink, const Disc& disc) {
    cv::Mat x(kFine.size(), CV_32FC1), y(kFine.size(), CV_32FC1), out;
    for (int c = 0; c < kFine.columns; ++c) {
        const double angle = 2 * std::numbers::pi * c / kFine.columns, dx = std::cos(angle), dy = std::sin(angle);
        for (int r = 0; r < kFine.rows; ++r) {
            const double radius = (r + 0.5) / kFine.rows * kReach * disc.radius;
            x.at<float>(r, c) = static_cast<float>(disc.middle.x + radius * dx);
            y.at<float>(r, c) = static_cast<float>(disc.middle.y + radius * dy);
        }
    }
    // Far from the middle columns lie wide apart: what is finer than they are must not alias.
    cv::Mat soft;
    const double step = kReach * disc.radius / kFine.rows;
    if (step > 1) cv::GaussianBlur(ink, soft, {}, 0.4 * step);
    else soft = ink;
    cv::remap(soft, out, x, y, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0);
    return out;
}

std::vector<float> polar_weight(Grid grid) {
    std::vector<float> out(static_cast<std::size_t>(grid.rows));
    const float all = static_cast<float>(grid.rows * grid.rows) / 2;
    for (std::size_t r = 0; r < out.size(); ++r) out[r] = (static_cast<float>(r) + 0.5f) / all;
    return out;
}

}  // namespace footring::photo

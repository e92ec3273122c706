// photo/sampling.h - values between pixels, and sRGB as light.
//   source  IEC 61966-2-1:1999 (sRGB)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cmath>
#include <opencv2/core.hpp>

namespace footring::photo {

inline double linear_from_srgb(double value) {  // 0..255 -> 0..1
    const double v = value / 255;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
}
inline double srgb_from_linear(double light) {  // 0..1 -> 0..255
    return 255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055);
}
// The light of each 8-bit value.
inline const std::array<float, 256>& light_table() {
    static const std::array<float, 256> table = [] {
        std::array<float, 256> t{};
        for (int i = 0; i < 256; ++i) t[static_cast<std::size_t>(i)] = static_cast<float>(linear_from_srgb(i));
        return t;
    }();
    return table;
}

inline bool within(const cv::Mat& image, cv::Point2d p) {
    return p.x >= 0 && p.y >= 0 && p.x <= image.cols - 1 && p.y <= image.rows - 1;
}
// Bilinear; mat pixels; p must be within the image, which is CV_8UC3 and at least 2 x 2.
inline cv::Vec3f colour_at(const cv::Mat& bgr, cv::Point2d p) {
    const int x = std::min(static_cast<int>(p.x), bgr.cols - 2), y = std::min(static_cast<int>(p.y), bgr.rows - 2);
    const float fx = static_cast<float>(p.x) - static_cast<float>(x),
                fy = static_cast<float>(p.y) - static_cast<float>(y);
    const auto* up = bgr.ptr<cv::Vec3b>(y) + x;
    const auto* low = bgr.ptr<cv::Vec3b>(y + 1) + x;
    cv::Vec3f out;
    for (int c = 0; c < 3; ++c) {
        const float a = static_cast<float>(up[0][c]) + fx * static_cast<float>(up[1][c] - up[0][c]);
        const float b = static_cast<float>(low[0][c]) + fx * static_cast<float>(low[1][c] - low[0][c]);
        out[c] = a + fy * (b - a);
    }
    return out;
}
// As colour_at, as light: 0..1 per channel.
inline cv::Vec3f light_at(const cv::Mat& bgr, cv::Point2d p) {
    const auto& light = light_table();
    const int x = std::min(static_cast<int>(p.x), bgr.cols - 2), y = std::min(static_cast<int>(p.y), bgr.rows - 2);
    const float fx = static_cast<float>(p.x) - static_cast<float>(x),
                fy = static_cast<float>(p.y) - static_cast<float>(y);
    const auto* up = bgr.ptr<cv::Vec3b>(y) + x;
    const auto* low = bgr.ptr<cv::Vec3b>(y + 1) + x;
    cv::Vec3f out;
    for (int c = 0; c < 3; ++c) {
        const float a = light[up[0][c]] + fx * (light[up[1][c]] - light[up[0][c]]);
        const float b = light[low[0][c]] + fx * (light[low[1][c]] - light[low[0][c]]);
        out[c] = a + fy * (b - a);
    }
    return out;
}

inline cv::Point2d through(const cv::Matx33d& h, cv::Point2d p) {
    const cv::Vec3d v = h * cv::Vec3d(p.x, p.y, 1);
    return {v[0] / v[2], v[1] / v[2]};
}

}  // namespace footring::photo

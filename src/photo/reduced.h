// photo/reduced.h - a photograph made smaller, quickly: halved exactly as often as fits, then by linear weights.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

inline cv::Mat reduced(const cv::Mat& bgr, double scale) {
    if (scale >= 1) return bgr;
    const cv::Size size(std::max(2, cvRound(bgr.cols * scale)), std::max(2, cvRound(bgr.rows * scale)));
    cv::Mat now = bgr;
    while (now.cols >= 2 * size.width && now.rows >= 2 * size.height && now.cols > 3 && now.rows > 3) {
        cv::Mat half;  // an odd last row or column is left out: only whole pairs are averaged fast
        cv::resize(now(cv::Rect(0, 0, now.cols / 2 * 2, now.rows / 2 * 2)), half,
                   cv::Size(now.cols / 2, now.rows / 2), 0, 0, cv::INTER_AREA);
        now = half;
    }
    if (now.size() == size) return now;
    cv::Mat out;
    cv::resize(now, out, size, 0, 0, cv::INTER_LINEAR);
    return out;
}

}  // namespace footring::photo

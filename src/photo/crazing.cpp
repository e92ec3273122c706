// SPDX-License-Identifier: Apache-2.0
#include "photo/crazing.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace footring::photo {

namespace {

constexpr double kLeastPxPerMm = 1.2;
constexpr double kWidestMm = 0.7, kShortestMm = 3;  // of a crack
constexpr double kPlaceMm = 15;  // places of this size have cracks or none: wider than the meshes of most nets
constexpr int kLeastGlazedPlaces = 12;
// The share of places at which crazed and sound are alike likely, and how fast the chance turns there: of 235 sound
// plates that were rendered the most had 0.53, of 15 crazed ones the least 0.72 (docs/photo-accuracy.md).
constexpr double kEvenShare = 0.63, kShareSpread = 0.035;

// The value that a share `q` of the pixels under the mask does not exceed.
int level(const cv::Mat& values, const cv::Mat& mask, double q) {
    cv::Mat_<float> count;
    cv::calcHist(std::vector{values}, {0}, mask, count, {256}, {0, 256});
    const double wanted = std::floor(q * cv::countNonZero(mask));
    double below = 0;
    for (int v = 0; v < count.rows; ++v)
        if ((below += static_cast<double>(count(v))) > wanted) return v;
    return 255;
}

// Dark lines: 255.
cv::Mat cracks(const cv::Mat& grey, const cv::Mat& bare, double px_per_mm) {
    const int across = 2 * std::max(1, cvRound(kWidestMm / 2 * px_per_mm)) + 3;
    const cv::Mat square = cv::getStructuringElement(cv::MORPH_RECT, {across, across});
    cv::Mat darker, brighter;
    cv::morphologyEx(grey, darker, cv::MORPH_BLACKHAT, square);
    cv::morphologyEx(grey, brighter, cv::MORPH_TOPHAT, square);
    // Noise is alike to both sides, and no crack is brighter than the glaze.
    const double least = std::max(3.0, 1.6 * level(brighter, bare, 0.9));
    cv::Mat dark = (darker > least) & (bare > 0);
    cv::Mat labels, stats, middles;
    const int n = cv::connectedComponentsWithStats(dark, labels, stats, middles, 8);
    std::vector<uchar> is_long(static_cast<std::size_t>(n), 0);
    for (int i = 1; i < n; ++i) {
        const double reach = std::hypot(stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT));
        is_long[static_cast<std::size_t>(i)] = reach >= kShortestMm * px_per_mm ? 255 : 0;
    }
    dark.forEach<uchar>([&](uchar& is_crack, const int* at) {
        is_crack = is_long[static_cast<std::size_t>(labels.at<int>(at[0], at[1]))];
    });
    return dark;
}

}  // namespace

std::optional<double> chance_of_crazing(const cv::Mat& grey, const cv::Mat& bare, double px_per_mm) {
    if (px_per_mm < kLeastPxPerMm || cv::countNonZero(bare) == 0) return std::nullopt;
    const cv::Mat dark = cracks(grey, bare, px_per_mm);
    const int side = cvRound(kPlaceMm * px_per_mm);
    int places = 0, cracked = 0;
    for (int y = 0; y + side <= grey.rows; y += side)
        for (int x = 0; x + side <= grey.cols; x += side) {
            const cv::Rect place(x, y, side, side);
            if (cv::countNonZero(bare(place)) < 0.7 * side * side) continue;
            ++places;
            cracked += cv::countNonZero(dark(place)) >= 2 * px_per_mm ? 1 : 0;
        }
    if (places < kLeastGlazedPlaces) return std::nullopt;
    const double share = static_cast<double>(cracked) / places;
    constexpr double kLeast = 0.005, kMost = 0.99;  // some twenty crazed pieces make nothing certain
    return std::clamp(1 / (1 + std::exp((kEvenShare - share) / kShareSpread)), kLeast, kMost);
}

}  // namespace footring::photo

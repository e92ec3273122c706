// SPDX-License-Identifier: Apache-2.0
#include "photo/index_numbers.h"

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/tile_match.h"

namespace footring::photo {

namespace {
constexpr int kIndexRows = 8, kIndexWaves = 12;
static_assert(kIndexRows * (kIndexWaves + 1) == kDescriptorSize);
}  // namespace

std::array<float, kDescriptorSize> index_numbers(const cv::Mat& tile) {
    cv::Mat rows, spectrum;
    cv::resize(tile, rows, {kFine.columns, kIndexRows}, 0, 0, cv::INTER_AREA);
    cv::dft(rows, spectrum, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT | cv::DFT_SCALE);
    std::array<float, kDescriptorSize> out{};
    double square = 0, mean = 0;
    for (int r = 0; r < kIndexRows; ++r) mean += spectrum.at<cv::Vec2f>(r, 0)[0] / kIndexRows;
    for (int r = 0; r < kIndexRows; ++r)
        for (int k = 0; k <= kIndexWaves; ++k) {
            const auto c = spectrum.at<cv::Vec2f>(r, k);
            const double value = k == 0 ? 0.5 * (c[0] - mean) : std::hypot(c[0], c[1]);
            out[static_cast<std::size_t>(r * (kIndexWaves + 1) + k)] = static_cast<float>(value);
            square += value * value;
        }
    if (square > 0)
        for (float& v : out) v = static_cast<float>(v / std::sqrt(square));
    return out;
}

}  // namespace footring::photo

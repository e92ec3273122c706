// SPDX-License-Identifier: Apache-2.0
#include "photo/likeness.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/finish_match.h"
#include "photo/row_search.h"
#include "photo/seen_border.h"
#include "photo/tile_match.h"

namespace footring::photo {

namespace {
constexpr int kIndexRows = 8, kIndexWaves = 12;
static_assert(kIndexRows * (kIndexWaves + 1) == kDescriptorSize);

// Chosen on synthesised ribbons of drawings made at random, worn up to two fifths (likeness_test.cpp): nine in ten
// pairs of one ornament lie above kEven, one in twenty of two.
constexpr double kSteepness = 18, kEven = 0.72;

cv::Mat tile_of(const Descriptor& d) {
    const cv::Mat bytes(kFine.size(), CV_8U, const_cast<std::uint8_t*>(d.tile.data()));
    cv::Mat out;
    bytes.convertTo(out, CV_32F, 1.0 / 255);
    return out;
}

// The tile laid side by side `times` times, as one tile: for a repeat that was read too long or too short.
cv::Mat several(const cv::Mat& tile, int times) {
    if (times == 1) return tile;
    cv::Mat out;
    cv::resize(cv::repeat(tile, 1, times), out, kFine.size(), 0, 0, cv::INTER_AREA);
    return out;
}
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

Descriptor describe(const Repeat& seen) {
    Descriptor out;
    if (seen.mean.ink.empty() && seen.strip_ink.empty()) return out;
    const SeenBorder border(seen);
    const cv::Mat tile = border.fold(std::max(1, seen.count));
    const auto numbers = index_numbers(tile);
    out.index.assign(numbers.begin(), numbers.end());
    cv::Mat bytes;
    double peak = 0;
    cv::minMaxLoc(tile, nullptr, &peak);
    tile.convertTo(bytes, CV_8U, peak > 0 ? 255 / peak : 0);
    out.tile.assign(bytes.begin<std::uint8_t>(), bytes.end<std::uint8_t>());
    out.finish = seen.mean.finish;
    out.lab = colours_of(out.finish, seen.mean.ink, seen.mean.bgr).mean;
    return out;
}

double likeness(const Descriptor& a, const Descriptor& b) {
    if (a.tile.empty() || b.tile.empty()) return 0;
    const cv::Mat ta = tile_of(a), tb = tile_of(b);
    double best = 0;
    for (const auto& [times_a, times_b] : {std::pair(1, 1), {1, 2}, {2, 1}, {1, 3}, {3, 1}})
        best = std::max<double>(best, best_rows(waves_of(several(ta, times_a), kFine),
                                                waves_of(several(tb, times_b), kFine), wide_maps(), 2)
                                          .worth);
    const Colours ca{a.finish, a.lab, {}}, cb{b.finish, b.lab, {}};
    const double z = kSteepness * (best - kEven) + std::max(agreement(ca, cb), agreement(cb, ca));
    return 1 / (1 + std::exp(-z));
}

}  // namespace footring::photo

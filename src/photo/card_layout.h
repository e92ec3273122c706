// photo/card_layout.h - what is printed where on the scale card. Card frame: mm, origin at the card's top left
// corner, x right, y down. docs/scale-card.md draws it.
//   source  ISO/IEC 7810:2019, ID-1; the markers are the first four of ArUco's DICT_4X4_50
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <opencv2/core.hpp>

namespace footring::photo {

inline constexpr double kCardWidthMm = 85.60, kCardHeightMm = 53.98;
inline constexpr double kMarkerMm = 12, kMarkerInsetMm = 4;
inline constexpr int kMarkers = 4, kMarkerCells = 6;  // 4 x 4 bits and a black cell all round
inline constexpr double kPatchWidthMm = 10, kPatchHeightMm = 12;
struct PatchPlace {
    double left_mm;
    int srgb;  // the same in all three channels
};
inline constexpr std::array<PatchPlace, 5> kPatches{
    {{15.8, 243}, {26.8, 200}, {37.8, 160}, {48.8, 122}, {59.8, 85}}};
inline constexpr double kPatchTopMm = (kCardHeightMm - kPatchHeightMm) / 2;

// Clockwise from the top left.
inline std::array<cv::Point2d, 4> rectangle_mm(double left, double top, double width, double height) {
    return {{{left, top}, {left + width, top}, {left + width, top + height}, {left, top + height}}};
}
inline std::array<cv::Point2d, 4> marker_mm(int id) {
    const double right = kCardWidthMm - kMarkerInsetMm - kMarkerMm,
                 low = kCardHeightMm - kMarkerInsetMm - kMarkerMm;
    return rectangle_mm(id == 1 || id == 2 ? right : kMarkerInsetMm, id >= 2 ? low : kMarkerInsetMm, kMarkerMm,
                        kMarkerMm);
}
inline std::array<cv::Point2d, 4> card_mm() { return rectangle_mm(0, 0, kCardWidthMm, kCardHeightMm); }

// Row by row, true where the marker is white; without the black cells round it.
std::array<std::array<bool, 4>, 4> marker_bits(int id);

}  // namespace footring::photo

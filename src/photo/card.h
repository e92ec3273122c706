// photo/card.h - the scale card: found in a photograph, and what it says about size, pose and light.
//   The card (docs/scale-card.md): ISO/IEC 7810 ID-1, 85.60 x 53.98 mm, four ArUco markers of DICT_4X4_50, ids 0..3
//   clockwise from the top left, 12.00 mm square, their outer corners 4.00 mm in from the edges; five neutral
//   patches 10 x 12 mm centred vertically, left edges at 15.8, 26.8, 37.8, 48.8 and 59.8 mm, sRGB 243, 200, 160,
//   122, 85. Card frame: mm, origin at the card's top left corner, x right, y down, on the table.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "photo/picture.h"

namespace footring::photo {

struct CardFound {
    Card seen;
    cv::Matx33d photo_from_card;  // mat pixels (centres at whole numbers) from mm on the table
    double sigma_px;              // of a marker corner against that homography
};
// At least two markers must be found; absent otherwise. Under perspective, partial shadow and blur.
std::optional<CardFound> find_card(const Picture&);

// White balance and exposure from the patches, per channel, in linear light: true = gain * seen + offset.
// Shadow over some patches is recognised by their order and left out. `sigma` is the residual in dE00.
struct Light {
    cv::Vec3d gain{1, 1, 1}, offset{0, 0, 0};  // B, G, R
    double sigma = 6;                          // without a card: how far an unbalanced photograph usually is off
    bool from_card = false;
};
Light light_of(const Picture&, const CardFound&);
Light light_without_card(const Picture&);  // grey-edge or brightest-neutral guess, wide sigma

}  // namespace footring::photo

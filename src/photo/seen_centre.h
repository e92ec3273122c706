// photo/seen_centre.h - an ornament in polar form, so that turning it is moving it along. Internal to photo/.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/tile_match.h"

namespace footring::photo {

// The circle that an ornament is measured by: its middle is where its ink balances, its radius holds all but a
// twentieth of the ink. Both hold under turning, and little wear moves them little.
struct Disc {
    cv::Point2d middle;  // px of the image it came from
    double radius = 0;
};
Disc disc_of(const cv::Mat& ink);
// Rows from the middle out to 1.25 radii, columns by angle from +x towards +y; kFine in size.
cv::Mat polar(const cv::Mat& ink, const Disc&);
std::vector<float> polar_weight(Grid);  // rows count by how much area they stand for

}  // namespace footring::photo

// photo/regions.h - parts of a picture that may be the piece, told by colour alone, where edges are many: on cloth,
// print, grain.
//   in      the photograph, reduced to kRegionsLongest so that weave and grain melt away
//   out     convex hulls in its mat pixels
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "photo/card.h"

namespace footring::photo {

inline constexpr int kRegionsLongest = 270;  // px

// What differs from all that lies along the picture's border, largest and nearest the middle, without the card.
// `scale`: of the reduced picture. Absent: nothing does, or it reaches the border.
std::optional<std::vector<cv::Point>> region_unlike_border(const cv::Mat& reduced, double scale,
                                                           const std::optional<CardFound>&);
// What has one colour, but for light and shade, about places all over the picture; each once.
std::vector<std::vector<cv::Point>> regions_of_one_colour(const cv::Mat& reduced);

}  // namespace footring::photo

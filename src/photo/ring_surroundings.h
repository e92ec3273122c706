// photo/ring_surroundings.h - what lies within a ring in a picture, and what about it: glaze and table, or the same
// on both sides.
//   in      bgr CV_8UC3; the ring in its mat pixels
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/hoop.h"

namespace footring::photo {

// The middle colour of some places, L*a*b*, and the share of them that have it but for shading. Places outside the
// picture are left out; fewer than eight within it: all zero.
struct MiddleColour {
    cv::Vec3f lab{0, 0, 0};
    double even = 0;
};
MiddleColour middle_colour(const cv::Mat& bgr, const std::vector<cv::Point2d>& places);

// Share of the places just inside a rim that have the colour of the others: glaze is of one colour but for shading,
// and a border of ornament has glaze on one side or the other. Faces, fur and print have not.
double evenness(const cv::Mat& bgr, const Hoop& rim);
// Whether the ring is a line on something that goes on beyond it: round a centre ornament, on a tray.
bool drawn_upon(const cv::Mat& bgr, const Hoop& ring);
// Whether the same pattern of colours is seen within the ring and about it: a glass on a chequered cloth.
bool seen_through(const cv::Mat& bgr, const Hoop& ring);

}  // namespace footring::photo

// photo/strip.h - the rim unrolled into a ribbon, and the plate seen from straight above.
//   The rim of most plates slopes, and that of coupes and bowls bends: what lies a distance t inwards also lies
//   deeper. Under tilt that moves it in the photograph, so the slope is found by what makes the ribbon straightest.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>

#include "photo/outline.h"

namespace footring::photo {

// Depth below the rim at t inwards, plate units.
struct Slope {
    double drop = 0.2, bend = 0;  // for each unit inwards; by how much that grows
    double depth(double t) const { return t > 0 ? t * (drop + t * bend) : t * drop; }
};

struct Strip {
    cv::Mat bgr;   // CV_8UC3; columns: s from 0 to 1; rows: t from `from` to `to`
    cv::Mat seen;  // CV_8UC1: 255 where the photograph shows it, 0 beyond its border or under another thing
    double from = 0, to = 0;  // plate units
    Slope slope;
    double t_of_row(double row) const { return from + (row + 0.5) * (to - from) / bgr.rows; }
    double s_of_column(double column) const { return (column + 0.5) / bgr.cols; }
};
Strip unroll(const Picture&, const Plate&, double from, double to, cv::Size size, const Slope&);

// How straight what runs along a ribbon is: the share of its changes across, row by row, that all columns have in
// common, 0..1.
double straightness(const cv::Mat& bgr);

struct SlopeFound {
    Slope slope;
    double straightness = 0;  // of the ribbon, 0..1: the share of its changes inwards that go all the way round
};
SlopeFound find_slope(const Picture&, const Plate&);

// Whether what lies inwards of the rim rises towards the camera: a piece that stands on its rim, foot ring up.
// Without tilt or structure nothing tells, and it is not said.
bool rises_inwards(const Picture&, const Plate&);

// Of a piece with straight sides: the radius of its corners, by what makes the ribbon straightest, plate units; 0
// where they are sharp, and for all others.
double find_corner(const Picture&, const Plate&);

// The plate from straight above: `size` px square for the plate frame from -1.05 to 1.05; z = depth (<= 0).
cv::Mat upright(const Picture&, const Plate&, int size, double z);

}  // namespace footring::photo

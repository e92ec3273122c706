// photo/strip.h - the rim unrolled into a ribbon, and the plate seen from straight above.
//   The rim of most plates slopes: what lies a distance t inwards also lies t * drop deeper. Under tilt that moves
//   it in the photograph, so `drop` is found by what makes the ribbon straightest.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>

#include "photo/outline.h"

namespace footring::photo {

struct Strip {
    cv::Mat bgr;   // CV_8UC3; columns: s from 0 to 1; rows: t from `from` to `to`
    cv::Mat seen;  // CV_8UC1: 255 where the photograph shows it, 0 beyond its border or under another thing
    double from = 0, to = 0;  // plate units
    double drop = 0;          // depth for each unit inwards
    double t_of_row(double row) const { return from + (row + 0.5) * (to - from) / bgr.rows; }
    double s_of_column(double column) const { return (column + 0.5) / bgr.cols; }
};
Strip unroll(const Picture&, const Plate&, double from, double to, cv::Size size, double drop);
double find_drop(const Picture&, const Plate&);  // in [0, 1]

// The plate from straight above: `size` px square for the plate frame from -1.05 to 1.05; z = depth (<= 0).
cv::Mat upright(const Picture&, const Plate&, int size, double z);

}  // namespace footring::photo

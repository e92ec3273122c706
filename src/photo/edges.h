// photo/edges.h - where colour changes: points to a fraction of a pixel, joined into chains and cut into arcs.
//   in      a reduced photograph, CV_8UC3
//   How: the steepest of the channels of CIE L*a*b*, thinned across the gradient (Canny's second step), and joined
//   along it
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace footring::photo {

struct Edgel {
    cv::Point2f at;
    cv::Point2f uphill;  // unit, towards larger values of the steepest channel
    float strength;      // change for each pixel, L*a*b* units
};
struct Edges {
    std::vector<Edgel> all;
    cv::Mat_<int> index;  // of the Edgel at each pixel, or -1
    std::vector<std::vector<int>> chains;
    double density = 0;  // edgels for each pixel
};
Edges find_edges(const cv::Mat& bgr);

// A smooth, one-sided piece of a chain. `left`: it bends to the left of its direction (y down: anticlockwise seen).
struct Arc {
    std::vector<int> edgels;
    cv::Point2d first, middle, last;
    double length = 0, turn = 0;  // px, radians
    cv::Point2d hollow;           // unit, from the middle towards the hollow side
};
std::vector<Arc> find_arcs(const Edges&);

}  // namespace footring::photo

// photo/ellipses.h - all ellipses that edges of a picture speak for, best first.
//   in      edges of a reduced photograph
//   out     hoops in its mat pixels, each once; at most kMostHoops
//   How: arcs, alone and in pairs, propose ellipses; each is drawn to all edges near it and judged by the share of
//   its whole circumference along which an edge runs
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "photo/edges.h"
#include "photo/hoop.h"

namespace footring::photo {

struct HoopFound {
    Hoop hoop;
    double support = 0;   // share of the circumference within the picture along which an edge runs
    double visible = 0;   // share of the circumference within the picture
    double accident = 0;  // support that a hoop laid at random would have
    double weight() const { return (support - accident) * visible; }
};
inline constexpr std::size_t kMostHoops = 80;
std::vector<HoopFound> find_hoops(const Edges&);

// Edges that run along the hoop, at most `reach` px from it: their points, and what they amount to.
struct Along {
    HoopFound found;
    std::vector<cv::Point2d> points;
};
Along along(const Edges&, const Hoop&, double reach);

// The largest distance between two hoops, px.
double apart(const Hoop&, const Hoop&);

}  // namespace footring::photo

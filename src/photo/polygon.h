// photo/polygon.h - square and octagonal pieces: straight sides, corners sharp or rounded.
//   out     corners where the sides would meet, mat pixels of the photograph, clockwise; the ellipse that the sides
//   touch errors  absent: nothing in the picture differs from what lies along its border and has four or eight such
//   sides How     what differs in colour from the picture's border, largest and nearest the middle; its convex hull
//   as a polygon;
//           each side drawn to edges of the photograph as a line, outermost first. A box or a sheet of paper has
//           four sides as well: a square piece must have rounded corners or a ring within.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "photo/card.h"
#include "photo/rim_search.h"

namespace footring::photo {

struct PolygonFound {
    std::vector<cv::Point2d> corners;
    Hoop touching;
    double seen = 0;       // share of the sides along which an edge was found
    double sigma_px = 0;   // of points of the sides
    bool rounded = false;  // corners
    double evenness = 0;   // of the colour just inside the sides, 0..1
};
// `among_texture`: also regions of one colour that grow from places in the picture, for cloth and print that have
// all colours along the border; costs some 20 ms more.
std::optional<PolygonFound> find_polygon(const cv::Mat& bgr, const std::optional<CardFound>&, bool among_texture);

// Whether a rim is followed so far, with something else about it than within, that no polygon can be the piece.
bool surely_round(const cv::Mat& bgr, const RimFound&);
// Which of the two is the piece, where both were found: a round well lies in a square piece, a round piece on a
// square napkin.
bool polygon_is_the_piece(const cv::Mat& bgr, const PolygonFound&, const std::optional<RimFound>&);

}  // namespace footring::photo

// photo/rim_line.h - the outer side of a coloured edge line, where the search found its inner side: that one has
// the glaze beside it and is often much the plainer. Internal to photo/.
//   in      the photograph, a hoop along the line or either of its sides, mat pixels
//   out     the hoop along the outer side; absent where what lies about the hoop has the hues of glaze and table
//   and
//           of what blur mixes from them: then there is no line, or it is the table, lit or in shadow
//   How: a shadow is darker than the table, but of its hue, whatever the table. Place by place, the line is where
//   hue (logarithms of ratios of light) is furthest from all mixtures of the glaze and the table further out; it
//   ends half-way between where its hue and where its light turn into those of the table. Most places must agree on
//   a hoop.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "photo/hoop.h"

namespace footring::photo {

// Places along a closed curve, evenly, in order; outwards: unit normals. What is not `looked_at` has no part in it.
struct Across {
    cv::Point2d foot, outwards;
    bool looked_at = true;
};
// px outwards of each foot at which the line ends there; absent: no line is seen. `beside`: px along the curve over
// which is averaged; `widest`: px of a line; `glaze`: its light but for the strength.
std::vector<std::optional<double>> ends_of_line(const cv::Mat& bgr, const std::vector<Across>&, double beside,
                                                double widest, const cv::Vec3f& glaze);
// The light of the glaze within a hoop but for its strength: its middle hue.
cv::Vec3f glaze_within(const cv::Mat& bgr, const Hoop&);

struct LineSide {
    Hoop hoop;
    double seen = 0;  // share of the visible places that say so
};
std::optional<LineSide> outer_side_of_line(const cv::Mat& bgr, const Hoop& inner);

// A line upon the lip has two sides, and the surest hoop may run along the outer one here and the inner one there.
// At each place the last sharp edge before the table; where most of these lie on one hoop, that hoop. Absent: they
// do not, no more of them than on `start`, or it is smaller and may not be.
std::optional<Hoop> along_last_edges(const cv::Mat& bgr, const Hoop& start, bool may_shrink);

}  // namespace footring::photo

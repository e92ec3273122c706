// photo/rim_line.h - the outer side of a coloured edge line, where the search found its inner side: that one has
// the glaze beside it and is often much the plainer. Internal to photo/.
//   in      the photograph, a hoop along the inner side, mat pixels
//   out     the hoop along the outer side; absent where what lies about the hoop has the table's own hue: then it
//   is
//           the table, lit or in shadow
//   How: a shadow is darker than the table, but of its hue, whatever the table. Hues (logarithms of ratios of
//   light) just outside the hoop are compared with those further out, place by place; where most places differ, and
//   neighbours alike, the line ends where hue turns from the one to the other.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "photo/hoop.h"

namespace footring::photo {

std::optional<Hoop> outer_side_of_line(const cv::Mat& bgr, const Hoop& inner);

// A line upon the lip has two sides, and the surest hoop may run along the outer one here and the inner one there.
// At each place the last sharp edge before the table; where most of these lie on one hoop, that hoop. Absent: they
// do not, no more of them than on `start`, or it is smaller and may not be.
std::optional<Hoop> along_last_edges(const cv::Mat& bgr, const Hoop& start, bool may_shrink);

}  // namespace footring::photo

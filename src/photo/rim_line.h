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

}  // namespace footring::photo

// photo/rim_table.h - the rim as the place where the table begins, for lips whose line is like the table, so that
// the line's inner side is the plainer edge. Internal to photo/.
//   in      the photograph, a hoop near the rim, mat pixels
//   out     the hoop at which most places change from anything else to the table as it is seen there; absent where
//           too few do, where no more of them lie on it than on the hoop that was given, or where it is smaller and
//           may not be: a pale lip is like white paper in shade
//   How: at each place the table is what is seen further out on either side of it: its mean hue and lightness and
//   how much these vary there, so that cloth, grain and print are allowed their variety. Less light counts little:
//   that is the piece's shadow. From within outwards, the table begins where most of what follows is like it and
//   most of what went before is not; the nearest edge gives the fraction of a pixel.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "photo/hoop.h"

namespace footring::photo {

std::optional<Hoop> where_table_begins(const cv::Mat& bgr, const Hoop& start, bool may_shrink);

}  // namespace footring::photo

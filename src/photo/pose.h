// photo/pose.h - how the camera stood to the table, and how large a hoop in the photograph is.
//   in      the rim as a hoop in mat pixels, the card where it was found, the focal length where it is known
//   out     the Plate without its notes on search; lengths in mm with the card only
//   How     Pinhole camera whose axis meets the middle of the picture. With the card: pose and focal length by
//   least
//           squares over the corners of its markers, what is known of the focal length, and, for a round piece,
//           that the rim is a circle in a plane parallel to the table. Doubt is carried through to first order:
//           corners, rim, focal length, and half a millimetre of the rim's height. Without the card: pose of a
//           circle; of its two solutions the one whose far side is up in the picture.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>

#include "photo/card.h"
#include "photo/outline.h"
#include "photo/polygon.h"
#include "photo/rim_search.h"

namespace footring::photo {

struct View {
    cv::Size size;
    std::optional<double> focal_px;  // of the camera's own statement
    std::optional<CardFound> card;
    double rim_height_mm = 25;
};
Plate plate_of(const RimFound&, const View&);
// An oval piece on a table that a camera held level sees from so far aslant; no lengths. Absent: the rim cannot be
// that of one.
std::optional<Plate> oval_aslant(const RimFound&, const View&, double tilt_deg);
Plate plate_of(const PolygonFound&, const View&);  // square and octagonal pieces

}  // namespace footring::photo

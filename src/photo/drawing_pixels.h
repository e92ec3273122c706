// photo/drawing_pixels.h - a drawing of a pack as pixels: how much ink lies where, and of what colour.
//   in      an ornament with its drawing (book/drawings.h); without one, ornaments of kind line, band and solid get
//           the stripes that their kind and name say
//   out     `size` pixels for the whole tile, however long it is: along and across are scaled independently
//   errors  kUnreadable: no drawing, or one that cannot be drawn, or one without ink
//   Nothing outside the drawing is loaded: librsvg gets no base URL, and refuses references without one.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>

#include "base/problem.h"
#include "book/book.h"

namespace footring::photo {

struct DrawingPixels {
    cv::Mat ink;        // CV_32FC1: 0 glaze .. 1 ornament; what is nearly as pale as glaze counts little
    cv::Mat bgr;        // CV_8UC3, on white where there is no ink; of a drawing in one ink, that of its finish
    double aspect = 1;  // width : height as drawn
};
Expected<DrawingPixels> pixels_of(const book::Ornament&, cv::Size size);

}  // namespace footring::photo

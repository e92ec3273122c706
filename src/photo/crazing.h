// photo/crazing.h - a net of fine cracks in the glaze.
// Cracks are darker than the glaze, finer than anything else on it, and all over the piece; scratches and the marks
// of knives, the grain of a table mirrored in it and the edges of a lamp's image are in few places. So what counts
// is how much of the bare glaze has such lines, however dark they are. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>

namespace footring::photo {

// The chance of crazing. `grey`: the piece from straight above, 8 bit; `bare`: where glaze is bare, not 0, of the
// same size. Absent: too few pixels to a millimetre or too little glaze to tell.
std::optional<double> chance_of_crazing(const cv::Mat& grey, const cv::Mat& bare, double px_per_mm);

}  // namespace footring::photo

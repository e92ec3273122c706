// photo/overlap.h - ink where the drawing has none, and none where it has: two faults that do not weigh alike, for
// wear takes ink away and never adds any. Internal to photo/. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/tile_match.h"

namespace footring::photo {

struct Overlap {
    float extra = 1;    // share of the ink as seen that lies beside the drawing
    float missing = 1;  // share of the drawing's ink that is not seen
};
// Both tiles kFine in size; the drawing turned, the seen tile's rows mapped. A cell's width of slip is no fault.
Overlap overlap(const cv::Mat& drawing, const cv::Mat& seen, RowMap, float turn, const std::vector<float>& weight);

}  // namespace footring::photo

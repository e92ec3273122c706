// photo/index_numbers.h - what the search among many drawings goes by. Internal to photo/.
//   How strong each frequency is in each of eight rows, and the rows' own ink. `tile` is kFine (photo/tile_match.h)
//   in size; the numbers do not depend on where the repeat begins.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <opencv2/core.hpp>

#include "photo/ornament_index.h"

namespace footring::photo {

std::array<float, kDescriptorSize> index_numbers(const cv::Mat& tile);

}  // namespace footring::photo

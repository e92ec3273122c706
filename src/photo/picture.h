// photo/picture.h - a photograph as the room works with it. Internal to photo/: includes OpenCV.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "photo/reading.h"

namespace footring::photo {

// Pixels of a cv::Mat have their centre at whole numbers: px of photo/reading.h minus one half.
inline cv::Point2d mat_from_px(Point p) { return {p.x - 0.5, p.y - 0.5}; }
inline Point px_from_mat(cv::Point2d p) { return {p.x + 0.5, p.y + 0.5}; }

struct Picture {
    cv::Mat bgr;                     // CV_8UC3, sRGB, upright
    std::optional<double> focal_px;  // from EXIF FocalLengthIn35mmFilm (of the diagonal, 43.27 mm); absent: unknown
    std::string type;                // "image/jpeg", ...
    std::vector<std::string> notes;
    std::shared_ptr<void> keeps;  // owns the memory that bgr looks at, when bgr does not
};

}  // namespace footring::photo

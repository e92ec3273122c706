// photo/text_ground.h - where writing is searched: the piece as seen from straight above when its outline is known,
// else the whole photograph, at a size that is quick to search. Internal to photo/.
//   Frame  ground: mat pixels (centres at whole numbers) of `bgr`
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "photo/outline.h"
#include "photo/picture.h"

namespace footring::photo {

struct Ground {
    cv::Mat bgr;                    // CV_8UC3
    cv::Mat inside;                 // CV_8UC1: 255 on the piece
    cv::Matx33d photo_from_ground;  // of mat pixels
    cv::Point2d middle;             // of the piece, or of the photograph
    double reach = 0;               // px from the middle to where marks end
};

// `reach` of 1 is the rim; `size` px is the longest side of the answer, which is never larger than the photograph
// shows it.
Ground ground_of(const Picture&, const std::optional<Plate>&, double reach, int size);

// A photograph and its halves, from which a crop at any scale is taken without aliasing.
class Halves {
  public:
    explicit Halves(cv::Mat bgr) : levels_{std::move(bgr)} {}
    // The picture of `size` whose mat pixel p shows photo_from_crop * p.
    cv::Mat crop(const cv::Matx33d& photo_from_crop, cv::Size size);

  private:
    std::vector<cv::Mat> levels_;
};

}  // namespace footring::photo

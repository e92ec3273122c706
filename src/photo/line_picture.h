// photo/line_picture.h - a line of letters cut out of the photograph, set upright, straightened and brought to
// grey. Internal to photo/. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <opencv2/core.hpp>

#include "photo/letters.h"
#include "photo/text_ground.h"

namespace footring::photo {

// What tells ink from ground in a line, learned from its own letters: 0 on the ground, 1 on the ink.
struct InkTone {
    cv::Vec3d weights{0, 0, 0};
    double offset = 0;
    double contrast = 0;  // distance of the means in standard deviations
};
InkTone ink_tone(const Ground&, const Mark&, const TextLine&);

struct LinePicture {
    cv::Mat gray;                    // CV_8UC1, dark on light, capitals kCapitalPx high
    cv::Mat mask;                    // CV_8UC1, the letters as they were found, black on white, in the same frame
    std::array<cv::Point2d, 4> box;  // mat pixels of the photograph, clockwise from the text's own top left
    double turned_deg = 0;           // of the middle of the text in the photograph, clockwise from upright
};
inline constexpr double kCapitalPx = 34;  // Tesseract reads capitals of 30 to 40 px best (its documentation)

// `over`: read from the other end (a straight line turned by 180 degrees; a curved one with its letters' feet
// outwards instead of inwards).
LinePicture line_picture(const Ground&, Halves&, const Mark&, const TextLine&, const InkTone&, bool over);

cv::Mat flattened(const cv::Mat& gray);        // the ground even, the ink black
cv::Mat black_and_white(const cv::Mat& gray);  // by Otsu's threshold of the flattened picture
cv::Mat by_surroundings(const cv::Mat& gray);  // by the mean of the surroundings

}  // namespace footring::photo

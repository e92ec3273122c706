// photo/finish_match.h - how well a finish or colour as seen speaks for that of a drawing. Internal to photo/.
//   Soft by design: the colour of metal changes with the light, a decal of many colours is called by one of them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "photo/decoration.h"

namespace footring::photo {

using Lab = std::array<double, 3>;

struct Colours {
    std::string finish;       // as named
    std::optional<Lab> mean;  // of all ink
    std::vector<Lab> main;    // the commonest colours, at most four
};
// `ink` CV_32FC1 and `bgr` CV_8UC3 of one size; either may be empty.
Colours colours_of(const std::string& finish, const cv::Mat& ink, const cv::Mat& bgr);

// Colour of each of `count` rows from a border's outer side to its inner one, where there is ink.
std::vector<std::optional<Lab>> row_colours(const cv::Mat& ink, const cv::Mat& bgr, std::size_t count);
// How well two such ladders agree, for borders that are nothing but stripes: as below.
double agreement(const std::vector<std::optional<Lab>>& seen, const std::vector<std::optional<Lab>>& drawing);

// Natural logarithm of a likelihood ratio, at most 0: 0 agrees, -3 could hardly be.
double agreement(const Colours& seen, const Colours& drawing);

}  // namespace footring::photo

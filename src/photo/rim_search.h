// photo/rim_search.h - the rim of the one round or oval piece in a photograph.
//   out     the outermost edge of the piece itself, to a fraction of a pixel; and all hoops that were considered
//   errors  absent: no piece; `why` says what was missing
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "photo/card.h"
#include "photo/ellipses.h"
#include "photo/hoop.h"
#include "photo/rim_line.h"

namespace footring::photo {

struct RimFound {
    Hoop hoop;                          // mat pixels of the photograph
    double seen = 0;                    // share of the rim along which its edge was found
    double visible = 1;                 // share of the rim within the picture
    double sigma_px = 0;                // of its points
    cv::Matx<double, 5, 5> covariance;  // of a Change of the hoop
    bool by_line = false;               // it is where a coloured edge line turns into the table
    std::vector<Hoop> inner;            // hoops of the same piece inside the rim, largest first
};
std::optional<RimFound> find_rim(const cv::Mat& bgr, const std::optional<CardFound>&, std::string& why);
// Within `doubt` px of where a hand has set it.
RimFound rim_near(const cv::Mat& bgr, const Hoop&, double doubt);
// A rim that was found by where its line ends. Its edge is looked for only to know how much of it is plain.
RimFound beside_its_line(const cv::Mat& bgr, const LineSide&);
// A rim that is seen in part only, moved to where the table begins all round it, if it plainly does.
RimFound beside_the_table(const cv::Mat& bgr, const RimFound&);

// Every ellipse in the photograph that find_rim chooses from, best first, mat pixels of the photograph.
std::vector<HoopFound> find_ellipses(const cv::Mat& bgr);

}  // namespace footring::photo

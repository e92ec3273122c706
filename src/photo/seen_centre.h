// photo/seen_centre.h - an ornament in polar form, so that turning it is moving it along. Internal to photo/.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <opencv2/core.hpp>
#include <vector>

#include "photo/overlap.h"
#include "photo/row_search.h"
#include "photo/tile_match.h"

namespace footring::photo {

// The circle that an ornament is measured by: its middle is where its ink balances, its radius 1.4 times the root
// mean square distance of the ink from there (that of an even disc). Both hold under turning; little wear moves
// them little.
struct Disc {
    cv::Point2d middle;  // px of the image it came from
    double radius = 0;
};
Disc disc_of(const cv::Mat& ink);
// Rows from the middle out to 1.25 radii, columns by angle from +x towards +y; kFine in size.
cv::Mat polar(const cv::Mat& ink, const Disc&);
std::vector<float> polar_weight(Grid);  // rows count by how much area they stand for

// A centre as seen. Where ink is lost on one side its middle is off: places around it are tried, in steps of a
// twentieth of its radius.
class SeenCentre {
  public:
    explicit SeenCentre(cv::Mat ink);
    const cv::Mat& tile() const { return tile_; }
    struct Rough {
        cv::Point move;  // steps
        RowMap map;
        Waves laid;  // kCoarse
    };
    const std::vector<Rough>& rough() const { return rough_; }
    struct Refined {
        RowFit fit;
        Overlap overlap;
    };
    Refined refined(const Waves& drawing, cv::Point move, RowMap);

  private:
    cv::Mat at(cv::Point move) const;
    cv::Mat ink_, tile_;
    Disc disc_;
    std::vector<Rough> rough_;
    std::map<std::pair<int, int>, Waves> fine_;
};

}  // namespace footring::photo

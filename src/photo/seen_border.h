// photo/seen_border.h - a border as seen, made ready for comparison: the ribbon on a grid of its own, folded into
// one repeat for any count of repeats. Internal to photo/.
//   The count that was read is one candidate among others: where a drawing holds its motif several times the ribbon
//   seems to have more repeats than tiles, and where neighbours differ by colour alone it seems to have fewer.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/decoration.h"

namespace footring::photo {

// Rows of `ink` from the first to the last that bear ink, 0..1 of its height.
struct Extent {
    double from = 0, to = 1;
};
Extent inked_rows(const cv::Mat& ink);
// Those rows with a tenth of bare ground above and below, on `size`. The same for drawings and ribbons.
cv::Mat with_margins(const cv::Mat& ink, Extent, cv::Size size);

class SeenBorder {
  public:
    explicit SeenBorder(const Repeat&);
    // One repeat of `count` round the rim, kFine in size. Nothing is known of columns that were never seen: they
    // take the mean of their row.
    cv::Mat fold(int count) const;
    // What is left of it when nothing is taken to change along the rim: rows of one value each, the strongest 1.
    // Wear leaves no trace here but in how strong all of it is.
    cv::Mat flat() const;
    // Share of the ribbon's change along the rim that repeats `count` times, what noise would give taken off.
    double periodic(int count) const;
    // Counts worth trying, the one that was read first.
    const std::vector<int>& counts() const { return counts_; }
    double ripple() const { return ripple_; }  // standard deviation along the rim, of ink
    double level() const { return level_; }    // mean ink where the border is

  private:
    cv::Mat ink_, sure_;          // CV_32FC1, kFine.rows high
    std::vector<double> energy_;  // of each wave along the whole rim, all rows
    std::vector<int> counts_;
    double ripple_ = 0, level_ = 0, changing_ = 0;
};

}  // namespace footring::photo

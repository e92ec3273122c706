// photo/rings.h - plain lines and bands that run round the rim, told from ornament that repeats.
//   A ring is ink that fills its rows over whole stretches of the rim; wear breaks it into stretches that are there
//   and stretches that are not, where a repeating ornament is everywhere in part.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace footring::photo {

struct Ring {
    double from = 0, to = 0;  // rows, may be broken numbers; to > from
    double whole = 0;         // share of the rim along which it is there
    int breaks = 0;           // stretches that it is broken into; 0: unbroken
    double at() const { return (from + to) / 2; }
    double width() const { return to - from; }
};
// One repeat of the ribbon at its best, as many rows: the second best of `count` repeats at each place; of nine or
// more, the best preserved fifth; of one or two, the best.
struct BestRepeat {
    static constexpr float kNeverSeen = -1;  // in none of the repeats: at the corners of a square piece
    cv::Mat ink;
    int count = 1;
    // Share of places that show nothing where a line is left on a share `kept` of the rim, here and there; 0 of
    // nine or more repeats.
    double bare_by_wear(double kept) const;
};
// ink: CV_32FC1; unsure: CV_8UC1. Outermost first. Rows above `first_row` are not looked at. Where the best repeat
// has a gap that wear does not explain, what fills whole stretches of the ribbon is a long stroke of an ornament.
std::vector<Ring> find_rings(const cv::Mat& ink, const cv::Mat& unsure, const BestRepeat&, int first_row,
                             double rows_per_unit);

// How much of each row is ink, 0..1; 0 where too little of it is seen.
std::vector<double> share_of_ink(const cv::Mat& ink, const cv::Mat& unsure);

}  // namespace footring::photo

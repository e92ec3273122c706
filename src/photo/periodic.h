// photo/periodic.h - how often a pattern repeats round a ribbon, when parts of it are worn, hidden or missing.
//   in      pattern: CV_32FC1, columns go once round; weight: CV_32FC1 0..1, how far each pixel is to be believed
//   out     the largest count whose folding explains the pattern: every repeat is foretold by the mean of the
//   others,
//           so that a wrong count explains nothing by chance. A pattern of two alternating motifs is told from one
//           motif by whether sorting repeats into two classes foretells better than sorting them at random.
//   cost    about 60 ms
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace footring::photo {

struct Periodicity {
    int count = 0;         // 0: nothing repeats
    double explained = 0;  // share of the pattern's variation that the other repeats foretell
    double runner_up = 0;  // (may be below nought) that of the best count that shares no strokes with it (multiples
                           // and divisors do)
    // Where the rim was unrolled unevenly (pose, depth), repeats drift: s + drift(s) is even. In turns.
    cv::Vec4d drift{0, 0, 0, 0};  // cos, sin of one turn; cos, sin of two
    double even(double s) const;
    double uneven(double even_s) const;  // its inverse
};
// `known`: an answer for more of the same ribbon, whose drift this one has as well.
Periodicity find_repeats(const cv::Mat& pattern, const cv::Mat& weight, const Periodicity* known = nullptr,
                         int least = 3, int most = 96);

// Columns of `in` as the drift says, `count * length` of them: repeat i is columns [i * length, (i + 1) * length).
// `start` is the even s where repeat 0 begins.
cv::Mat evened(const cv::Mat& in, const Periodicity&, int count, int length, double start);

// How much each row of one repeat, the mean of all `count` of a ribbon, changes along it: standard deviation.
// Nought where the repeats have no more in common than chance has it: a shade in part of the way round folds to
// nearly nothing, yet to more than a bare row does.
std::vector<double> change_along(const cv::Mat& repeat, const cv::Mat& ribbon, const cv::Mat& weight, int count);

}  // namespace footring::photo

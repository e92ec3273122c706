// photo/measured.h - how often a reading was right, by its score, on photographs whose truth is known.
//   Written by demo/photos/accuracy.py --measured from 343 rendered photographs (docs/photo-accuracy.md);
//   count 0: never measured, a careful guess. Each table: rows by
//   falling score; a score belongs to the first row whose score_from it reaches, and to none below the last one.
//   share_right is the share of those readings that were right; count is how many there were.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

namespace footring::photo::measured {

struct Row {
    double score_from, share_right;
    int count;  // 0: never measured
};

// The ornament named first is the right one; by its score.
inline constexpr std::array kRimOrnament = {Row{0.95, 0.999, 178}, Row{0.85, 0.986, 24}, Row{0.70, 0.938, 9},
                                            Row{0.50, 0.899, 11}, Row{0.30, 0.733, 5}};
inline constexpr std::array kCentreOrnament = {Row{0.95, 0.998, 68}, Row{0.85, 0.967, 8}, Row{0.70, 0.845, 1},
                                               Row{0.50, 0.845, 6}, Row{0.30, 0.657, 3}};
inline constexpr std::array kLineOrnament = {Row{0.95, 0.927, 0}, Row{0.80, 0.927, 22}, Row{0.60, 0.922, 117},
                                             Row{0.40, 0.848, 50}};
// Something is there, or nothing is; by the larger of `present` and 1 - `present`.
inline constexpr std::array kBorderPresence = {Row{0.97, 1.000, 280}, Row{0.90, 0.925, 13}, Row{0.75, 0.920, 6},
                                               Row{0.50, 0.733, 2}};
inline constexpr std::array kLinePresence = {Row{0.97, 0.968, 598}, Row{0.90, 0.953, 2}, Row{0.75, 0.700, 2},
                                             Row{0.50, 0.600, 0}};
inline constexpr std::array kCentrePresence = {Row{0.97, 1.000, 285}, Row{0.90, 0.978, 9}, Row{0.75, 0.900, 4},
                                               Row{0.50, 0.771, 3}};
// The nearest glaze is the right one; by its chance.
inline constexpr std::array kGlaze = {Row{0.95, 0.997, 101}, Row{0.80, 0.945, 27}, Row{0.60, 0.915, 36},
                                      Row{0.40, 0.745, 40}};
// The wear is called rightly; by the chance that the measured loss lies in its range.
inline constexpr std::array kWear = {Row{0.95, 0.86, 0}, Row{0.80, 0.75, 0}, Row{0.60, 0.62, 0},
                                     Row{0.40, 0.45, 0}};
// None, few or many faults; by how far the score stands from the limits of its range, 0..1.
inline constexpr std::array kFaults = {Row{0.80, 0.80, 0}, Row{0.40, 0.70, 0}, Row{0.10, 0.60, 0}};
// The mark named first is the right one; by its score.
inline constexpr std::array kMark = {Row{0.95, 0.990, 12}, Row{0.85, 0.900, 0}, Row{0.70, 0.780, 0},
                                     Row{0.50, 0.600, 0}, Row{0.30, 0.400, 0}};
// There is a mark, by the confidence of the best words; there is none, by the share of the outline that was seen.
inline constexpr std::array kMarkThere = {Row{0.85, 0.993, 13}, Row{0.60, 0.904, 1}, Row{0.30, 0.700, 0}};
inline constexpr std::array kMarkAbsent = {Row{0.70, 0.450, 8}, Row{0.40, 0.450, 0}};
// The number and the date code are read rightly, every character of them; by the reader's confidence.
inline constexpr std::array kNumber = {Row{0.90, 0.952, 6}, Row{0.75, 0.600, 1}, Row{0.50, 0.600, 0}};
inline constexpr std::array kDateCode = {Row{0.90, 0.85, 0}, Row{0.75, 0.70, 0}, Row{0.50, 0.55, 0}};
// The form or the shape is the right one; by the chance that its recorded sizes give it.
inline constexpr std::array kForm = {Row{0.90, 0.996, 107}, Row{0.75, 0.967, 26}, Row{0.50, 0.900, 34}};
inline constexpr std::array kShape = {Row{0.90, 0.985, 37}, Row{0.75, 0.981, 55}, Row{0.50, 0.736, 26}};
// The length is within 1 % of the true one; by the share of the rim that was seen.
inline constexpr std::array kLength = {Row{0.85, 0.993, 180}, Row{0.60, 0.926, 16}, Row{0.30, 0.650, 0}};

// Standard deviation of Border::wear about the true share lost.
inline constexpr double kWearSigma = 0.031;

}  // namespace footring::photo::measured

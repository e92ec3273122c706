// photo/measured.h - how often a reading was right, by its score, on photographs whose truth is known.
//   Written by demo/photos/accuracy.py --measured from 280 rendered photographs (docs/photo-accuracy.md);
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
inline constexpr std::array kRimOrnament = {Row{0.95, 0.999, 140}, Row{0.85, 0.985, 22}, Row{0.70, 0.933, 8},
                                            Row{0.50, 0.831, 5}, Row{0.30, 0.657, 3}};
inline constexpr std::array kCentreOrnament = {Row{0.95, 0.998, 50}, Row{0.85, 0.964, 7}, Row{0.70, 0.886, 3},
                                               Row{0.50, 0.783, 3}, Row{0.30, 0.600, 2}};
inline constexpr std::array kLineOrnament = {Row{0.95, 0.950, 0}, Row{0.80, 0.950, 16}, Row{0.60, 0.923, 92},
                                             Row{0.40, 0.820, 47}};
// Something is there, or nothing is; by the larger of `present` and 1 - `present`.
inline constexpr std::array kBorderPresence = {Row{0.97, 1.000, 223}, Row{0.90, 0.929, 14}, Row{0.75, 0.886, 3},
                                               Row{0.50, 0.733, 2}};
inline constexpr std::array kLinePresence = {Row{0.97, 0.971, 480}, Row{0.90, 0.953, 2}, Row{0.75, 0.700, 2},
                                             Row{0.50, 0.600, 0}};
inline constexpr std::array kCentrePresence = {Row{0.97, 1.000, 229}, Row{0.90, 0.980, 10}, Row{0.75, 0.840, 1},
                                               Row{0.50, 0.733, 2}};
// The nearest glaze is the right one; by its chance.
inline constexpr std::array kGlaze = {Row{0.95, 0.996, 80}, Row{0.80, 0.936, 23}, Row{0.60, 0.903, 31},
                                      Row{0.40, 0.737, 31}};
// The wear is called rightly; by the chance that the measured loss lies in its range.
inline constexpr std::array kWear = {Row{0.95, 0.86, 0}, Row{0.80, 0.75, 0}, Row{0.60, 0.62, 0},
                                     Row{0.40, 0.45, 0}};
// None, few or many faults; by how far the score stands from the limits of its range, 0..1.
inline constexpr std::array kFaults = {Row{0.80, 0.80, 0}, Row{0.40, 0.70, 0}, Row{0.10, 0.60, 0}};
// The mark named first is the right one; by its score.
inline constexpr std::array kMark = {Row{0.95, 0.989, 11}, Row{0.85, 0.900, 0}, Row{0.70, 0.780, 0},
                                     Row{0.50, 0.600, 0}, Row{0.30, 0.400, 0}};
// There is a mark, by the confidence of the best words; there is none, by the share of the outline that was seen.
inline constexpr std::array kMarkThere = {Row{0.85, 0.992, 12}, Row{0.60, 0.904, 1}, Row{0.30, 0.700, 0}};
inline constexpr std::array kMarkAbsent = {Row{0.70, 0.480, 7}, Row{0.40, 0.480, 0}};
// The number and the date code are read rightly, every character of them; by the reader's confidence.
inline constexpr std::array kNumber = {Row{0.90, 0.836, 5}, Row{0.75, 0.750, 0}, Row{0.50, 0.600, 0}};
inline constexpr std::array kDateCode = {Row{0.90, 0.85, 0}, Row{0.75, 0.70, 0}, Row{0.50, 0.55, 0}};
// The form or the shape is the right one; by the chance that its recorded sizes give it.
inline constexpr std::array kForm = {Row{0.90, 0.995, 85}, Row{0.75, 0.964, 24}, Row{0.50, 0.859, 30}};
inline constexpr std::array kShape = {Row{0.90, 0.981, 28}, Row{0.75, 0.976, 43}, Row{0.50, 0.699, 19}};
// The length is within 1 % of the true one; by the share of the rim that was seen.
inline constexpr std::array kLength = {Row{0.85, 0.960, 151}, Row{0.60, 0.894, 10}, Row{0.30, 0.650, 0}};

// Standard deviation of Border::wear about the true share lost.
inline constexpr double kWearSigma = 0.031;

}  // namespace footring::photo::measured

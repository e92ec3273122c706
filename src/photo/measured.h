// photo/measured.h - how often a reading was right, by its score, on photographs whose truth is known.
//   MADE BY HAND for the time being: careful guesses, with count 0, until `demo/photos/accuracy.py --measured`
//   writes this file anew from rendered photographs (docs/photo-accuracy.md). The layout stays. Each table: rows by
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
inline constexpr std::array kRimOrnament = {Row{0.95, 0.97, 0}, Row{0.85, 0.90, 0}, Row{0.70, 0.80, 0},
                                            Row{0.50, 0.62, 0}, Row{0.30, 0.40, 0}};
inline constexpr std::array kCentreOrnament = {Row{0.95, 0.96, 0}, Row{0.85, 0.90, 0}, Row{0.70, 0.78, 0},
                                               Row{0.50, 0.60, 0}, Row{0.30, 0.40, 0}};
inline constexpr std::array kLineOrnament = {Row{0.95, 0.90, 0}, Row{0.80, 0.80, 0}, Row{0.60, 0.65, 0},
                                             Row{0.40, 0.45, 0}};
// Something is there, or nothing is; by the larger of `present` and 1 - `present`.
inline constexpr std::array kBorderPresence = {Row{0.97, 0.98, 0}, Row{0.90, 0.93, 0}, Row{0.75, 0.80, 0},
                                               Row{0.50, 0.60, 0}};
inline constexpr std::array kLinePresence = {Row{0.97, 0.97, 0}, Row{0.90, 0.90, 0}, Row{0.75, 0.78, 0},
                                             Row{0.50, 0.58, 0}};
inline constexpr std::array kCentrePresence = {Row{0.97, 0.98, 0}, Row{0.90, 0.93, 0}, Row{0.75, 0.80, 0},
                                               Row{0.50, 0.60, 0}};
// The nearest glaze is the right one; by its chance.
inline constexpr std::array kGlaze = {Row{0.95, 0.92, 0}, Row{0.80, 0.82, 0}, Row{0.60, 0.65, 0},
                                      Row{0.40, 0.45, 0}};
// The wear is called rightly; by the chance that the measured loss lies in its range.
inline constexpr std::array kWear = {Row{0.95, 0.86, 0}, Row{0.80, 0.75, 0}, Row{0.60, 0.62, 0},
                                     Row{0.40, 0.45, 0}};
// None, few or many faults; by how far the score stands from the limits of its range, 0..1.
inline constexpr std::array kFaults = {Row{0.80, 0.80, 0}, Row{0.40, 0.70, 0}, Row{0.10, 0.60, 0}};
// The mark named first is the right one; by its score.
inline constexpr std::array kMark = {Row{0.95, 0.96, 0}, Row{0.85, 0.90, 0}, Row{0.70, 0.78, 0}, Row{0.50, 0.60, 0},
                                     Row{0.30, 0.40, 0}};
// There is a mark, by the confidence of the best words; there is none, by the share of the outline that was seen.
inline constexpr std::array kMarkThere = {Row{0.85, 0.97, 0}, Row{0.60, 0.88, 0}, Row{0.30, 0.70, 0}};
inline constexpr std::array kMarkAbsent = {Row{0.70, 0.70, 0}, Row{0.40, 0.60, 0}};
// The number and the date code are read rightly, every character of them; by the reader's confidence.
inline constexpr std::array kNumber = {Row{0.90, 0.88, 0}, Row{0.75, 0.75, 0}, Row{0.50, 0.60, 0}};
inline constexpr std::array kDateCode = {Row{0.90, 0.85, 0}, Row{0.75, 0.70, 0}, Row{0.50, 0.55, 0}};
// The form or the shape is the right one; by the chance that its recorded sizes give it.
inline constexpr std::array kForm = {Row{0.90, 0.88, 0}, Row{0.75, 0.75, 0}, Row{0.50, 0.55, 0}};
inline constexpr std::array kShape = {Row{0.90, 0.85, 0}, Row{0.75, 0.72, 0}, Row{0.50, 0.52, 0}};
// The length is within 1 % of the true one; by the share of the rim that was seen.
inline constexpr std::array kLength = {Row{0.85, 0.95, 0}, Row{0.60, 0.88, 0}, Row{0.30, 0.65, 0}};

// Standard deviation of Border::wear about the true share lost.
inline constexpr double kWearSigma = 0.04;

}  // namespace footring::photo::measured

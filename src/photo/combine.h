// photo/combine.h - what several photographs of one piece say together.
//   Statements about the same thing (a place, the glaze, the mark ...) are taken as independent: what all of them
//   say is right, or wrong, each with its own chance. For the values v that were said and for "none of them":
//       weight(v) = product of p over the statements for v, of 1 - p over the others;   chance = weight / sum
//   so that two photographs that agree are surer than each, and a contradiction makes the answer less sure.
//   "something" and "worn" say that there is an ornament, and so speak for every ornament and against "none".
//   Lengths within 1 % of each other agree.
//   in      statements with chances in [0, 1], in any order: the answer does not depend on it, but for the order of
//           its rows, which is that of the first statement about each thing
//   out     one row a thing; a single statement comes out as it came in. Agreement never makes the answer less sure
//           than the surest of those who agree, nor surer than kSurestTogether: photographs of one piece share its
//           light, its wear and the packs that they were compared with.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <vector>

#include "photo/reading.h"

namespace footring::photo {

inline constexpr double kSurestTogether = 0.995;

struct Statement {
    std::string photo;  // names it, in any way
    Suggestion what;
};
struct Combined {
    Suggestion what;                 // `sure` is absent when it is more likely wrong than right
    std::vector<Statement> for_it;   // surest first; never empty
    std::vector<Statement> against;  // surest first
};
std::vector<Combined> combine(std::span<const Statement>);

}  // namespace footring::photo

// dating/contradictions.h - statements about a year that cannot all hold: every smallest set of them, and which one
// statement, if it were wrong, would free the rest.
//   A statement allows a set of years. A set of statements contradicts itself when no year is allowed by all; it is
//   smallest when leaving out any one of them mends it. Statements about plain periods contradict each other in
//   pairs; one that allows scattered years (a code letter that recurs) can take part in larger sets.
//   cost    proportional to what is found, times the statements: 500 statements take milliseconds
//   source  minimal hitting sets by the criticality of their members: Murakami and Uno, Discrete Applied
//   Mathematics
//           170, 2014, 83-94 (MMCS)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

namespace footring::dating {

// Every pair of 500 statements, and as many sets again.
inline constexpr std::size_t kMostContradictions = 250'000;

struct Contradictions {
    std::vector<std::vector<std::size_t>>
        smallest;                    // indices of statements, ascending; sets in order of size, then index
    std::vector<std::size_t> frees;  // each of these alone, left out, leaves a year for all the others
    bool complete = true;            // false: there were more than `most`
};

// allowed[i][y]: does statement i allow the y-th year? All rows are equally long. Deterministic.
Contradictions contradictions(const std::vector<std::vector<bool>>& allowed,
                              std::size_t most = kMostContradictions);

}  // namespace footring::dating

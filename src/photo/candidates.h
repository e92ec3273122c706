// photo/candidates.h - the drawings that a border or centre may be, each with what speaks for it. Internal to
// photo/. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "photo/decoration.h"
#include "photo/ornament_shelf.h"

namespace footring::photo {

struct Evidence {
    float all = 0, pattern = 0;    // correlations, photo/tile_match.h
    float shape = 0;               // one number of both, rows left out of sight counted
    float extra = 1, missing = 1;  // photo/overlap.h
    float period = 1;              // how well the ribbon repeats at this count, of the best count
    // Natural logarithms, at most 0: colour; how the pack uses it; repeats; colours across, of stripes.
    double finish = 0, use = 0, count = 0, stripes = 0;
};
struct Candidate {
    std::uint32_t drawing = 0;  // place in the shelf
    Evidence evidence;
    double odds = 0;  // natural logarithm of the odds against "none of them"
    int count = 0;    // of a border: tiles round the rim
    double angle_deg = 0;
};
// Best first, each drawing once.
std::vector<Candidate> border_candidates(const OrnamentShelf&, const Repeat&);
std::vector<Candidate> centre_candidates(const OrnamentShelf&, const Ink&);

double border_odds(const Evidence&);
double centre_odds(const Evidence&);

}  // namespace footring::photo

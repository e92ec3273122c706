// photo/row_search.h - the best fit over stretches and moves of the rows. Internal to photo/.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "photo/tile_match.h"

namespace footring::photo {

struct RowFit {
    RowMap map;
    Fit fit;
    float worth = -1;
};

// How far a border's sides may be off: a line of it worn away, or one beside it taken for a part.
const std::vector<RowMap>& wide_maps();
// A disc's radius may be off by a quarter; its middle stays the middle.
const std::vector<RowMap>& disc_maps();

// The best of `maps`, then `rounds` times the best around it, in halved steps. `across`: rows of a disc are
// stretched from the first row, those of a border from the middle and also moved.
RowFit best_rows(const Waves& drawing, const Waves& seen, const std::vector<RowMap>& maps, int rounds,
                 bool disc = false);

}  // namespace footring::photo

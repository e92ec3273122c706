// papers/grids.h - sheets of labels by their grid and millimetres.
//   A name says paper, columns x rows and the size of one label: "a4-3x7-63.5x38.1". Any other sheet is written
//   out: "3x7,63.5x38.1,7.2x15.1,66x38.1" - columns x rows, label, the first label's left x top, step across x
//   down. errors  kBadInput: the sheet cannot be read, or its labels do not fit the paper or each other source
//   measured sheets of common sizes; common practice, no published source
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "base/problem.h"
#include "papers/paper.h"

namespace footring::papers {

struct NamedGrid {
    std::string_view name;
    PageSize size;
    Grid grid;
};
std::span<const NamedGrid> all_grids();

// Empty: the first grid of that paper.
Expected<Grid> grid_for(std::string_view text, PageSize);

}  // namespace footring::papers

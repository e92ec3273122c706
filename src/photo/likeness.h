// photo/likeness.h - whether two photographs show the same border, known to a pack or not.
//   in      one repeat each, as decoration.h reads it
//   out     describe: a small plain value to keep with a piece; likeness: the chance (0..1) that both are the same
//           ornament, if half of the pairs one asks about are
//   Phase, contrast, the border's width and how many repeats go round are free; mirrored is different.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "photo/decoration.h"
#include "photo/ornament_index.h"

namespace footring::photo {

struct Descriptor {
    std::vector<float> index;        // kDescriptorSize numbers for the search among many; empty: nothing was seen
    std::vector<std::uint8_t> tile;  // one repeat, 40 rows of 128 columns, 255 full ink
    std::string finish;
    std::optional<std::array<double, 3>> lab;  // of its ink
};
Descriptor describe(const Repeat&);
double likeness(const Descriptor&, const Descriptor&);

// What the search goes by: how strong each frequency is in each of eight rows, and the rows' own ink. `tile` is
// kFine in size; the numbers do not depend on where the repeat begins.
std::array<float, kDescriptorSize> index_numbers(const cv::Mat& tile);

}  // namespace footring::photo

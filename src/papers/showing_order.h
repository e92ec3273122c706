// papers/showing_order.h - in which order to show pieces on a table: through time, shape beside shape, and with as
//   little moving about as possible.
//   in      what matters of each piece
//   out     indices of all of them. Among all orders this one costs least (up to kMostExact pieces; beyond, each
//   next
//           piece is the one that costs least after the last): a step back in time costs kBack a year, another
//           shape kShape, another form kForm, another glaze kGlaze. Of equal ones, the first in the order given.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace footring::papers {

struct Showpiece {
    double year = 0;
    std::uint32_t shape = 0, form = 0, glaze = 0;
};
inline constexpr std::size_t kMostExact = 14;
inline constexpr double kBack = 2, kShape = 5, kForm = 1, kGlaze = 1.5;

std::vector<std::size_t> showing_order(const std::vector<Showpiece>&);
double showing_cost(const std::vector<Showpiece>&, const std::vector<std::size_t>& order);

}  // namespace footring::papers

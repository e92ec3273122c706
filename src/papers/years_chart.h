// papers/years_chart.h - the years of a dossier's treatments as a drawing: a bar for each treatment, shape by
// shape, its
//   soft ends paler, and a diamond for each dated use.
//   out     absent when fewer than two treatments have years. Beyond kMostBars treatments each shape gets one bar
//   that
//           covers its treatments: a page holds no more.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>

#include "papers/dossier_parts.h"
#include "papers/paper.h"

namespace footring::papers {

inline constexpr std::size_t kMostBars = 48;

std::optional<Picture> years_chart(const Ground&);

}  // namespace footring::papers

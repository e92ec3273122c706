// naming/prior_counts.h - how often each treatment was met, for the prior (settings prior_pack_counts and
//   prior_cupboard_counts).
//   in      decided  pairs of full treatment id ("pack:id") and number of decided pieces; ids of no open pack and
//                    decisions such as "elsewhere" are passed over
//   out     one count per treatment in the order of Book::treatments; empty when neither setting asks for counts
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "base/settings.h"
#include "book/book.h"

namespace footring::naming {

std::vector<double> prior_counts(const book::Book&, const Settings&,
                                 std::span<const std::pair<std::string, std::int64_t>> decided = {});

}  // namespace footring::naming

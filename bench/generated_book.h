// bench/generated_book.h - a Book as large as wished, with the spread of features that a real reference has.
//   Deterministic. Imitates many makers' catalogues at once: each maker a few shapes, each shape some glazes, each
//   treatment one to four ornaments, most with dates, a third with a grade.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>

#include "book/book.h"
#include "looks/resolve.h"

namespace footring::bench {

book::Book generated_book(std::size_t treatments);

// A well-described plate of treatment `t`: shape likely, glaze sure, three places, mark, number partly illegible.
looks::Findings described_plate(const book::Book&, std::uint32_t t);

}  // namespace footring::bench

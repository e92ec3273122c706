// photo/glaze.h - which of the recorded glazes a measured colour is near.
//   in      a Glaze with its colour and sigma (read_glaze of photo/decoration.h); the open packs
//   out     `nearest`: at most ten, nearest first, each with its dE00 and its chance: Gaussian in dE00 / sigma,
//   where
//           a glaze that is in no pack counts as one three sigma away. Glazes without a recorded colour are left
//           out.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "book/book.h"
#include "photo/reading.h"

namespace footring::photo {

void find_nearest(Glaze&, const book::Book&);

}  // namespace footring::photo

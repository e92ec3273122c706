// photo/suggest.h - the looks that a reading suggests, each with the chance that it is right.
//   Chances come from measured error rates (photo/measured.h, docs/photo-accuracy.md), never from the score alone.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "photo/reading.h"

namespace footring::photo {

// "crazing 0.02"; with what to do about it where it is likely, or why it cannot be told.
std::string crazing_in_words(const Faults&);
std::vector<Suggestion> suggest(const Reading&, const book::Book&);
// The forms and shapes whose recorded sizes agree with the measured ones, likeliest first.
std::vector<SizeCandidate> sizes_that_agree(const Outline&, const book::Book&);

}  // namespace footring::photo

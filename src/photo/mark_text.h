// photo/mark_text.h - what the lines of a mark say: which are words at all, which mark of the packs they are, which
// are numbers and date codes. Internal to photo/.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "photo/read_mark.h"
#include "photo/reading.h"

namespace footring::photo {

// Takes away lines that are no words (scratches, sprigs, reflections), and all of them when none is.
void keep_words(MarkText&, const std::vector<std::string>& known);
// The same for what stands apart from the words of a mark: keeps nothing but numbers.
struct NumberTrust {
    double least;             // of its wordiness
    std::size_t least_signs;  // digits and letters
};
void keep_numbers(MarkText&, const NumberTrust&);

// Fills words, marks, numbers and date codes from lines in reading order.
void compare(Wording&, const std::vector<MarkLine>&, const book::Book&);

}  // namespace footring::photo

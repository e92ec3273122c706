// book/decoration.h - which ornaments a treatment carries at each place of one form.
//   Rule (docs/packs.md): at a place, only the rows of the most specific `on` that applies count
//   (form over ware over *); share 0 states absence; a place without a row is bare.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "book/book.h"

namespace footring::book {

struct Carried {
    Ref<Ornament> ornament;
    double share;       // (0, 1]; several at one place are alternatives
    std::uint32_t row;  // index into Book::treatment_ornaments
};
struct Decoration {
    std::array<std::vector<Carried>, kPlaces> at;  // by Place; empty: bare
    const std::vector<Carried>& operator[](Place p) const { return at[static_cast<std::size_t>(p)]; }
};

// `form` absent: only rows on every form (*) count, because nothing is known of the piece.
Decoration decoration(const Book&, Ref<Treatment>, std::optional<Ref<Form>> form);

// By form: the first form of the Book at which every treatment is shown as at this one. (Only forms that some row
// names are unlike all others of their ware.)
std::vector<Ref<Form>> shown_alike(const Book&);

// The forms that one may meet a shape in: its shape_forms, or all forms when none is recorded for it.
std::vector<Ref<Form>> forms_of(const Book&, Ref<Shape>);

}  // namespace footring::book

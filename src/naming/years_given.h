// naming/years_given.h - what the date of a piece is made of, one treatment at a time: the years in which it was in
// use, and what the mark and the date code make of each year.
//   examine() sums these up with the Book taken at its word; the room dating weighs them by how far their sources
//   are trusted. Both ask here, so that they agree wherever every source is trusted.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <vector>

#include "book/decoration.h"
#include "looks/resolve.h"
#include "naming/form_view.h"

namespace footring::naming {

// One look, by year of the view.
struct LookYears {
    std::vector<double> given;  // P(look | year), up to a factor that is the same for all years; empty: not made
    std::vector<bool> right;    // years in which it can have been seen right; in the others it was misread
    std::vector<book::Ref<book::CodeScheme>> schemes;  // of a date code: those that it follows
};
struct TreatmentYears {
    std::vector<double> in_use;  // P(year | treatment) before any look; sums to 1; empty without a treatment
    LookYears mark, code;
};
// P(year, looks | treatment) is proportional to in_use * mark * code. Without a treatment the looks are those of
// any shape of the listed treatments, or of the shape that was seen.
TreatmentYears years_given(const FormView&, const looks::Findings&, std::optional<book::Ref<book::Treatment>>);

// Everything that bounds a treatment's years by being carried: each ornament once, in the order of places.
std::vector<book::Ref<book::Ornament>> ornaments_of(const book::Decoration&);

// First and last year of the view, both included.
std::pair<int, int> years_of(const FormView&);

}  // namespace footring::naming

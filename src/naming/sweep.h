// naming/sweep.h - the odds of many pieces of one form at once, as when the Book has changed.
//   The same odds as examine() (a test holds them together), without reasons, next looks and conflicts. Pieces are
//   taken in an order in which neighbours share looks, and what they share is multiplied once.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <span>
#include <utility>
#include <vector>

#include "looks/resolve.h"
#include "naming/answer.h"
#include "naming/form_view.h"

namespace footring::naming {

struct Odds {
    // Treatments at or above least_shown, in the order of the Book.
    std::vector<std::pair<book::Ref<book::Treatment>, double>> treatments;
    OpenOdds open;
};

// Calls `each` once for every piece, in no particular order, with its index and its odds (valid during the call).
// Every piece must be of view.form().
void sweep(const FormView& view, std::span<const looks::Findings> pieces,
           const std::function<void(std::size_t, const Odds&)>& each);

}  // namespace footring::naming

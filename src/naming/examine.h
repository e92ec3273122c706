// naming/examine.h - a piece goes in, an answer with reasons comes out. No I/O.
//   The model is docs/model.md: exact enumeration over (treatment, grade, year) and two open hypotheses.
//   Cost: O(treatments x looks) for the odds; examine a FormView once per form and keep it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "base/settings.h"
#include "looks/resolve.h"
#include "naming/answer.h"
#include "naming/form_view.h"

namespace footring::naming {

struct Wanted {  // what to work out besides the odds
    bool reasons = true, next = true, conflicts = true;
};

// `view` must be of findings.form. Deterministic: the same input gives the same bytes.
Answer examine(const FormView& view, const looks::Findings& findings, const Wanted& wanted = {});

}  // namespace footring::naming

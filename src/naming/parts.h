// naming/parts.h - the parts of an answer, each worked out from a Weighing. Private to this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "naming/answer.h"
#include "naming/date_answer.h"
#include "naming/weighing.h"

namespace footring::naming {

std::vector<Reason> reasons(const Weighing&, const Answer&);
std::vector<NextLook> next_looks(const Weighing&);
std::vector<Conflict> conflicts(const FormView::Tables&, const looks::Findings&);
std::string verdict(const Weighing&, const Answer&);

}  // namespace footring::naming

// cli/answer_page.h - an Answer as a page for a terminal.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "cli/command.h"
#include "looks/piece.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::cli {

// `notes`: sentences about the input, shown at the foot.
std::string answer_page(const book::Book&, const looks::Piece&, const looks::Findings&, const naming::Answer&,
                        const std::vector<std::string>& notes, const World&);

}  // namespace footring::cli

// cli/program.h - the program from its words to its exit status.
//   out     what a command answers, whole or not at all
//   err     one line for each problem, `where: what: remedy`, and for each note
//   status  0 done, 1 our fault or the disk's, 2 bad input, 3 not found
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <ostream>
#include <string>
#include <vector>

#include "cli/command.h"

namespace footring::cli {

int run(const std::vector<std::string>& words, World& world, std::ostream& err);

}  // namespace footring::cli

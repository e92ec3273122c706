// cli/ask_secret.h - a password, from the terminal without showing it, or from standard input.
//   Never from the command line: every program on the machine could read it there.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/problem.h"
#include "cli/command.h"

namespace footring::cli {

// On a terminal it is asked for twice; else one line is read. kBadInput: none came, or the two differ.
Expected<std::string> ask_secret(World&, const std::string& prompt);

}  // namespace footring::cli

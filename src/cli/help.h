// cli/help.h - the help of the program and of each command, and footring.1, from the list of commands.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "cli/command.h"

namespace footring::cli {

std::string usage_line(const Command&);             // "footring check PACK..."
std::string help(const Command* about, int width);  // null: the program
std::string manual_page();                          // troff with the man macros
std::string completions(const std::string& shell);  // bash, zsh or fish

}  // namespace footring::cli

// cli/parse.h - words of the command line become a Call, or every fault in them.
//   CLI11 reads the words; what it finds wrong is said in our form. Two additions to its grammar:
//   several packs may follow one --pack (a word after a pack that is itself a pack's folder joins it), and an
//   option never swallows the next option as its value.
//   errors  kBadInput; `where` is the command or the option
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <string>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "cli/command.h"

namespace footring::cli {

struct HelpWanted {
    const Command* about;  // null: the program as a whole
};
struct Chosen {
    const Command* command;
    Call call;
};
// `words` without the program's name.
std::expected<std::variant<HelpWanted, Chosen>, std::vector<Problem>> parse(const std::vector<std::string>& words);

}  // namespace footring::cli

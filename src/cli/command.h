// cli/command.h - what a command of `footring` is: one record that makes its parser, help, man page and
// completions.
//   To add a command: 1. its file command_NAME.cpp with `Command NAME_command()`; 2. a line in commands.cpp;
//   3. a heading in docs/commands.md; 4. `footring manual > docs/footring.1`; 5. its checks in tests/cli/.
//   tests/docs.py and tests/cli fail when one of them is missing.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <functional>
#include <istream>
#include <map>
#include <optional>
#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::cli {

// What a word on the command line stands for: completions offer what fits.
// kCupboard: a folder of pieces; a command that takes one also takes --store and --photos, which are added to it.
enum class Takes { kText, kFolder, kCupboard, kFile, kChoice, kSetting };

struct Option {
    std::string name;      // "--pack"
    std::string value;     // "DIR"; empty: a switch
    std::string sentence;  // what it does
    Takes takes = Takes::kText;
    bool required = false, repeats = false;
    std::vector<std::string> choices = {};  // for kChoice
};
struct Argument {
    std::string name;  // "PIECE.json"
    std::string sentence;
    Takes takes = Takes::kText;
    std::size_t least = 1;
    bool repeats = false;
    std::vector<std::string> choices = {};
};

// A command line that has been read: every option is known, every required one is there, every choice is one.
class Call {
  public:
    std::vector<std::string> arguments;
    std::map<std::string, std::vector<std::string>> options;  // a switch that was given has an empty list

    bool has(std::string_view option) const { return options.contains(std::string(option)); }
    std::vector<std::string> all(std::string_view option) const {
        const auto found = options.find(std::string(option));
        return found == options.end() ? std::vector<std::string>{} : found->second;
    }
    std::optional<std::string> one(std::string_view option) const {
        const auto values = all(option);
        return values.empty() ? std::nullopt : std::optional(values.front());
    }
    bool json() const { return has("--json"); }
};

// The world as a command sees it, an argument so that tests can make one up.
struct World {
    std::istream& in;
    std::ostream& out;  // for `serve` alone; other commands return what they print
    int width = 80;     // columns of the page
    bool colour = false;
    std::filesystem::path share;                                           // holds packs/, demo/ and ui/dist
    std::function<std::optional<std::string>(std::string_view)> variable;  // of the environment
    std::ostream* progress = nullptr;  // where a long command says how far it is; null: nowhere
};

// What a command leaves behind: a page for standard output, or problems for standard error, or (check) both.
struct Outcome {
    std::string page;
    std::vector<Problem> problems;
    bool page_despite_problems = false;
};
inline Outcome page(std::string text) { return {std::move(text), {}, false}; }
inline Outcome refuse(std::vector<Problem> problems) { return {{}, std::move(problems), false}; }
inline Outcome refuse(Problem problem) { return refuse(std::vector{std::move(problem)}); }

struct Command {
    std::string name;
    std::string sentence;             // for the list of commands
    std::vector<std::string> detail;  // paragraphs for help and the man page
    std::vector<Argument> arguments;
    std::vector<Option> options;  // --json and --help are added to each
    Outcome (*run)(const Call&, World&) = nullptr;
};

// Options that several commands share.
Option pack_option(bool required = true);
Option data_option();      // a folder, and nothing else
Option cupboard_option();  // the same, or a database
Option set_option();

// The status of the worst problem: ours (1) over bad input (2) over not found (3); 0 when there is none.
int exit_status(const std::vector<Problem>&);

}  // namespace footring::cli

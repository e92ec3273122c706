// SPDX-License-Identifier: Apache-2.0
#include "cli/ask_secret.h"

#include <fmt/format.h>
#include <termios.h>
#include <unistd.h>

#include <cstdio>
#include <iostream>

namespace footring::cli {

namespace {

// What is typed is not shown while it lives.
class Unseen {
  public:
    Unseen() {
        if (::tcgetattr(STDIN_FILENO, &before_) != 0) return;
        termios quiet = before_;
        quiet.c_lflag &= ~static_cast<tcflag_t>(ECHO);
        changed_ = ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &quiet) == 0;
    }
    ~Unseen() {
        if (changed_) ::tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
    }
    Unseen(const Unseen&) = delete;
    Unseen& operator=(const Unseen&) = delete;

  private:
    termios before_{};
    bool changed_ = false;
};

Expected<std::string> line_of(World& world) {
    std::string line;
    if (!std::getline(world.in, line))
        return fail(ProblemCode::kBadInput, "password", "none was given",
                    "type it, or give it as a line on standard input");
    if (line.ends_with('\r')) line.pop_back();
    return line;
}

}  // namespace

Expected<std::string> ask_secret(World& world, const std::string& prompt) {
    if (&world.in != &std::cin || ::isatty(STDIN_FILENO) != 1) return line_of(world);
    const Unseen unseen;
    const auto ask = [&](const std::string& words) {
        std::fputs(words.c_str(), stderr);
        auto line = line_of(world);
        std::fputs("\n", stderr);
        return line;
    };
    auto first = ask(prompt + ": ");
    if (!first) return first;
    const auto again = ask(prompt + ", once more: ");
    if (!again) return again;
    if (*first != *again) return fail(ProblemCode::kBadInput, "password", "the two are not the same", "try again");
    return first;
}

}  // namespace footring::cli

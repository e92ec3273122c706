// SPDX-License-Identifier: Apache-2.0
#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>

#include "base/text.h"
#include "cli/files.h"
#include "cli/program.h"
#include "cli/text_page.h"

namespace {

std::optional<std::string> variable(std::string_view name) {
    const char* value = std::getenv(std::string(name).c_str());
    return value == nullptr ? std::nullopt : std::optional<std::string>(value);
}

// COLUMNS, else what the terminal says, else 80; within what can be read.
int page_width(bool terminal) {
    int width = 80;
    winsize size{};
    if (const auto columns = footring::to_int(variable("COLUMNS").value_or(""))) width = *columns;
    else if (terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) width = size.ws_col;
    return std::clamp(width, footring::cli::kNarrowest, footring::cli::kWidest);
}

}  // namespace

int main(int count, char** words) {
    std::ios::sync_with_stdio(false);
    const bool terminal = isatty(STDOUT_FILENO) == 1;
    const bool colour = terminal && variable("NO_COLOR").value_or("").empty() && variable("TERM") != "dumb";
    footring::cli::World world{
        .in = std::cin,
        .out = std::cout,
        .width = page_width(terminal),
        .colour = colour,
        .share = footring::cli::find_share("/proc/self/exe", variable("FOOTRING_SHARE").value_or("")),
        .variable = variable,
        .progress = isatty(STDERR_FILENO) == 1 ? &std::cerr : nullptr};
    return footring::cli::run({words + std::min(count, 1), words + count}, world, std::cerr);
}

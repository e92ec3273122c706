// SPDX-License-Identifier: Apache-2.0
#include "cli/program.h"

#include <fmt/format.h>

#include <exception>

#include "cli/help.h"
#include "cli/parse.h"

namespace footring::cli {

namespace {

Outcome answer(const std::vector<std::string>& words, World& world) {
    const auto parsed = parse(words);
    if (!parsed) return refuse(parsed.error());
    if (const auto* wanted = std::get_if<HelpWanted>(&*parsed)) return page(help(wanted->about, world.width));
    const auto& chosen = std::get<Chosen>(*parsed);
    return chosen.command->run(chosen.call, world);
}

}  // namespace

int run(const std::vector<std::string>& words, World& world, std::ostream& err) {
    Outcome outcome;
    try {
        outcome = answer(words, world);
    } catch (const std::bad_alloc&) {
        outcome = refuse({ProblemCode::kOurFault, "footring", "there is not enough memory",
                          "close other programs, or give smaller files"});
    } catch (const std::exception& error) {
        outcome = refuse({ProblemCode::kOurFault, "footring", fmt::format("an unforeseen fault ({})", error.what()),
                          "this is a mistake of ours: please report it with the command that you gave"});
    }
    if (outcome.problems.empty() || outcome.page_despite_problems) {
        world.out << outcome.page << std::flush;
        if (!world.out)
            outcome.problems.push_back({ProblemCode::kStore, "standard output", "cannot be written to its end",
                                        "check the space on the disk, or where the output goes"});
    }
    for (const Problem& problem : outcome.problems) err << to_line(problem) << "\n";
    err << std::flush;
    return exit_status(outcome.problems);
}

}  // namespace footring::cli

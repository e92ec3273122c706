// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "book/pack.h"
#include "cli/commands.h"
#include "cli/json_page.h"

namespace footring::cli {

namespace {

Outcome check(const Call& call, World&) {
    const auto book = book::read_packs({call.arguments.begin(), call.arguments.end()});
    Outcome outcome;
    if (!book) outcome.problems = book.error();
    if (call.json()) {
        outcome.page = json_line(problems_json(outcome.problems));
        outcome.page_despite_problems = true;
        return outcome;
    }
    if (!book) return outcome;
    for (std::size_t i = 0; i < book->packs.size(); ++i) {
        const auto rows_of = [&](const auto& table) {
            std::size_t rows = 0;
            for (const auto& row : table) rows += row.origin.pack == i;
            return rows;
        };
        const book::Pack& pack = book->packs[i];
        outcome.page +=
            fmt::format("{} {}: no faults in {} treatments, {} ornaments, {} shapes, {} marks, {} sources\n",
                        pack.id, pack.version, rows_of(book->treatments), rows_of(book->ornaments),
                        rows_of(book->shapes), rows_of(book->marks), rows_of(book->sources));
    }
    return outcome;
}

}  // namespace

Command check_command() {
    return {
        .name = "check",
        .sentence = "Tells every fault of reference packs, each with its line and how to mend it.",
        .detail = {"Packs that refer to each other are checked together. With --json the faults are printed as an "
                   "object on standard output as well: {\"problems\": [{code, where, what, remedy}]}."},
        .arguments = {{.name = "PACK",
                       .sentence = "The folder of a pack, with its datapackage.json.",
                       .takes = Takes::kFolder,
                       .repeats = true}},
        .options = {},
        .run = check};
}

}  // namespace footring::cli

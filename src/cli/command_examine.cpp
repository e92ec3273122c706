// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "care/cautions.h"
#include "cli/answer_page.h"
#include "cli/commands.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/piece_files.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "naming/answer_json.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

Outcome examine(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<Problem> problems;
    const std::vector<Asked> asked = read_pieces(call, world, *reference, problems);
    if (!problems.empty()) return refuse(std::move(problems));

    FormViews views(*reference);
    Outcome outcome;
    for (const Asked& one : asked) {
        const naming::Answer answer = naming::examine(views.of(one.findings.form), one.findings);
        if (call.json()) {
            auto json = naming::answer_json(book, one.piece.id, answer, one.notes);
            json["cautions"] = care::cautions_json(book, care::cautions(book, one.findings, answer));
            outcome.page += json_line(json);
        } else {
            if (!outcome.page.empty())
                outcome.page += "\n" + repeat("─", static_cast<std::size_t>(world.width)) + "\n\n";
            outcome.page += answer_page(book, one.piece, one.findings, answer, one.notes, world);
        }
    }
    return outcome;
}

}  // namespace

Command examine_command() {
    return {.name = "examine",
            .sentence = "Names, dates and grades pieces from what can be seen of them.",
            .detail =
                {"Weighs every treatment of the open packs, and the chance that none of them is right, against the "
                 "looks of each piece file. The answer has the odds, the grade, the date, the reasons with their "
                 "sources, the next looks that would tell most, whatever cannot all be true, and what to be "
                 "careful with.",
                 "With --json each piece is one line, a JSON object; a single piece is one line as well.",
                 "When one piece file is wrong, nothing is answered: every fault of every file is reported."},
            .arguments = {{.name = "PIECE.json",
                           .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                           .takes = Takes::kFile,
                           .repeats = true}},
            .options = {pack_option(), set_option()},
            .run = examine};
}

}  // namespace footring::cli

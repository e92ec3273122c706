// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/answer_page.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "looks/piece.h"
#include "looks/resolve.h"
#include "naming/answer_json.h"
#include "naming/examine.h"
#include "naming/prior_counts.h"

namespace footring::cli {

namespace {

struct Asked {
    looks::Piece piece;
    looks::Findings findings;
    std::vector<std::string> notes;
};

// Everything that is wrong with all the files, before anything is answered.
std::vector<Asked> read_pieces(const Call& call, World& world, const Reference& reference,
                               std::vector<Problem>& problems) {
    std::vector<Asked> asked;
    const auto report = [&](std::vector<Problem> found) {
        problems.insert(problems.end(), std::make_move_iterator(found.begin()),
                        std::make_move_iterator(found.end()));
    };
    if (std::ranges::count(call.arguments, "-") > 1) {
        problems.push_back({ProblemCode::kBadInput, "standard input", "is named twice", "write - once"});
        return asked;
    }
    for (const std::string& path : call.arguments) {
        const std::string name = path == "-" ? "standard input" : path;
        const auto text = read_file_or_stdin(path, world);
        if (!text) {
            problems.push_back(text.error());
            continue;
        }
        std::vector<std::string> notes;
        auto pieces = looks::pieces_from_json(*text, name, notes);
        if (!pieces) {
            report(pieces.error());
            continue;
        }
        if (pieces->empty())
            problems.push_back({ProblemCode::kBadInput, name, "there is no piece in this file",
                                "write a piece, or a list of pieces"});
        const bool list = text->find_first_not_of(" \t\r\n\xEF\xBB\xBF") != std::string::npos &&
                          (*text)[text->find_first_not_of(" \t\r\n\xEF\xBB\xBF")] == '[';
        for (std::size_t i = 0; i < pieces->size(); ++i) {
            const std::string inside = list ? fmt::format("/{}", i) : "";
            auto findings = looks::resolve((*pieces)[i], reference.book, reference.settings, name);
            if (!findings) {
                // "pieces.json: /form" becomes "pieces.json: /3/form"
                for (Problem& problem : findings.error())
                    if (problem.where.starts_with(name + ": /")) problem.where.insert(name.size() + 2, inside);
                report(findings.error());
                continue;
            }
            std::vector<std::string> own;
            for (const std::string& note : notes)
                if (note.starts_with(fmt::format("{}: {}/", name, inside))) own.push_back(note);
            asked.push_back({std::move((*pieces)[i]), std::move(*findings), std::move(own)});
        }
    }
    return asked;
}

Outcome examine(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<Problem> problems;
    const std::vector<Asked> asked = read_pieces(call, world, *reference, problems);
    if (!problems.empty()) return refuse(std::move(problems));

    const std::vector<double> counts = naming::prior_counts(book, settings);
    std::map<std::optional<book::Ref<book::Form>>, naming::FormView> views;
    Outcome outcome;
    for (const Asked& one : asked) {
        auto view = views.find(one.findings.form);
        if (view == views.end())
            view =
                views.emplace(one.findings.form, naming::FormView(book, one.findings.form, settings, counts)).first;
        const naming::Answer answer = naming::examine(view->second, one.findings);
        if (call.json()) {
            outcome.page += json_line(naming::answer_json(book, one.piece.id, answer, one.notes));
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
                 "sources, the next looks that would tell most, and whatever cannot all be true.",
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

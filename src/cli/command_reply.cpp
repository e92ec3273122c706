// SPDX-License-Identifier: Apache-2.0
#include "base/text.h"
#include "care/cautions.h"
#include "cli/commands.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/piece_files.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "exchange/reply.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

Outcome write_reply(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    std::vector<Problem> problems;
    std::vector<Asked> asked = read_pieces(call, world, *reference, problems);
    if (!problems.empty()) return refuse(std::move(problems));
    FormViews views(*reference);
    std::vector<exchange::AskedPiece> pieces;
    for (Asked& one : asked) {
        naming::Answer answer = naming::examine(views.of(one.findings.form), one.findings);
        auto cautions =
            care::cautions(reference->book, one.findings, answer.candidates,
                           answer.date.by_year.empty() ? std::nullopt : std::optional(answer.date.median));
        pieces.push_back({std::move(one.piece), std::move(one.findings), std::move(answer), std::move(cautions)});
    }
    const exchange::Reply reply =
        exchange::reply(reference->book, {call.one("--name").value_or(""), call.one("--subject").value_or("")},
                        pieces, call.one("--signature").value_or(""));
    if (call.json())
        return page(json_line({{"text", reply.text()}, {"paragraphs", reply.paragraphs}, {"asks", reply.asks}}));
    std::string text;
    for (const std::string& paragraph : reply.paragraphs) {
        if (!text.empty()) text += "\n";
        for (const std::string& line : split(paragraph, '\n')) text += wrapped(line, world.width, "", "");
    }
    return page(text);
}

}  // namespace

Command reply_command() {
    return {
        .name = "reply",
        .sentence = "Composes the reply to a question about pieces, in plain words with odds in words and figures.",
        .detail =
            {"Says what each piece is and how likely that is, when it was made, what speaks for it with which "
             "sources, what else it could be, which photographs to ask for next, and the usual cautions. It "
             "is an opinion on what was shown, no appraisal, and says so. Read it before it goes out."},
        .arguments = {{.name = "PIECE.json",
                       .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                       .takes = Takes::kFile,
                       .repeats = true}},
        .options = {pack_option(),
                    {.name = "--name", .value = "NAME", .sentence = "Who asked."},
                    {.name = "--subject", .value = "TEXT", .sentence = "What the question was about."},
                    {.name = "--signature", .value = "TEXT", .sentence = "What stands under the reply."},
                    set_option()},
        .run = write_reply};
}

}  // namespace footring::cli

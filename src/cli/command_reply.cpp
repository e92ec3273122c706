// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "care/cautions.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/piece_files.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "edtf/edtf.h"
#include "exchange/reply.h"
#include "naming/examine.h"
#include "papers/kinds.h"
#include "papers/reply_paper.h"

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
    const auto text_of = [&](const char* option) { return call.one(option).value_or(""); };
    const exchange::Reply reply =
        exchange::reply(reference->book, {text_of("--name"), text_of("--subject")}, pieces, text_of("--signature"));
    if (const auto file = call.one("--out")) {
        papers::ReplySheet sheet{text_of("--name"),
                                 text_of("--address"),
                                 text_of("--subject"),
                                 reply.text(),
                                 call.one("--date").value_or(utc_now().substr(0, 10)),
                                 {}};
        if (const auto read = edtf::parse(sheet.date); !read)
            return refuse({ProblemCode::kBadInput, "--date", read.error().what, read.error().remedy});
        for (const exchange::AskedPiece& one : pieces) {
            const auto shown =
                papers::show_piece(sheet, reference->book, nullptr,
                                   {one.piece.id, exchange::drawn_likeliest(one.answer), one.findings.form});
            if (!shown) return refuse(shown.error());
        }
        const std::string format = call.one("--format").value_or(lower(*file).ends_with(".html") ? "html" : "pdf");
        const auto made =
            papers::made_of(papers::reply_paper(sheet), "reply", format, text_of("--paper"), sheet.date);
        if (!made) return refuse(made.error());
        if (auto written = write_file(*file, made->bytes); !written) return refuse(written.error());
        if (call.json())
            return page(json_line({{"file", *file}, {"type", made->type}, {"bytes", made->bytes.size()}}));
        return page(wrapped(fmt::format("The reply is in {} ({} kB). Read it before it goes out.", *file,
                                        (made->bytes.size() + 999) / 1000),
                            world.width, "", ""));
    }
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
             "is an opinion on what was shown, no appraisal, and says so. Read it before it goes out.",
             "With --out it is set as a paper, with the likeliest of each piece drawn; else it is text."},
        .arguments = {{.name = "PIECE.json",
                       .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                       .takes = Takes::kFile,
                       .repeats = true}},
        .options = {pack_option(),
                    {.name = "--name", .value = "NAME", .sentence = "Who asked."},
                    {.name = "--subject", .value = "TEXT", .sentence = "What the question was about."},
                    {.name = "--signature", .value = "TEXT", .sentence = "What stands under the reply."},
                    {.name = "--address", .value = "TEXT", .sentence = "Of a paper: where the reply goes."},
                    {.name = "--out",
                     .value = "FILE",
                     .sentence = "Sets the reply as a paper, PDF or HTML, and writes it there.",
                     .takes = Takes::kFile},
                    {.name = "--format",
                     .value = "FORMAT",
                     .sentence = "Of a paper: pdf or html; pdf unless the name after --out ends in .html.",
                     .takes = Takes::kChoice,
                     .choices = {"pdf", "html"}},
                    {.name = "--paper",
                     .value = "SIZE",
                     .sentence = "Of a paper: a4 or letter; a4 when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"a4", "letter"}},
                    {.name = "--date",
                     .value = "DATE",
                     .sentence = "Of a paper: the date that it bears; today when absent."},
                    set_option()},
        .run = write_reply};
}

}  // namespace footring::cli

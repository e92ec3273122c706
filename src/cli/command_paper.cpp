// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "papers/kinds.h"

namespace footring::cli {

namespace {

// A problem with the name of an option in place of that of the order's field.
Problem as_option(Problem problem) {
    for (const char* field : {"of", "form", "piece", "lot", "labels", "sheet", "skip", "price", "mark", "rows",
                              "address", "size", "format", "date", "data"})
        if (problem.where == field)
            problem.where = fmt::format("--{}", std::string_view(field) == "size" ? "paper" : field);
    if (problem.where == "kind") problem.where = "footring paper";
    return problem;
}

Outcome paper(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    std::unique_ptr<store::Store> store;
    if (names_cupboard(call)) {
        auto opened = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!opened) return refuse(opened.error());
        store = std::move(*opened);
    }
    const auto text = [&](const char* option) { return call.one(option).value_or(""); };
    papers::Order order;
    order.kind = call.arguments[0];
    order.of = text("--of");
    order.form = text("--form");
    order.pieces = call.all("--piece");
    order.lot = text("--lot");
    order.prices = call.all("--price");
    order.marks = call.all("--mark");
    if (const auto rows = call.one("--rows")) {
        auto read = read_file_or_stdin(*rows, world);
        if (!read) return refuse(read.error());
        order.rows = std::move(*read);
    }
    order.labels = text("--labels");
    order.sheet = text("--sheet");
    order.skip = text("--skip");
    order.address = text("--address");
    order.size = text("--paper");
    order.format = text("--format");
    order.date = call.one("--date").value_or(utc_now().substr(0, 10));
    const auto made = papers::made(order, {reference->book, reference->settings, store.get()});
    if (!made) return refuse(as_option(made.error()));
    const auto file = call.one("--out");
    if (!file) {
        if (call.json())
            return refuse({ProblemCode::kBadInput, "--json", "a paper is no JSON",
                           "add --out FILE, and the answer names the file"});
        return page(made->bytes);
    }
    if (auto written = write_file(*file, made->bytes); !written) return refuse(written.error());
    if (call.json())
        return page(json_line(
            {{"file", *file}, {"kind", order.kind}, {"type", made->type}, {"bytes", made->bytes.size()}}));
    return page(wrapped(fmt::format("The paper is in {} ({} kB).", *file, (made->bytes.size() + 999) / 1000),
                        world.width, "", ""));
}

}  // namespace

Command paper_command() {
    std::vector<std::string> kinds;
    std::vector<std::string> detail;
    for (const papers::Kind& kind : papers::all_kinds()) {
        kinds.emplace_back(kind.name);
        detail.push_back(fmt::format("{}: {}", kind.name, kind.sentence));
    }
    detail.emplace_back("Without --out the paper goes to standard output.");
    return {
        .name = "paper",
        .sentence = "Sets a paper to be printed or sent: PDF, or HTML.",
        .detail = std::move(detail),
        .arguments =
            {{.name = "KIND", .sentence = "Which paper.", .takes = Takes::kChoice, .choices = std::move(kinds)}},
        .options = {pack_option(),
                    {.name = "--data",
                     .value = "DIR",
                     .sentence = "The folder that holds your pieces, for papers about them.",
                     .takes = Takes::kCupboard},
                    {.name = "--of",
                     .value = "THING",
                     .sentence = "What it is about: ornament:ID, treatment:ID or shape:ID."},
                    {.name = "--form",
                     .value = "FORM",
                     .sentence = "The form of the pieces. Absent: the form "
                                 "that tells most."},
                    {.name = "--piece",
                     .value = "ID",
                     .sentence = "A piece; may be repeated. Absent: all, or those of the lot.",
                     .repeats = true},
                    {.name = "--lot", .value = "ID", .sentence = "The pieces of one lot."},
                    {.name = "--labels",
                     .value = "WHAT",
                     .sentence = "What the labels are for: shelf or price; shelf when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"shelf", "price"}},
                    {.name = "--sheet",
                     .value = "SHEET",
                     .sentence = "Of labels: a name, as a4-3x7-63.5x38.1, or columns x rows, label, first corner "
                                 "and step in mm, as 3x7,63.5x38.1,7.2x15.1,66x38.1."},
                    {.name = "--skip", .value = "N", .sentence = "Labels of the first sheet that are gone."},
                    {.name = "--price",
                     .value = "ID=TEXT",
                     .sentence = "A price on a label; may be repeated. A piece without one gets a line.",
                     .repeats = true},
                    {.name = "--address",
                     .value = "URL",
                     .sentence = "Where QR codes lead, before /cupboard/ID. Absent: this machine."},
                    {.name = "--mark",
                     .value = "X,Y,TEXT",
                     .sentence = "A mark on the first photograph of a condition report, in shares of its width and "
                                 "height, as 0.40,0.62,chip at the rim; may be repeated.",
                     .repeats = true},
                    {.name = "--rows",
                     .value = "FILE",
                     .sentence = "The rows of a schedule or of a wants list, as JSON; - is standard input.",
                     .takes = Takes::kFile},
                    {.name = "--format",
                     .value = "FORMAT",
                     .sentence = "pdf or html; pdf when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"pdf", "html"}},
                    {.name = "--paper",
                     .value = "SIZE",
                     .sentence = "a4 or letter; a4 when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"a4", "letter"}},
                    {.name = "--date",
                     .value = "DATE",
                     .sentence = "The date that it bears. Absent: today. With the same date the same file comes "
                                 "out."},
                    {.name = "--out", .value = "FILE", .sentence = "Where to write it.", .takes = Takes::kFile},
                    set_option()},
        .run = paper};
}

}  // namespace footring::cli

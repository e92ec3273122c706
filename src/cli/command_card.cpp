// SPDX-License-Identifier: Apache-2.0
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/text_page.h"
#include "photo/card_pdf.h"

namespace footring::cli {

namespace {

Outcome card(const Call& call, World& world) {
    const std::string paper = call.one("--paper").value_or("a4");
    auto pdf = photo::card_pdf(paper == "letter" ? photo::Paper::kLetter : photo::Paper::kA4);
    if (!pdf) return refuse(pdf.error());
    const auto file = call.one("--out");
    if (!file) {
        if (call.json())
            return refuse({ProblemCode::kBadInput, "--json", "a page of paper is no JSON",
                           "add --out FILE, and the answer names the file"});
        return page(std::move(*pdf));
    }
    if (auto written = write_file(*file, *pdf); !written) return refuse(written.error());
    if (call.json()) return page(json_line({{"file", *file}, {"paper", paper}}));
    return page(wrapped(
        "The scale card is in " + *file + ". Print it at 100 %, and check the ruler on it before you cut it out.",
        world.width, "", ""));
}

}  // namespace

Command card_command() {
    return {.name = "card",
            .sentence = "Prints the scale card that lies beside a piece in its photograph, as PDF.",
            .detail =
                {"Print it at true size (100 %, no fitting to the page), hold a ruler to the one on the page, cut "
                 "the card out and glue it on stiff board. With it in view a photograph gives millimetres and "
                 "balanced colours.",
                 "Without --out the PDF goes to standard output."},
            .arguments = {},
            .options = {{.name = "--out", .value = "FILE", .sentence = "Where to write it.", .takes = Takes::kFile},
                        {.name = "--paper",
                         .value = "SIZE",
                         .sentence = "a4 or letter; a4 when absent.",
                         .takes = Takes::kChoice,
                         .choices = {"a4", "letter"}}},
            .run = card};
}

}  // namespace footring::cli

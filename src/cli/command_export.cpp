// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "exchange/cupboard.h"

namespace footring::cli {

namespace {

Outcome export_cupboard(const Call& call, World&) {
    const auto out = call.one("--out");
    // --json on its own asks for the pieces as JSON; with --out it asks for a JSON account of what was written.
    std::string format = call.json() && !out ? "json" : "csv";
    if (out && lower(*out).ends_with(".json")) format = "json";
    if (const auto given = call.one("--format")) format = *given;
    auto store = open_cupboard(*call.one("--data"), WhenMissing::kRefuse);
    if (!store) return refuse(store.error());
    auto text =
        exchange::export_pieces(**store, format == "json" ? exchange::Format::kJson : exchange::Format::kCsv);
    if (!text) return refuse(text.error());
    if (!out) return page(std::move(*text));
    store::Query everything;
    everything.limit = 0;
    const auto counted = (*store)->find(everything);
    if (!counted) return refuse(counted.error());
    if (const auto written = write_file(*out, *text); !written) return refuse(written.error());
    if (call.json()) return page(json_line({{"file", *out}, {"format", format}, {"pieces", counted->total}}));
    return page(fmt::format("{} pieces written to {}\n", counted->total, *out));
}

}  // namespace

Command export_command() {
    return {
        .name = "export",
        .sentence = "Writes all pieces as a table (CSV), or everything that is kept of them as JSON.",
        .detail =
            {"CSV is for spreadsheets; JSON also has lots and what the program said when a piece was decided. "
             "`footring import` reads both back."},
        .arguments = {},
        .options = {data_option(),
                    {.name = "--format",
                     .value = "FORMAT",
                     .sentence = "csv, unless the name after --out ends in .json.",
                     .takes = Takes::kChoice,
                     .choices = {"csv", "json"}},
                    {.name = "--out",
                     .value = "FILE",
                     .sentence =
                         "Where to write; standard output when absent. The file is replaced whole, or not at all.",
                     .takes = Takes::kFile}},
        .run = export_cupboard};
}

}  // namespace footring::cli

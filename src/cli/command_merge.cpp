// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <filesystem>

#include "book/merge.h"
#include "book/pack.h"
#include "book/pack_writer.h"
#include "cli/commands.h"
#include "cli/json_page.h"

namespace footring::cli {

namespace {

std::string page_of(const book::MergedPack& merged, const std::string& out) {
    std::string text =
        fmt::format("{}: {} {} taken from theirs, {} {}\n", out, merged.taken, merged.taken == 1 ? "row" : "rows",
                    merged.conflicts.size(), merged.conflicts.size() == 1 ? "difference" : "differences");
    for (const book::MergeConflict& one : merged.conflicts) {
        text += fmt::format("  {} {}{}{}", one.table, one.row, one.column.empty() ? "" : ", ", one.column);
        text += one.column.empty() ? fmt::format(": mine {}, theirs {}. {}\n", one.mine, one.theirs, one.kept)
                                   : fmt::format(": was '{}', mine '{}', theirs '{}'. {}\n", one.base, one.mine,
                                                 one.theirs, one.kept);
    }
    for (const std::string& note : merged.notes) text += fmt::format("  {}\n", note);
    return text;
}

Outcome merge(const Call& call, World&) {
    const std::string out = *call.one("--out");
    std::error_code error;
    if (std::filesystem::exists(out, error))
        return refuse(
            Problem{ProblemCode::kBadInput, "--out " + out, "it is there already", "name a folder that is not"});
    auto merged = book::merge_packs(call.arguments[0], call.arguments[1], call.arguments[2]);
    if (!merged) return refuse(std::move(merged.error()));
    if (auto copied = book::copy_pack(call.arguments[1], out); !copied) return refuse(copied.error());
    if (auto written = book::write_pack(out, merged->files); !written) {
        std::filesystem::remove_all(out, error);
        return refuse(written.error());
    }
    std::vector<std::filesystem::path> packs{out};
    for (const std::string& pack : call.all("--pack")) packs.emplace_back(pack);
    Outcome outcome;
    outcome.problems = book::check_packs(packs);
    outcome.page_despite_problems = true;
    if (!call.json()) {
        outcome.page = page_of(*merged, out);
        return outcome;
    }
    auto conflicts = nlohmann::ordered_json::array();
    for (const book::MergeConflict& one : merged->conflicts)
        conflicts.push_back({{"table", one.table},
                             {"row", one.row},
                             {"column", one.column},
                             {"base", one.base},
                             {"mine", one.mine},
                             {"theirs", one.theirs},
                             {"kept", one.kept}});
    outcome.page = json_line({{"out", out},
                              {"taken", merged->taken},
                              {"conflicts", std::move(conflicts)},
                              {"notes", merged->notes},
                              {"problems", problems_json(outcome.problems)["problems"]}});
    return outcome;
}

}  // namespace

Command merge_command() {
    Option packs = pack_option(false);
    packs.sentence = "Another pack that the merged one refers to; may be repeated.";
    return {
        .name = "merge",
        .sentence = "Brings two people's edits of one reference pack together.",
        .detail = {"What only one changed is taken from that one. Where both changed one cell in two ways, mine "
                   "stays in the row, and both become statements for and against, with their sources. The merged "
                   "pack is a copy of mine with these edits; it is written whole, then checked, and its faults are "
                   "told with exit status 2."},
        .arguments = {{.name = "BASE", .sentence = "The pack as both had it.", .takes = Takes::kFolder},
                      {.name = "MINE", .sentence = "The pack as one has it.", .takes = Takes::kFolder},
                      {.name = "THEIRS", .sentence = "The pack as the other has it.", .takes = Takes::kFolder}},
        .options = {{.name = "--out",
                     .value = "DIR",
                     .sentence = "Where the merged pack goes; a folder that is not there yet.",
                     .takes = Takes::kFolder,
                     .required = true},
                    std::move(packs)},
        .run = merge};
}

}  // namespace footring::cli

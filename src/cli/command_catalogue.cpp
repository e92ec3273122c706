// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "book/catalogue.h"
#include "book/pack_edit.h"
#include "book/pack_writer.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/mapping.h"
#include "cli/progress.h"
#include "exchange/spreadsheet.h"

namespace footring::cli {

namespace {

std::string page_of(const book::Catalogue& list, bool dry_run) {
    std::string text = fmt::format("{}{} added, {} changed, {} already there, {} left out\n",
                                   dry_run ? "nothing was written; it would be: " : "", list.added, list.changed,
                                   list.same, list.skipped);
    for (const book::MatchedColumn& one : list.columns)
        if (one.field.empty()) text += fmt::format("column '{}' was not taken\n", one.column);
    return text;
}

Outcome catalogue(const Call& call, World& world) {
    std::vector<Problem> problems;
    std::vector<std::filesystem::path> folders;
    for (const std::string& folder : call.all("--pack")) folders.emplace_back(folder);
    if (!call.has("--dry-run"))
        if (auto finished = book::finish_edit(folders.front()); !finished) return refuse(finished.error());
    const auto opened = book::open_packs(folders);
    if (!opened) problems = opened.error();
    ProgressLine line(world);
    book::CatalogueOptions options{.mapping = read_mapping(call, book::catalogue_fields(), problems),
                                   .source = call.one("--source").value_or(""),
                                   .told = {}};
    if (const auto told = line.told())
        options.told = [told](std::size_t done, std::size_t of) { return told(exchange::kReading, done, of); };
    const std::string& path = call.arguments[0];
    auto bytes = read_file_or_stdin(path, world);
    const std::string where = path == "-" ? "standard input" : path;
    auto text =
        bytes ? exchange::table_text(std::move(*bytes), where, call.one("--sheet").value_or("")) : std::move(bytes);
    if (!text) problems.push_back(text.error());
    if (!problems.empty()) return refuse(std::move(problems));

    const book::Table& table = *book::table_named("treatments");
    const auto file = book::table_text(folders.front(), table);
    if (!file) return refuse(file.error());
    const std::string& pack = opened->book.packs.front().id;
    const auto rows = book::rows_of_text(file->text, file->delimiter);
    const book::Catalogue list = book::read_catalogue(*text, where, opened->book, pack, rows, options);
    Outcome outcome;
    outcome.problems = list.problems;
    const bool keep = list.problems.empty() || call.has("--keep-good");
    if (keep || call.has("--dry-run")) {
        const auto edited =
            book::edit_packs(opened->folders, opened->ids(), opened->files, {pack, list.edits, {}, true});
        for (const book::EditFault& fault : edited.faults) outcome.problems.push_back(fault.problem);
        if (!edited.faults.empty()) return refuse(std::move(outcome.problems));
        if (!call.has("--dry-run"))
            if (auto written = book::write_pack(edited.folder, edited.files); !written)
                return refuse(written.error());
    } else {
        return refuse(std::move(outcome.problems));
    }
    outcome.page_despite_problems = true;
    if (!call.json()) {
        outcome.page = page_of(list, call.has("--dry-run"));
        return outcome;
    }
    auto columns = nlohmann::ordered_json::array();
    for (const book::MatchedColumn& one : list.columns)
        columns.push_back(
            {{"column", one.column},
             {"field", one.field.empty() ? nlohmann::ordered_json() : nlohmann::ordered_json(one.field)}});
    outcome.page = json_line({{"added", list.added},
                              {"changed", list.changed},
                              {"unchanged", list.same},
                              {"skipped", list.skipped},
                              {"problems", problems_json(list.problems)["problems"]},
                              {"columns", std::move(columns)}});
    return outcome;
}

}  // namespace

Command catalogue_command() {
    Option packs = pack_option();
    packs.sentence = "The pack that the list goes into; further ones are those it refers to.";
    return {
        .name = "catalogue",
        .sentence = "Reads a list of treatments (CSV, TSV, XLSX, ODS) into a reference pack.",
        .detail =
            {"Columns are known by their headings or by --map; shapes, glazes and sources may be written by name. "
             "A "
             "treatment that the pack has already, by its id or by shape and number, is changed where the list "
             "says something; the others are added. When one row is wrong nothing is written, unless --keep-good "
             "is given; every fault is told either way, and the exit status is 2."},
        .arguments = {{.name = "FILE", .sentence = "The list; - is standard input.", .takes = Takes::kFile}},
        .options = {std::move(packs),
                    {.name = "--source",
                     .value = "ID",
                     .sentence = "The source of rows that name none; every new row needs one."},
                    {.name = "--map",
                     .value = "COLUMN=FIELD",
                     .sentence = "What a column of the list is; nothing after = leaves it out.",
                     .repeats = true},
                    {.name = "--sheet",
                     .value = "NAME",
                     .sentence = "Which sheet of a workbook; the first with anything in it when absent."},
                    {.name = "--dry-run", .value = "", .sentence = "Tells what would happen and writes nothing."},
                    {.name = "--keep-good",
                     .value = "",
                     .sentence = "Writes the good rows although others are wrong."}},
        .run = catalogue};
}

}  // namespace footring::cli

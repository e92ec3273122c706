// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "exchange/cupboard.h"
#include "exchange/spreadsheet.h"

namespace footring::cli {

namespace {

using exchange::Format;

std::optional<Format> format_of(const Call& call, const std::string& path) {
    if (const auto given = call.one("--format")) return *given == "json" ? Format::kJson : Format::kCsv;
    const std::string extension = lower(std::filesystem::path(path).extension().string());
    if (extension == ".json") return Format::kJson;
    constexpr std::string_view kTables[] = {".csv", ".tsv", ".txt", ".xlsx", ".ods"};
    if (std::ranges::find(kTables, extension) != std::end(kTables)) return Format::kCsv;
    return std::nullopt;
}

std::map<std::string, std::string> read_mapping(const Call& call, std::vector<Problem>& problems) {
    std::map<std::string, std::string> mapping;
    for (const std::string& pair : call.all("--map")) {
        // The last '=', because a column may have one in its name and a field never has.
        const std::size_t equals = pair.rfind('=');
        if (equals == std::string::npos || equals == 0) {
            problems.push_back({ProblemCode::kBadInput, "--map", fmt::format("'{}' is not COLUMN=FIELD", pair),
                                "write --map \"Column of the file=field\", or --map COLUMN= to leave it out"});
            continue;
        }
        const std::string column = pair.substr(0, equals), field = pair.substr(equals + 1);
        const auto& fields = exchange::csv_fields();
        if (!field.empty() && std::ranges::find(fields, field) == fields.end())
            problems.push_back({ProblemCode::kBadInput, "--map", fmt::format("there is no field '{}'", field),
                                did_you_mean(field, fields, "docs/pieces.md lists the fields")});
        else if (!mapping.emplace(column, field).second)
            problems.push_back({ProblemCode::kBadInput, "--map", fmt::format("column '{}' is mapped twice", column),
                                "map it once"});
    }
    return mapping;
}

nlohmann::ordered_json imported_json(const exchange::Imported& done) {
    auto preview = nlohmann::ordered_json::array(), columns = nlohmann::ordered_json::array();
    for (const looks::Piece& piece : done.preview) preview.push_back(looks::to_json(piece));
    for (const exchange::Column& column : done.columns)
        columns.push_back({{"column", column.column},
                           {"field", column.field.empty() ? nlohmann::ordered_json(nullptr)
                                                          : nlohmann::ordered_json(column.field)}});
    return {{"added", done.added},
            {"changed", done.changed},
            {"unchanged", done.unchanged},
            {"skipped", done.skipped},
            {"problems", problems_json(done.problems)["problems"]},
            {"preview", std::move(preview)},
            {"columns", std::move(columns)}};
}

std::string imported_page(const exchange::Imported& done, bool dry_run) {
    std::string text = fmt::format("{}{} added, {} changed, {} already there, {} left out\n",
                                   dry_run ? "nothing was stored; it would be: " : "", done.added, done.changed,
                                   done.unchanged, done.skipped);
    for (const exchange::Column& column : done.columns)
        if (column.field.empty()) text += fmt::format("column '{}' was not taken\n", column.column);
    return text;
}

Outcome import(const Call& call, World& world) {
    const auto reference = open_reference(call);
    std::vector<Problem> problems;
    if (!reference) problems = reference.error();
    const std::string& path = call.arguments[0];
    std::error_code error;
    const bool folder = path != "-" && std::filesystem::is_directory(path, error);
    exchange::ImportOptions options;
    options.dry_run = call.has("--dry-run");
    options.keep_good = call.has("--keep-good");
    options.today = utc_now();
    options.mapping = read_mapping(call, problems);
    std::string text;
    if (!folder) {
        auto read = read_file_or_stdin(path, world);
        auto table = read ? exchange::table_text(std::move(*read), path == "-" ? "standard input" : path,
                                                 call.one("--sheet").value_or(""))
                          : std::move(read);
        if (table) text = std::move(*table);
        else problems.push_back(table.error());
        const auto format = format_of(call, path);
        if (format) options.format = *format;
        else if (table)
            problems.push_back({ProblemCode::kBadInput, path == "-" ? "standard input" : path,
                                "its name does not tell whether it is CSV or JSON",
                                "add --format csv or --format json"});
    }
    if (!problems.empty()) return refuse(std::move(problems));
    auto store = open_cupboard(call, world, options.dry_run ? WhenMissing::kPretend : WhenMissing::kMake);
    if (!store) return refuse(store.error());
    const auto done = folder ? exchange::import_folder(**store, &reference->book, path, options)
                             : exchange::import_pieces(**store, &reference->book, text,
                                                       path == "-" ? "standard input" : path, options);
    if (!done) return refuse(done.error());
    Outcome outcome = page(call.json() ? json_line(imported_json(*done)) : imported_page(*done, options.dry_run));
    outcome.problems = done->problems;
    outcome.page_despite_problems = true;
    return outcome;
}

}  // namespace

Command import_command() {
    return {
        .name = "import",
        .sentence = "Reads pieces from a spreadsheet (CSV, TSV, XLSX, ODS), from JSON, or from a cupboard folder.",
        .detail =
            {"A piece whose id is there already is changed: fields that the file does not have stay as they are. "
             "When one row is wrong nothing is stored, unless --keep-good is given; every fault is reported "
             "either way, and the exit status is 2."},
        .arguments = {{.name = "FILE",
                       .sentence = "The file or cupboard folder; - is standard input.",
                       .takes = Takes::kFile}},
        .options = {cupboard_option(),
                    pack_option(),
                    {.name = "--format",
                     .value = "FORMAT",
                     .sentence = "What the file is, when its name does not tell.",
                     .takes = Takes::kChoice,
                     .choices = {"csv", "json"}},
                    {.name = "--sheet",
                     .value = "NAME",
                     .sentence = "Which sheet of a workbook; the first with anything in it when absent."},
                    {.name = "--map",
                     .value = "COLUMN=FIELD",
                     .sentence = "Takes a column of the file for a field; nothing after = leaves the column out.",
                     .repeats = true},
                    {.name = "--dry-run", .value = "", .sentence = "Tells what would happen and stores nothing."},
                    {.name = "--keep-good",
                     .value = "",
                     .sentence = "Stores the good rows although others are wrong."}},
        .run = import};
}

}  // namespace footring::cli

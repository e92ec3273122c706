// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "base/json.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/mapping.h"
#include "cli/progress.h"
#include "cli/reference.h"
#include "exchange/cupboard.h"
#include "exchange/mappings.h"
#include "exchange/sales.h"
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

nlohmann::ordered_json columns_json(const std::vector<exchange::Column>& columns) {
    return json_list(columns, [](const exchange::Column& column) {
        return nlohmann::ordered_json{{"column", column.column},
                                      {"field", column.field.empty() ? nlohmann::ordered_json(nullptr)
                                                                     : nlohmann::ordered_json(column.field)}};
    });
}

nlohmann::ordered_json imported_json(const exchange::Imported& done) {
    return {
        {"added", done.added},
        {"changed", done.changed},
        {"unchanged", done.unchanged},
        {"skipped", done.skipped},
        {"others",
         {{"added", done.others.added}, {"changed", done.others.changed}, {"unchanged", done.others.unchanged}}},
        {"problems", problems_json(done.problems)["problems"]},
        {"preview",
         json_list(done.preview, [](const store::PieceRecord& one) { return looks::to_json(one.piece); })},
        {"columns", columns_json(done.columns)}};
}

template <class Done>
std::string counts(const Done& done, bool dry_run) {
    return fmt::format("{}{} added, {} changed, {} already there, {} left out\n",
                       dry_run ? "nothing was stored; it would be: " : "", done.added, done.changed, done.unchanged,
                       done.skipped);
}
std::string columns_left(const std::vector<exchange::Column>& columns) {
    std::string text;
    for (const exchange::Column& column : columns)
        if (column.field.empty()) text += fmt::format("column '{}' was not taken\n", column.column);
    return text;
}

std::string imported_page(const exchange::Imported& done, bool dry_run) {
    std::string text = counts(done, dry_run);
    if (done.others.added + done.others.changed > 0)
        text += fmt::format("besides pieces (sales, services, letters): {} added, {} changed, {} already there\n",
                            done.others.added, done.others.changed, done.others.unchanged);
    return text + columns_left(done.columns);
}

// What the table is to become, read from a file: its text, and how its columns are understood.
struct Source {
    std::string where, text;
    bool json = false;
};

Expected<Source> source_of(const Call& call, World& world) {
    const std::string& path = call.arguments[0];
    Source out;
    out.where = path == "-" ? "standard input" : path;
    auto read = read_file_or_stdin(path, world, kMostTableBytes);
    if (!read) return std::unexpected(read.error());
    auto table = exchange::table_text(std::move(*read), out.where, call.one("--sheet").value_or(""));
    if (!table) return std::unexpected(table.error());
    out.text = std::move(*table);
    const auto format = format_of(call, path);
    if (!format)
        return fail(ProblemCode::kBadInput, out.where, "its name does not tell whether it is CSV or JSON",
                    "add --format csv or --format json");
    out.json = *format == Format::kJson;
    return out;
}

// As the person says, else as the same list was understood the last time.
Expected<book::Mapping> mapping_for(const store::Store& store, std::string_view of, std::string_view text,
                                    book::Mapping said) {
    if (!said.empty()) return said;
    auto known = exchange::remembered(store, of, book::headings_of(text));
    if (!known) return std::unexpected(known.error());
    return *known ? std::move(**known) : book::Mapping{};
}

template <class Done>
Outcome told(const Call& call, nlohmann::ordered_json json, std::string text, const Done& done) {
    Outcome outcome = page(call.json() ? json_line(json) : std::move(text));
    outcome.problems = done.problems;
    outcome.page_despite_problems = true;
    return outcome;
}

Outcome import_sales_table(const Call& call, World& world, const Reference& reference, Source source,
                           book::Mapping said) {
    const bool dry_run = call.has("--dry-run");
    auto store = open_cupboard(call, world, dry_run ? WhenMissing::kPretend : WhenMissing::kMake);
    if (!store) return refuse(store.error());
    if (source.json)
        return refuse({ProblemCode::kBadInput, source.where, "sales come as a table",
                       "give CSV, TSV, XLSX or ODS; JSON that `footring export` wrote is imported without --as"});
    auto mapping = mapping_for(**store, "sales", source.text, std::move(said));
    if (!mapping) return refuse(mapping.error());
    ProgressLine line(world);
    exchange::SalesImport options{{std::move(*mapping), call.one("--currency").value_or(""), utc_now()},
                                  dry_run,
                                  call.has("--keep-good"),
                                  line.told(),
                                  true};
    const auto done = exchange::import_sales(**store, &reference.book, source.text, source.where, options);
    if (!done) return refuse(done.error());
    std::string text = counts(*done, dry_run);
    for (const exchange::Duplicate& one : done->duplicates)
        text += fmt::format("{}: left out: {}\n", one.where, one.what);
    for (const std::string& note : done->notes) text += note + "\n";
    text += columns_left(done->columns);
    return told(
        call,
        {{"added", done->added},
         {"changed", done->changed},
         {"unchanged", done->unchanged},
         {"skipped", done->skipped},
         {"duplicates", json_list(done->duplicates,
                                  [](const exchange::Duplicate& one) {
                                      return nlohmann::ordered_json{{"where", one.where}, {"what", one.what}};
                                  })},
         {"notes", done->notes},
         {"problems", problems_json(done->problems)["problems"]},
         {"preview", json_list(done->preview, [](const worth::Sale& s) { return worth::sale_json(s); })},
         {"columns", columns_json(done->columns)}},
        std::move(text), *done);
}

Outcome import(const Call& call, World& world) {
    const auto reference = open_reference(call);
    std::vector<Problem> problems;
    if (!reference) problems = reference.error();
    const std::string& path = call.arguments[0];
    const bool sales = call.one("--as").value_or("pieces") == "sales";
    std::error_code error;
    const bool folder = path != "-" && std::filesystem::is_directory(path, error);
    const std::vector<std::string> fields = sales ? exchange::sale_field_names() : exchange::csv_fields();
    book::Mapping said = read_mapping(call, fields, problems);
    Source source{path, {}, false};
    if (folder && sales)
        problems.push_back({ProblemCode::kBadInput, path, "a folder is no table of sales",
                            "name the file, or leave --as out: sales.csv of a cupboard folder comes with it"});
    else if (!folder) {
        auto read = source_of(call, world);
        if (read) source = std::move(*read);
        else problems.push_back(std::move(read.error()));
    }
    if (!problems.empty()) return refuse(std::move(problems));
    if (sales) return import_sales_table(call, world, *reference, std::move(source), std::move(said));

    exchange::ImportOptions options;
    options.dry_run = call.has("--dry-run");
    auto store = open_cupboard(call, world, options.dry_run ? WhenMissing::kPretend : WhenMissing::kMake);
    if (!store) return refuse(store.error());
    options.format = source.json ? Format::kJson : Format::kCsv;
    options.keep_good = call.has("--keep-good");
    options.today = utc_now();
    options.remember = true;
    const bool table = !folder && !source.json;
    if (table) {
        auto mapping = mapping_for(**store, "pieces", source.text, std::move(said));
        if (!mapping) return refuse(mapping.error());
        options.mapping = std::move(*mapping);
    }
    std::expected<exchange::Imported, std::vector<Problem>> done;
    {
        ProgressLine line(world);
        options.told = line.told();
        done = folder ? exchange::import_folder(**store, &reference->book, path, options)
                      : exchange::import_pieces(**store, &reference->book, source.text, source.where, options);
    }
    if (!done) return refuse(done.error());
    return told(call, imported_json(*done), imported_page(*done, options.dry_run), *done);
}

}  // namespace

Command import_command() {
    return {
        .name = "import",
        .sentence =
            "Reads pieces or sales from a spreadsheet (CSV, TSV, XLSX, ODS), and exports and cupboard folders.",
        .detail =
            {"A piece whose id is there already is changed: fields that the file does not have stay as they are. "
             "When one row is wrong nothing is stored, unless --keep-good is given; every fault is reported "
             "either way, and the exit status is 2.",
             "How the columns of a table were understood is kept with the pieces: a list with the same headings is "
             "understood so again, unless --map is given. Treatments are read with `footring catalogue`."},
        .arguments = {{.name = "FILE",
                       .sentence = "The file or cupboard folder; - is standard input.",
                       .takes = Takes::kFile}},
        .options = {cupboard_option(),
                    pack_option(),
                    {.name = "--as",
                     .value = "WHAT",
                     .sentence = "What a table holds: pieces or sales; pieces when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"pieces", "sales"}},
                    {.name = "--currency",
                     .value = "CODE",
                     .sentence = "Of sales that name none: an ISO 4217 code, such as USD."},
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

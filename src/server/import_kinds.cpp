// SPDX-License-Identifier: Apache-2.0
#include "server/import_kinds.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/json.h"
#include "base/text.h"
#include "book/catalogue.h"
#include "exchange/csv_fields.h"
#include "exchange/cupboard.h"
#include "exchange/json_text.h"
#include "exchange/mappings.h"
#include "exchange/sales.h"
#include "server/app.h"
#include "server/records.h"
#include "worth/currencies.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;
using Outcome = std::expected<std::optional<ordered_json>, Problems>;

constexpr std::size_t kMostShown = 20;       // rows of a preview
constexpr std::size_t kMostProblems = 5000;  // a list of 100,000 faults is of no use to a person, and 20 MB

struct Source {
    std::string where;  // as problems call the table
    std::string_view text;
    bool json = false;
    book::Mapping mapping;
    bool remembered = false;  // the mapping is that of the last time
};

// What every kind answers; the caller fills in the rest.
ordered_json result_json(int added, int changed, int unchanged, int skipped, const Source& source,
                         const std::vector<book::MatchedColumn>& columns, const Problems& problems) {
    const auto shown = std::span(problems).first(std::min(problems.size(), kMostProblems));
    return {{"added", added},
            {"changed", changed},
            {"unchanged", unchanged},
            {"skipped", skipped},
            {"others", 0},
            {"faults", problems.size()},
            {"problems", json_list(shown, exchange::problem_json)},
            {"remembered", source.remembered},
            {"columns", json_list(columns,
                                  [](const book::MatchedColumn& one) {
                                      return ordered_json{
                                          {"column", one.column},
                                          {"field", one.field.empty() ? ordered_json() : ordered_json(one.field)}};
                                  })},
            {"duplicates", ordered_json::array()},
            {"notes", ordered_json::array()},
            {"preview", ordered_json::array()}};
}

template <class Cells>
ordered_json filled(const Cells& cells, const std::vector<std::string>& order) {
    ordered_json out = ordered_json::object();
    for (const std::string& field : order)
        if (const auto cell = cells.find(field); cell != cells.end() && !cell->second.empty())
            out[field] = cell->second;
    return out;
}

Problems cut(Problems problems) {
    if (problems.size() <= kMostProblems) return problems;
    const std::size_t more = problems.size() - kMostProblems;
    problems.resize(kMostProblems);
    problems.push_back({ProblemCode::kBadInput, problems.front().where.substr(0, problems.front().where.find(':')),
                        fmt::format("there are {} more faults", more), "mend these first"});
    return problems;
}

Outcome into_pieces(App& app, BookEditor&, const Source& source, const ImportAsk& ask, const exchange::Told& told) {
    const exchange::ImportOptions options{source.json ? exchange::Format::kJson : exchange::Format::kCsv,
                                          ask.dry_run,
                                          ask.keep_good,
                                          source.mapping,
                                          app.now(),
                                          told,
                                          true};
    std::unique_lock lock(app.changing, std::defer_lock);
    if (!ask.dry_run) lock.lock();
    auto done = exchange::import_pieces(*app.store, &app.book, source.text, source.where, options);
    if (!done) return refuse(cut(std::move(done.error())));
    if (done->stopped) return std::nullopt;
    if (!ask.dry_run) note_change(app);
    ordered_json out = result_json(done->added, done->changed, done->unchanged, done->skipped, source,
                                   done->columns, done->problems);
    out["others"] = done->others.added + done->others.changed;
    out["preview"] = json_list(done->preview, [](const store::PieceRecord& record) {
        return filled(exchange::cells_of(record), exchange::csv_fields());
    });
    return out;
}

Outcome into_sales(App& app, BookEditor&, const Source& source, const ImportAsk& ask, const exchange::Told& told) {
    exchange::SalesImport options{{source.mapping, "", app.now()}, ask.dry_run, ask.keep_good, told, true};
    if (!ask.currency.empty()) {
        const auto code = worth::read_currency(ask.currency, "body: /currency");
        if (!code) return refuse(code.error());
        options.reading.currency = *code;
    }
    std::unique_lock lock(app.changing, std::defer_lock);
    if (!ask.dry_run) lock.lock();
    auto done = exchange::import_sales(*app.store, &app.book, source.text, source.where, options);
    if (!done) return refuse(cut(std::move(done.error())));
    if (done->stopped) return std::nullopt;
    ordered_json out = result_json(done->added, done->changed, done->unchanged, done->skipped, source,
                                   done->columns, done->problems);
    out["duplicates"] = json_list(done->duplicates, [](const exchange::Duplicate& one) {
        return ordered_json{{"where", one.where}, {"what", one.what}};
    });
    out["notes"] = done->notes;
    const auto fields = exchange::sale_field_names();
    out["preview"] = json_list(done->preview, [&](const worth::Sale& sale) {
        const auto cells = exchange::sale_cells(sale);
        ordered_json row = ordered_json::object();
        for (std::size_t at = 0; at < fields.size(); ++at)
            if (!cells[at].empty()) row[fields[at]] = cells[at];
        return row;
    });
    return out;
}

Outcome into_treatments(App& app, BookEditor& editor, const Source& source, const ImportAsk& ask,
                        const exchange::Told& told) {
    const book::Table& table = *book::table_named("treatments");
    const auto file = editor.table(ask.pack, table);
    if (!file) return refuse(file.error());
    book::CatalogueOptions options{source.mapping, ask.source, {}};
    options.told = [&](std::size_t done, std::size_t of) { return told(exchange::kReading, done, of); };
    const auto rows = book::rows_of_text(file->text, file->delimiter);
    auto list = book::read_catalogue(source.text, source.where, app.book, ask.pack, rows, options);
    if (!told(exchange::kComparing, 0, list.edits.size())) return std::nullopt;
    if (!list.problems.empty() && !ask.keep_good && !ask.dry_run) return refuse(cut(std::move(list.problems)));
    ordered_json preview = ordered_json::array();
    for (const book::RowEdit& edit : std::span(list.edits).first(std::min(list.edits.size(), kMostShown)))
        preview.push_back(filled(edit.cells, book::catalogue_fields()));
    Problems problems = std::move(list.problems);
    std::vector<std::string> notes;
    if (!list.edits.empty()) {
        if (!ask.dry_run && !told(exchange::kStoring, 0, list.edits.size())) return std::nullopt;
        std::string what =
            fmt::format("Treatments of {}: {} added, {} changed.", source.where, list.added, list.changed);
        const auto done = editor.edit({ask.pack, std::move(list.edits), {}, true}, std::move(what), ask.dry_run);
        if (!done) return refuse(cut(done.error()));
        for (const book::EditFault& fault : done->edited.faults) problems.push_back(fault.problem);
        notes = done->edited.notes;
    }
    ordered_json out =
        result_json(list.added, list.changed, list.same, list.skipped, source, list.columns, problems);
    out["notes"] = notes;
    out["preview"] = std::move(preview);
    return out;
}

ordered_json fields_of_pieces() {
    return json_list(exchange::csv_fields(), [](const std::string& field) {
        return ordered_json{{"field", field}, {"sentence", ""}};
    });
}
ordered_json fields_of_sales() {
    return json_list(exchange::sale_fields(), [](const exchange::SaleField& one) {
        return ordered_json{{"field", one.name}, {"sentence", one.sentence}};
    });
}
ordered_json fields_of_treatments() {
    return json_list(book::table_named("treatments")->columns, [](const book::Column& one) {
        return ordered_json{{"field", one.name}, {"sentence", one.sentence}};
    });
}

struct ImportKind {
    std::string_view into;
    ordered_json (*fields)();
    Outcome (*run)(App&, BookEditor&, const Source&, const ImportAsk&, const exchange::Told&);
};
constexpr std::array kKinds = {ImportKind{"pieces", fields_of_pieces, into_pieces},
                               ImportKind{"sales", fields_of_sales, into_sales},
                               ImportKind{"treatments", fields_of_treatments, into_treatments}};

}  // namespace

ordered_json import_fields() {
    ordered_json out = ordered_json::object();
    for (const ImportKind& kind : kKinds) out[std::string(kind.into)] = kind.fields();
    return out;
}

bool is_import_kind(std::string_view into) {
    return std::ranges::find(kKinds, into, &ImportKind::into) != kKinds.end();
}

Outcome run_import(App& app, BookEditor& editor, const ImportTable& table, const ImportAsk& ask,
                   const exchange::Told& told) {
    const auto kind = std::ranges::find(kKinds, ask.into, &ImportKind::into);
    if (table.json && ask.into != "pieces")
        return refuse(ProblemCode::kBadInput, table.name, fmt::format("{} come as a table, not as JSON", ask.into),
                      "give CSV, TSV, XLSX or ODS");
    const auto sheet = ask.sheet.empty() ? table.sheets.begin()
                                         : std::ranges::find(table.sheets, ask.sheet, &exchange::SheetText::name);
    if (sheet == table.sheets.end())
        return refuse(ProblemCode::kNotFound, table.name, fmt::format("it has no sheet '{}'", ask.sheet),
                      "choose one of its sheets");
    Source source{table.name, sheet->csv, table.json, ask.mapping.value_or(book::Mapping{})};
    if (!ask.mapping && !table.json) {
        auto known = exchange::remembered(*app.store, ask.into, book::headings_of(source.text));
        if (!known) return refuse(known.error());
        source.remembered = known->has_value();
        if (*known) source.mapping = std::move(**known);
    }
    return kind->run(app, editor, source, ask, told);
}

}  // namespace footring::server

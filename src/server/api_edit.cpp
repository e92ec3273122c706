// The Book edited: the tables of packs as they stand in their files, edits of them checked as one types and written
// whole, their history, and what a date says. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/json.h"
#include "base/text.h"
#include "book/glyph.h"
#include "edtf/edtf.h"
#include "exchange/json_text.h"
#include "server/app.h"
#include "server/base64.h"
#include "server/book_editor.h"
#include "server/desk.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::string_view name_of(book::CellType type) {
    constexpr std::array<std::string_view, 14> kNames = {"id",    "text",    "ref",     "refs",   "shapes",
                                                         "on",    "subject", "word",    "finish", "number",
                                                         "whole", "edtf",    "drawing", "pattern"};
    const auto at = static_cast<std::size_t>(type);
    return at < kNames.size() ? kNames[at] : "json";
}

ordered_json column_json(const book::Column& column) {
    ordered_json out = {{"name", column.name},
                        {"type", name_of(column.type)},
                        {"required", column.required},
                        {"refers", split(column.refers, '|')},
                        {"words", book::words_of(column)},
                        {"lowest", nullptr},
                        {"highest", nullptr},
                        {"sentence", column.sentence}};
    if (column.type == book::CellType::kNumber || column.type == book::CellType::kWhole)
        out["lowest"] = column.lowest, out["highest"] = column.highest;
    return out;
}

template <class T>
ordered_json or_none(const std::optional<T>& value) {
    return value ? ordered_json(*value) : ordered_json();
}

Answered editing(BookEditor& editor, App& app, const Request&) {
    ordered_json packs = ordered_json::array(), tables = ordered_json::array();
    const auto states = editor.states();
    for (const BookEditor::State& state : states) {
        const auto pack = std::ranges::find(app.book.packs, state.pack, &book::Pack::id);
        packs.push_back(
            {{"id", state.pack},
             {"title", pack == app.book.packs.end() ? state.pack : pack->title},
             {"digest", pack == app.book.packs.end() ? "" : pack->digest},
             {"folder", state.folder.generic_string()},
             {"editable", !state.why_not},
             {"why_not", or_none(state.why_not)},
             {"copies_to", state.copies_to ? ordered_json(state.copies_to->generic_string()) : ordered_json()}});
    }
    for (const book::Table& table : book::all_tables())
        tables.push_back({{"name", table.name},
                          {"sentence", table.sentence},
                          {"has_id", table.has_id()},
                          {"columns", json_list(table.columns, column_json)}});
    return json_reply({{"packs", packs}, {"tables", tables}});
}

std::expected<const book::Table*, Problems> table_named(const std::string& name) {
    if (const book::Table* table = book::table_named(name)) return table;
    std::vector<std::string> known;
    for (const book::Table& table : book::all_tables()) known.emplace_back(table.name);
    return refuse(ProblemCode::kNotFound, "address", fmt::format("packs have no table '{}'", name),
                  did_you_mean(name, known, fmt::format("use one of {}", fmt::join(known, ", "))));
}

// Rows as they stand in the file: for forms and for tables that have no page of their own.
Answered rows(BookEditor& editor, App&, const Request& request) {
    constexpr int kMostRows = 1000;
    const auto table = table_named(request.values[1]);
    if (!table) return refuse(table.error());
    const auto limit = query_int(request, "limit", 100, 0, kMostRows);
    if (!limit) return refuse(limit.error());
    const auto offset = query_int(request, "offset", 0, 0, 1'000'000'000);
    if (!offset) return refuse(offset.error());
    const auto line = query_int(request, "line", 0, 0, 1'000'000'000);
    if (!line) return refuse(line.error());
    const std::string first = query_text(request, "first");
    const std::vector<std::string> words = split(lower(query_text(request, "q")), ' ');
    const auto text = editor.table(request.values[0], **table);
    if (!text) return refuse(text.error());
    const std::string key((*table)->columns.front().name);
    ordered_json out = ordered_json::array();
    int total = 0;
    for (const book::TextRow& row : book::rows_of_text(text->text, text->delimiter)) {
        if (*line != 0 && row.line != static_cast<std::uint32_t>(*line)) continue;
        if (!first.empty() && (!row.cells.contains(key) || row.cells.at(key) != first)) continue;
        if (!words.empty()) {
            std::string all;
            for (const auto& [column, cell] : row.cells) all += lower(cell) + " ";
            if (!std::ranges::all_of(words, [&](const std::string& w) { return all.find(w) != all.npos; }))
                continue;
        }
        if (total >= *offset && total < *offset + *limit) out.push_back({{"line", row.line}, {"cells", row.cells}});
        ++total;
    }
    return json_reply({{"rows", out}, {"total", total}});
}

std::unexpected<Problems> wrong(std::string where, std::string what, std::string remedy) {
    return refuse(ProblemCode::kBadInput, std::move(where), std::move(what), std::move(remedy));
}

std::expected<book::Cells, Problems> cells_member(const json& row, const char* name, const std::string& where) {
    book::Cells out;
    const auto cells = row.find(name);
    if (cells == row.end() || cells->is_null()) return out;
    if (!cells->is_object()) return wrong(where, fmt::format("{} is no object", name), "give column and text");
    for (const auto& [column, text] : cells->items()) {
        if (!text.is_string())
            return wrong(where, fmt::format("the cell {} is no text", column), "write numbers as text too");
        out.emplace(column, trim(text.get<std::string>()));
    }
    return out;
}

std::expected<book::RowEdit, Problems> row_member(const json& row, const std::string& where) {
    if (!row.is_object()) return wrong(where, "this is no edit", "give {table, do, line, was, cells}");
    book::RowEdit out;
    const auto table = text_member(row, "table");
    if (!table) return refuse(table.error());
    out.table = *table;
    const auto act = text_member(row, "do");
    if (!act) return refuse(act.error());
    if (*act == "add") out.act = book::RowEdit::Do::kAdd;
    else if (*act == "change") out.act = book::RowEdit::Do::kChange;
    else if (*act == "remove") out.act = book::RowEdit::Do::kRemove;
    else return wrong(where, fmt::format("'{}' cannot be done to a row", *act), "use add, change or remove");
    if (const auto line = row.find("line"); line != row.end() && !line->is_null()) {
        if (!line->is_number_unsigned() || line->get<std::uint64_t>() > 1'000'000'000)
            return wrong(where, "line is no line", "give the line at which the row begins");
        out.line = line->get<std::uint32_t>();
    }
    auto was = cells_member(row, "was", where);
    if (!was) return refuse(std::move(was.error()));
    auto cells = cells_member(row, "cells", where);
    if (!cells) return refuse(std::move(cells.error()));
    out.was = std::move(*was);
    out.cells = std::move(*cells);
    return out;
}

std::expected<book::NewFile, Problems> file_member(const json& file, const std::string& where) {
    if (!file.is_object()) return wrong(where, "this is no file", "give {path, text} or {path, base64}");
    const auto path = text_member(file, "path");
    if (!path) return refuse(path.error());
    const auto text = text_member(file, "text");
    if (!text) return refuse(text.error());
    const auto coded = text_member(file, "base64");
    if (!coded) return refuse(coded.error());
    if (coded->empty()) return book::NewFile{*path, *text};
    auto bytes = from_base64(*coded);
    if (!bytes) return wrong(where, "base64 is not well-formed", "give the bytes of the file in base64");
    return book::NewFile{*path, std::move(*bytes)};
}

std::expected<book::PackEdit, Problems> edit_of(const json& body) {
    constexpr std::size_t kMostRows = 100'000;
    book::PackEdit edit;
    const auto pack = text_member(body, "pack");
    if (!pack) return refuse(pack.error());
    edit.pack = *pack;
    const json none = json::array();
    const json& rows = body.contains("rows") ? body["rows"] : none;
    const json& files = body.contains("files") ? body["files"] : none;
    if (!rows.is_array() || !files.is_array() || rows.size() > kMostRows)
        return wrong("body", "rows or files is no list, or too long", "give lists of edits and of drawings");
    for (std::size_t i = 0; i < rows.size(); ++i) {
        auto row = row_member(rows[i], fmt::format("body: rows/{}", i));
        if (!row) return refuse(std::move(row.error()));
        edit.rows.push_back(std::move(*row));
    }
    for (std::size_t i = 0; i < files.size(); ++i) {
        auto file = file_member(files[i], fmt::format("body: files/{}", i));
        if (!file) return refuse(std::move(file.error()));
        edit.files.push_back(std::move(*file));
    }
    return edit;
}

// The treatment or the ornament as the edit would have it, drawn.
ordered_json picture_of(const book::Book& book, const json& body) {
    const auto show = body.find("show");
    if (show == body.end() || !show->is_object()) return nullptr;
    const auto named = [&](const char* name) {
        const auto value = show->find(name);
        return value != show->end() && value->is_string() ? value->get<std::string>() : std::string();
    };
    if (const std::string id = named("treatment"); !id.empty()) {
        const auto treatment = book::find<book::Treatment>(book, id, "show");
        const auto form = book::find<book::Form>(book, named("form"), "show");
        if (treatment)
            return book::draw(book, book::glyph_of(book, *treatment, form ? std::optional(*form) : std::nullopt));
    }
    if (const std::string id = named("ornament"); !id.empty())
        if (const auto ornament = book::find<book::Ornament>(book, id, "show"))
            return book::rim_strip(book, *ornament);
    return nullptr;
}

ordered_json fault_json(const book::EditFault& fault) {
    ordered_json out = exchange::problem_json(fault.problem);
    out["row"] = or_none(fault.row);
    out["column"] = fault.column;
    return out;
}

Answered edit(BookEditor& editor, App&, const Request& request) {
    const auto dry_run = query_flag(request, "dry_run", false);
    if (!dry_run) return refuse(dry_run.error());
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto edit = edit_of(*body);
    if (!edit) return refuse(edit.error());
    auto what = text_member(*body, "what");
    if (!what) return refuse(what.error());
    const auto done = editor.edit(*edit, std::move(*what), *dry_run);
    if (!done) return refuse(done.error());
    const bool sound = done->edited.faults.empty();
    return json_reply({{"change", done->change == 0 ? ordered_json() : ordered_json(done->change)},
                       {"faults", json_list(done->edited.faults, fault_json)},
                       {"notes", done->edited.notes},
                       {"picture", sound ? picture_of(done->edited.opened.book, *body) : ordered_json()}});
}

ordered_json change_json(const BookChange& change) {
    ordered_json rows = ordered_json::array(), files = ordered_json::array();
    for (const book::RowChange& row : change.rows)
        rows.push_back({{"table", row.table}, {"line", row.line}, {"before", row.before}, {"after", row.after}});
    for (const book::FileChange& file : change.files) files.push_back(file.path);
    return {{"id", change.id},
            {"when", change.when},
            {"what", change.what},
            {"pack", change.pack},
            {"rows", rows},
            {"files", files},
            {"undoes", or_none(change.undoes)},
            {"undone", change.undone}};
}

Answered changes(BookEditor& editor, App&, const Request& request) {
    const auto limit = query_int(request, "limit", 50, 1, 1000);
    if (!limit) return refuse(limit.error());
    ordered_json out = ordered_json::array();
    for (const BookChange& change : editor.changes(static_cast<std::size_t>(*limit)))
        out.push_back(change_json(change));
    return json_reply(out);
}

Answered undo(BookEditor& editor, App&, const Request& request) {
    const auto id = to_int(request.values[0]);
    if (!id)
        return refuse(ProblemCode::kNotFound, "change",
                      fmt::format("there is no edit {} of the Book", request.values[0]), "see the list of edits");
    const auto done = editor.undo(*id);
    if (!done) return refuse(done.error());
    return json_reply({{"change", done->change}});
}

Answered reload(BookEditor& editor, App& app, const Request&) {
    if (auto read = editor.reload(); !read) return refuse(std::move(read.error()));
    return editing(editor, *app.house.current(), {});
}

Answered date_words(App&, const Request& request) {
    const std::string text(trim(query_text(request, "text")));
    const auto value = edtf::parse(text);
    if (!value) return refuse(value.error());
    ordered_json spans = ordered_json::array();
    for (const edtf::Span& span : value->spans())
        spans.push_back({{"first", or_none(span.first)}, {"last", or_none(span.last)}});
    return json_reply({{"text", edtf::print(*value)},
                       {"words", edtf::in_words(*value)},
                       {"caution", edtf::caution(*value)},
                       {"spans", spans}});
}

}  // namespace

std::vector<Route> edit_routes(const Desk& desk) {
    const auto with = [editor = desk.editor](Answered (*answer)(BookEditor&, App&, const Request&)) {
        return [editor, answer](App& app, const Request& request) { return answer(*editor, app, request); };
    };
    return {{"GET", "/api/editing", Takes::kNone, Role::kContributor, with(editing)},
            {"GET", "/api/editing/{pack}/{table}", Takes::kNone, Role::kContributor, with(rows)},
            {"POST", "/api/editing/edits", Takes::kJson, Role::kContributor, with(edit)},
            {"GET", "/api/editing/changes", Takes::kNone, Role::kContributor, with(changes)},
            {"POST", "/api/editing/changes/{change}/undo", Takes::kJson, Role::kContributor, with(undo)},
            {"POST", "/api/editing/reload", Takes::kJson, Role::kContributor, with(reload)},
            {"GET", "/api/date-words", Takes::kNone, Role::kReader, date_words}};
}

}  // namespace footring::server

// SPDX-License-Identifier: Apache-2.0
#include "book/merge.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "base/text.h"
#include "book/csv.h"
#include "book/faults.h"
#include "book/pack_files.h"

namespace footring::book {

namespace fs = std::filesystem;

namespace {

using Key = std::vector<std::string>;

std::string text_of(const Cells& cells, const std::string& column) {
    const auto cell = cells.find(column);
    return cell == cells.end() ? "" : cell->second;
}

Key key_of(const Table& table, const Cells& cells) {
    Key key;
    for (const std::string_view column : table.key) key.push_back(text_of(cells, std::string(column)));
    if (table.key.empty())  // blank cells of a column that one file lacks are no difference
        for (const Column& column : table.columns) key.push_back(text_of(cells, std::string(column.name)));
    return key;
}
std::string said(const Key& key) { return fmt::format("{}", fmt::join(key, ", ")); }

// A row of one of the three; several rows of one key (a fault of their own) stand for themselves by their number.
using Rows = std::map<std::pair<Key, int>, const TextRow*>;
Rows by_key(const Table& table, const std::vector<TextRow>& rows) {
    Rows out;
    for (const TextRow& row : rows) {
        const Key key = key_of(table, row.cells);
        int number = 0;
        while (out.contains({key, number})) ++number;
        out.emplace(std::pair(key, number), &row);
    }
    return out;
}

bool same(const Cells& a, const Cells& b) {
    const auto covers = [](const Cells& one, const Cells& other) {
        return std::ranges::all_of(one,
                                   [&](const auto& cell) { return cell.second == text_of(other, cell.first); });
    };
    return covers(a, b) && covers(b, a);
}

// Ids joined by ';': mine, without what theirs took out, with what theirs added.
std::string joined(const std::string& base, const std::string& mine, const std::string& theirs) {
    const auto before = split(base, ';'), here = split(mine, ';'), there = split(theirs, ';');
    const auto has = [](const std::vector<std::string>& list, const std::string& id) {
        return std::ranges::find(list, id) != list.end();
    };
    std::vector<std::string> out;
    for (const std::string& id : here)
        if (!has(before, id) || has(there, id)) out.push_back(id);
    for (const std::string& id : there)
        if (!has(before, id) && !has(out, id)) out.push_back(id);
    return fmt::format("{}", fmt::join(out, ";"));
}

struct SheetMerger {
    const Table& table;
    const std::vector<std::string>& columns;
    MergedSheet out{};

    // What can be written into mine: a column that is neither the table's nor in mine is told, once, and left.
    Cells writable(const Cells& cells) {
        Cells fit;
        for (const auto& [name, cell] : cells) {
            if (table.column(name) != nullptr || std::ranges::find(columns, name) != columns.end())
                fit.emplace(name, cell);
            else if (!cell.empty()) {
                std::string note =
                    fmt::format("{}: the column '{}' is in their file only and was left out", table.name, name);
                if (std::ranges::find(out.notes, note) == out.notes.end()) out.notes.push_back(std::move(note));
            }
        }
        return fit;
    }

    void add(const Cells& cells) {
        out.edits.push_back({.act = RowEdit::Do::kAdd,
                             .table = std::string(table.name),
                             .line = 0,
                             .was = {},
                             .cells = writable(cells)});
        ++out.taken;
    }
    void remove(const TextRow& row) {
        out.edits.push_back({.act = RowEdit::Do::kRemove,
                             .table = std::string(table.name),
                             .line = row.line,
                             .was = {},
                             .cells = {}});
        ++out.taken;
    }
    void tell(const Key& key, std::string column, std::string base, std::string mine, std::string theirs,
              std::string kept) {
        out.conflicts.push_back({std::string(table.name), said(key), std::move(column), std::move(base),
                                 std::move(mine), std::move(theirs), std::move(kept)});
    }

    // Whom a statement about a cell of this row is about: the row itself, or what its first column refers to.
    std::string subject(const Cells& cells) const {
        const Table* statements = table_named("statements");
        const auto subjects = split(statements->column("subject")->refers, '|');
        const auto can = [&](std::string_view name) { return std::ranges::find(subjects, name) != subjects.end(); };
        if (table.has_id()) return can(table.name) ? text_of(cells, "id") : "";
        const Column& first = table.columns.front();
        return can(first.refers) || first.type == CellType::kSubject ? text_of(cells, std::string(first.name)) : "";
    }

    void state(const std::string& about, const std::string& property, const std::string& value,
               std::string_view stance, const Cells& from, std::string_view note) {
        if (value.empty()) return;
        out.statements.push_back({.act = RowEdit::Do::kAdd,
                                  .table = "statements",
                                  .line = 0,
                                  .was = {},
                                  .cells = {{"subject", about},
                                            {"property", property},
                                            {"value", value},
                                            {"source", text_of(from, "source")},
                                            {"stance", std::string(stance)},
                                            {"note", std::string(note)}}});
    }

    void contest(const Key& key, const std::string& column, const std::string& base, const TextRow& mine,
                 const TextRow& theirs) {
        const std::string here = text_of(mine.cells, column), there = text_of(theirs.cells, column);
        const std::string about = subject(mine.cells);
        if (about.empty()) {
            tell(key, column, base, here, there, "Mine was kept; no statement can be made of this table.");
            return;
        }
        const std::string property =
            table.has_id() ? column : fmt::format("{} of {}", column, said(Key(key.begin() + 1, key.end())));
        state(about, property, here, "for", mine.cells, "Two edits of the pack differ; the row has this one.");
        state(about, property, here, "against", theirs.cells, "Two edits of the pack differ.");
        state(about, property, there, "for", theirs.cells,
              "Two edits of the pack differ; the row has the other one.");
        tell(key, column, base, here, there, "Mine was kept in the row, and both as statements for and against.");
    }

    // `base` absent: both added a row of this key.
    void merge_cells(const Key& key, const TextRow* base, const TextRow& mine, const TextRow& theirs) {
        std::set<std::string> names;
        for (const auto& cell : mine.cells) names.insert(cell.first);
        for (const auto& cell : theirs.cells) names.insert(cell.first);
        Cells changed;
        for (const std::string& name : names) {
            const std::string before = base ? text_of(base->cells, name) : "";
            const std::string here = text_of(mine.cells, name), there = text_of(theirs.cells, name);
            if (there == before || there == here) continue;
            const Column* column = table.column(name);
            const bool list = column != nullptr && column->type == CellType::kRefs;
            if (here == before) changed[name] = there;
            else if (list) changed[name] = joined(before, here, there);
            else contest(key, name, before, mine, theirs);
        }
        changed = writable(changed);
        if (changed.empty()) return;
        out.edits.push_back({.act = RowEdit::Do::kChange,
                             .table = std::string(table.name),
                             .line = mine.line,
                             .was = {},
                             .cells = std::move(changed)});
        ++out.taken;
    }

    void run(const std::vector<TextRow>& base_rows, const std::vector<TextRow>& my_rows,
             const std::vector<TextRow>& their_rows) {
        const Rows base = by_key(table, base_rows), mine = by_key(table, my_rows),
                   theirs = by_key(table, their_rows);
        const auto row = [](const Rows& rows, const std::pair<Key, int>& key) {
            const auto found = rows.find(key);
            return found == rows.end() ? nullptr : found->second;
        };
        // In the order of theirs, so that rows that they added stay in theirs.
        std::vector<const Rows::value_type*> in_order;
        for (const auto& one : theirs) in_order.push_back(&one);
        std::ranges::sort(in_order, {}, [](const Rows::value_type* one) { return one->second->line; });
        for (const auto* at : in_order) {
            const TextRow& their_row = *at->second;
            const TextRow *before = row(base, at->first), *here = row(mine, at->first);
            if (here != nullptr) {
                merge_cells(at->first.first, before, *here, their_row);
            } else if (before == nullptr) {
                add(their_row.cells);
            } else if (!same(before->cells, their_row.cells)) {
                add(their_row.cells);
                tell(at->first.first, "", "", "taken out", "changed", "The row was kept as theirs has it.");
            }
        }
        for (const auto& [key, before] : base) {
            const TextRow* here = row(mine, key);
            if (here == nullptr || row(theirs, key) != nullptr) continue;
            if (same(before->cells, here->cells)) remove(*here);
            else tell(key.first, "", "", "changed", "taken out", "The row was kept as mine has it.");
        }
    }
};

std::vector<std::string> header_of(const TableText& text) {
    const Csv csv = read_csv(text.text, text.delimiter);
    std::vector<std::string> out;
    if (!csv.rows.empty())
        for (const CsvCell& cell : csv.rows.front().cells) out.push_back(cell.text);
    return out;
}

struct PackMerger {
    fs::path base_folder, my_folder, their_folder;
    MergedPack out{};
    std::vector<Problem> problems{};
    std::map<std::string, std::vector<RowEdit>> edits{};
    std::map<std::string, TableText> my_texts{};
    std::vector<RowEdit> statements{};
    std::set<std::string> drawings{};

    std::optional<TableText> read(const fs::path& folder, const Table& table) {
        auto text = table_text(folder, table);
        if (text) {
            const Csv csv = read_csv(text->text, text->delimiter);
            for (const CsvFault& f : csv.faults)
                problems.push_back(
                    {ProblemCode::kBadInput,
                     fmt::format("{}:{}:{}", (folder / text->path).generic_string(), f.line, f.column), f.what,
                     f.remedy});
            return std::move(*text);
        }
        if (std::ranges::find(problems, text.error()) == problems.end()) problems.push_back(text.error());
        return std::nullopt;
    }

    struct Three {
        const Table* table;
        std::vector<TextRow> base, mine, theirs;
    };

    // Two people who each note a new source, or a new statement, often give it the same next id. They are two
    // rows, not two readings of one: theirs gets an id of its own, wherever they wrote it.
    void part_new_rows(std::vector<Three>& all) {
        std::set<std::string> taken;
        for (const Three& one : all)
            for (const auto* rows : {&one.base, &one.mine, &one.theirs})
                for (const TextRow& row : *rows) taken.insert(text_of(row.cells, "id"));
        std::map<std::string, std::string> sources;
        for (Three& one : all) {
            const bool of_sources = one.table->name == "sources";
            if (!of_sources && one.table->name != "statements") continue;
            const std::vector<std::string> what = of_sources
                                                      ? std::vector<std::string>{"creator", "title", "date"}
                                                      : std::vector<std::string>{"subject", "property", "value"};
            std::set<std::string> before;
            std::map<std::string, const TextRow*> mine;
            for (const TextRow& row : one.base) before.insert(text_of(row.cells, "id"));
            for (const TextRow& row : one.mine) mine.emplace(text_of(row.cells, "id"), &row);
            for (TextRow& row : one.theirs) {
                const std::string id = text_of(row.cells, "id");
                const auto here = mine.find(id);
                if (before.contains(id) || here == mine.end() || std::ranges::all_of(what, [&](const auto& column) {
                        return text_of(here->second->cells, column) == text_of(row.cells, column);
                    }))
                    continue;
                std::string fresh = id + "-theirs";
                for (int number = 2; taken.contains(fresh); ++number)
                    fresh = fmt::format("{}-theirs-{}", id, number);
                taken.insert(fresh);
                row.cells["id"] = fresh;
                if (of_sources) sources.emplace(id, fresh);
                out.notes.push_back(fmt::format("{}: both added a row '{}', each another one: theirs is now '{}'",
                                                one.table->name, id, fresh));
            }
        }
        if (sources.empty()) return;
        for (Three& one : all)
            for (const Column& column : one.table->columns) {
                if (column.refers != "sources") continue;
                for (TextRow& row : one.theirs) {
                    const auto cell = row.cells.find(std::string(column.name));
                    if (cell == row.cells.end()) continue;
                    auto ids = split(cell->second, ';');
                    for (std::string& id : ids)
                        if (const auto renamed = sources.find(id); renamed != sources.end()) id = renamed->second;
                    if (ids != split(cell->second, ';')) cell->second = fmt::format("{}", fmt::join(ids, ";"));
                }
            }
    }

    void merge_tables() {
        std::vector<Three> all;
        std::vector<std::vector<std::string>> columns_of_mine;
        for (const Table& table : all_tables()) {
            auto base = read(base_folder, table), mine = read(my_folder, table), theirs = read(their_folder, table);
            if (!base || !mine || !theirs) continue;
            const auto rows = [](const TableText& text) { return rows_of_text(text.text, text.delimiter); };
            columns_of_mine.push_back(mine->text.empty() ? std::vector<std::string>{} : header_of(*mine));
            all.push_back({&table, rows(*base), rows(*mine), rows(*theirs)});
            my_texts.emplace(table.name, std::move(*mine));
        }
        part_new_rows(all);
        for (std::size_t at = 0; at < all.size(); ++at) {
            const Table& table = *all[at].table;
            MergedSheet sheet = merge_sheet(table, all[at].base, all[at].mine, all[at].theirs, columns_of_mine[at]);
            for (const Column& column : table.columns)
                if (column.type == CellType::kDrawing)
                    for (const TextRow& row : all[at].theirs)
                        if (const std::string path = text_of(row.cells, std::string(column.name)); !path.empty())
                            drawings.insert(path);
            out.taken += sheet.taken;
            std::ranges::move(sheet.conflicts, std::back_inserter(out.conflicts));
            std::ranges::move(sheet.notes, std::back_inserter(out.notes));
            std::ranges::move(sheet.statements, std::back_inserter(statements));
            edits[std::string(table.name)] = std::move(sheet.edits);
        }
    }

    // Statements get ids that nothing in the merged pack has.
    void add_statements() {
        std::set<std::string> taken;
        for (const auto& [name, text] : my_texts)
            for (const TextRow& row : rows_of_text(text.text, text.delimiter))
                taken.insert(text_of(row.cells, "id"));
        for (const auto& [name, list] : edits)
            for (const RowEdit& edit : list) taken.insert(text_of(edit.cells, "id"));
        int number = 0;
        for (RowEdit& statement : statements) {
            std::string id;
            do id = fmt::format("merged-{}", ++number);
            while (taken.contains(id));
            statement.cells["id"] = id;
            edits["statements"].push_back(statement);
        }
    }

    void write_tables() {
        for (const Table& table : all_tables()) {
            std::vector<RowEdit>& list = edits[std::string(table.name)];
            if (list.empty()) continue;
            const TableText& text = my_texts.at(std::string(table.name));
            for (RowEdit& edit : list)
                if (edit.act == RowEdit::Do::kAdd) edit.line = line_for_new_row(table, text, edit.cells);
            auto edited =
                edit_sheet(table, text.text, text.delimiter, (my_folder / text.path).generic_string(), list);
            if (!edited) {
                std::ranges::move(edited.error(), std::back_inserter(problems));
                continue;
            }
            std::ranges::move(edited->notes, std::back_inserter(out.notes));
            const bool there = !text.text.empty() || text.listed;
            out.files.push_back(
                {text.path, there ? std::optional(text.text) : std::nullopt, std::move(edited->text)});
        }
    }

    static std::optional<std::string> bytes(const fs::path& folder, const std::string& path) {
        PackOnDisk disk(folder);
        if (!disk.open()) return std::nullopt;
        auto read = disk.read(path);
        return read ? std::optional(std::move(*read)) : std::nullopt;
    }

    void merge_file(const std::string& path, bool keep_both) {
        const auto base = bytes(base_folder, path), mine = bytes(my_folder, path),
                   theirs = bytes(their_folder, path);
        if (!theirs || theirs == base || theirs == mine) return;
        if (mine == base || !mine) {
            out.files.push_back({path, mine, theirs});
            return;
        }
        std::string kept = "Mine was kept.";
        if (keep_both) {
            const fs::path beside = fs::path(path).parent_path() / (fs::path(path).stem().string() + "-theirs" +
                                                                    fs::path(path).extension().string());
            if (const auto there = bytes(my_folder, beside.generic_string()); there != theirs)
                out.files.push_back({beside.generic_string(), there, theirs});
            kept = fmt::format("Mine was kept, theirs is {}.", beside.generic_string());
        }
        out.conflicts.push_back({path, "", "", "", "changed", "changed", std::move(kept)});
    }
};

}  // namespace

MergedSheet merge_sheet(const Table& table, const std::vector<TextRow>& base, const std::vector<TextRow>& mine,
                        const std::vector<TextRow>& theirs, const std::vector<std::string>& columns_of_mine) {
    SheetMerger merger{table, columns_of_mine};
    merger.run(base, mine, theirs);
    return std::move(merger.out);
}

std::expected<MergedPack, std::vector<Problem>> merge_packs(const fs::path& base, const fs::path& mine,
                                                            const fs::path& theirs) {
    PackMerger merger{base, mine, theirs};
    merger.merge_tables();
    if (merger.problems.empty()) merger.add_statements();
    if (merger.problems.empty()) merger.write_tables();
    if (!merger.problems.empty()) return std::unexpected(std::move(merger.problems));
    merger.merge_file("datapackage.json", false);
    for (const std::string& path : merger.drawings) merger.merge_file(path, true);
    return std::move(merger.out);
}

}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/pack_edit.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <memory>
#include <utility>

#include "base/text.h"
#include "book/csv.h"
#include "book/drawings.h"
#include "book/reading.h"
#include "book/svg_check.h"

namespace footring::book {

namespace fs = std::filesystem;

namespace {

// A pack on disk with some of its files held differently. Notes the digest of every file that it reads from the
// disk.
class EditedFiles final : public PackFiles {
  public:
    using Held = std::map<std::string, std::optional<std::string>>;
    EditedFiles(PackOnDisk disk, Held held, FileDigests& digests)
        : disk_(std::move(disk)), held_(std::move(held)), digests_(digests) {}

    std::string shown(std::string_view path) const override { return disk_.shown(path); }
    std::string folder() const override { return disk_.folder(); }
    Expected<std::string> read(std::string_view path) const override {
        const auto held = held_.find(std::string(path));
        if (held != held_.end()) {
            if (!held->second)
                return fail(ProblemCode::kNotFound, shown(path), "there is no such file",
                            "add the file or correct its path");
            digests_[held->first] = digest_of(*held->second);
            return *held->second;
        }
        auto bytes = disk_.read(path);
        if (bytes) digests_[std::string(path)] = digest_of(*bytes);
        return bytes;
    }

  private:
    PackOnDisk disk_;
    Held held_;
    FileDigests& digests_;
};

std::expected<OpenedPacks, std::vector<Problem>> open_with(const std::vector<fs::path>& folders,
                                                           std::vector<EditedFiles::Held> held,
                                                           std::vector<FileDigests>& digests) {
    OpenedPacks out;
    out.folders = folders;
    digests.assign(folders.size(), {});
    std::vector<std::unique_ptr<PackFiles>> files;
    Faults faults;
    for (std::size_t at = 0; at < folders.size(); ++at) {
        PackOnDisk disk(folders[at]);
        if (auto opened = disk.open(); !opened)
            faults.add(opened.error().where, {}, opened.error().what, opened.error().remedy, opened.error().code);
        else files.push_back(std::make_unique<EditedFiles>(std::move(disk), std::move(held[at]), digests[at]));
    }
    auto book = read_all(std::move(files), std::move(faults));
    if (!book) return std::unexpected(std::move(book.error()));
    out.book = std::move(*book);
    out.files = digests;
    return out;
}

struct PackEditor {
    const std::vector<fs::path>& folders;
    const std::vector<std::string>& ids;
    const std::vector<FileDigests>& seen;
    const PackEdit& edit;

    EditedPacks out{};
    std::size_t pack = 0;
    EditedFiles::Held held{};
    struct Edited {
        const Table* table;
        std::string shown;  // its file
        char delimiter;
        std::string text;
    };
    std::vector<Edited> sheets{};

    void fault(Problem problem, std::optional<std::size_t> row = std::nullopt, std::string column = {}) {
        out.faults.push_back({std::move(problem), row, std::move(column)});
    }

    bool find_pack() {
        const auto found = std::ranges::find(ids, edit.pack);
        if (found == ids.end()) {
            fault({ProblemCode::kNotFound, "pack", fmt::format("no open pack is called '{}'", edit.pack),
                   did_you_mean(edit.pack, ids, fmt::format("use one of {}", fmt::join(ids, ", ")))});
            return false;
        }
        pack = static_cast<std::size_t>(found - ids.begin());
        out.folder = folders[pack];
        return true;
    }

    // The file as it was opened; absent and told: it is another by now.
    bool unchanged(const std::string& path, const std::string* bytes, const std::string& shown) {
        const auto known = seen[pack].find(path);
        const bool same = bytes == nullptr ? known == seen[pack].end()
                                           : known != seen[pack].end() && known->second == digest_of(*bytes);
        if (!same) fault(changed_meanwhile(shown));
        return same;
    }

    void edit_tables() {
        for (const Table& table : all_tables()) {
            std::vector<RowEdit> edits;
            std::vector<std::size_t> index;
            for (std::size_t i = 0; i < edit.rows.size(); ++i)
                if (edit.rows[i].table == table.name) edits.push_back(edit.rows[i]), index.push_back(i);
            if (edits.empty()) continue;
            auto text = table_text(out.folder, table);
            if (!text) {
                fault(text.error());
                continue;
            }
            const std::string shown = (out.folder / text->path).generic_string();
            const bool there = !text->text.empty() || text->listed;
            if (!unchanged(text->path, there ? &text->text : nullptr, shown)) continue;
            for (RowEdit& row : edits)
                if (row.act == RowEdit::Do::kAdd && row.line == 0)
                    row.line = line_for_new_row(table, *text, row.cells);
            auto edited = edit_sheet(table, text->text, text->delimiter, shown, edits);
            if (!edited) {
                for (Problem& problem : edited.error()) fault(std::move(problem));
                continue;
            }
            for (RowChange& change : edited->rows) {
                change.edit = index[change.edit];
                check_source(table, change, shown);
                out.rows.push_back(change);
            }
            std::ranges::move(edited->notes, std::back_inserter(out.notes));
            if (edited->text == text->text) continue;
            held[text->path] = edited->text;
            out.files.push_back({text->path, there ? std::optional(text->text) : std::nullopt, edited->text});
            sheets.push_back({&table, shown, text->delimiter, std::move(edited->text)});
        }
        for (std::size_t i = 0; i < edit.rows.size(); ++i)
            if (table_named(edit.rows[i].table) == nullptr) {
                std::vector<std::string> names;
                for (const Table& table : all_tables()) names.emplace_back(table.name);
                fault(
                    {ProblemCode::kBadInput, "table",
                     fmt::format("packs have no table {}", in_quotes(edit.rows[i].table)),
                     did_you_mean(edit.rows[i].table, names, fmt::format("use one of {}", fmt::join(names, ", ")))},
                    i);
            }
    }

    void check_source(const Table& table, const RowChange& change, const std::string& shown) {
        if (!edit.asks_for_sources || table.column("source") == nullptr || change.after.empty()) return;
        const auto blank = [](const Cells& cells) {
            const auto source = cells.find("source");
            return source == cells.end() || trim(source->second).empty();
        };
        if (!blank(change.after)) return;
        if (!change.before.empty() && blank(change.before)) {
            out.notes.push_back(fmt::format("{}:{} names no source", shown, change.line));
            return;
        }
        fault({ProblemCode::kBadInput, fmt::format("{}:{}", shown, change.line),
               change.before.empty() ? "the new row names no source" : "the row would lose its source",
               "name the source that says so; a new one goes into the table of sources first"},
              change.edit, "source");
    }

    void edit_files() {
        PackOnDisk disk(out.folder);
        if (auto opened = disk.open(); !opened) return fault(opened.error());
        for (const NewFile& file : edit.files) {
            const std::string shown = disk.shown(file.path);
            if (const auto problem = unfit(file, shown)) {
                fault(*problem);
                continue;
            }
            auto there = disk.read(file.path);
            if (!there && there.error().code != ProblemCode::kNotFound) {
                fault(there.error());
                continue;
            }
            if (there && file.bytes && *there == *file.bytes) continue;
            if (there && file.bytes) {
                fault({ProblemCode::kBadInput, shown, "there is another drawing of this name",
                       "give the new one another name"});
                continue;
            }
            if (!there && !file.bytes) continue;
            if (file.bytes && file.path.ends_with(".svg"))
                for (Problem& problem : check_svg(*file.bytes, shown)) fault(std::move(problem));
            held[file.path] = file.bytes;
            out.files.push_back({file.path, there ? std::optional(*there) : std::nullopt, file.bytes});
        }
    }

    static std::optional<Problem> unfit(const NewFile& file, const std::string& shown) {
        const bool svg = file.path.ends_with(".svg"), png = file.path.ends_with(".png");
        if (!stays_inside(file.path) || file.path.starts_with(".") || file.path.find("/.") != file.path.npos)
            return Problem{ProblemCode::kBadInput, shown, "the path leads out of the pack",
                           "name it such as drawings/fern.svg"};
        if (!svg && !png)
            return Problem{ProblemCode::kBadInput, shown, "a drawing is an SVG or a PNG file",
                           "let its name end in .svg or .png"};
        if (!file.bytes) return std::nullopt;
        if (file.bytes->size() > kMostDrawingBytes)
            return Problem{ProblemCode::kTooLarge, shown,
                           fmt::format("the drawing is larger than {} kB", kMostDrawingBytes >> 10),
                           "make it simpler or smaller"};
        const auto kind = bytes_of(data_uri(*file.bytes));
        if (!kind || kind->svg != svg)
            return Problem{ProblemCode::kBadInput, shown, fmt::format("it is no {} drawing", svg ? "SVG" : "PNG"),
                           "give a whole SVG or PNG file, under the name that fits it"};
        return std::nullopt;
    }

    // "FILE:12:7" of an edited table: which edit and which column that is.
    void locate(EditFault& told) const {
        for (const Edited& sheet : sheets) {
            if (!told.problem.where.starts_with(sheet.shown + ":")) continue;
            const auto numbers = split(std::string_view(told.problem.where).substr(sheet.shown.size() + 1), ':');
            const auto number = [&](std::size_t i) {  // 0: there is none
                return static_cast<std::uint32_t>(i < numbers.size() ? to_int(numbers[i]).value_or(0) : 0);
            };
            const std::uint32_t line = number(0), column = number(1);
            if (line == 0) return;
            const Csv csv = read_csv(sheet.text, sheet.delimiter);
            for (const CsvRow& row : csv.rows) {
                if (row.cells.front().line > line || row.end_line < line) continue;
                const auto change = std::ranges::find_if(out.rows, [&](const RowChange& c) {
                    return c.table == sheet.table->name && c.line == row.cells.front().line && !c.after.empty();
                });
                if (change == out.rows.end()) return;
                told.row = change->edit;
                const auto& header = csv.rows.front().cells;
                for (std::size_t i = 0; i < row.cells.size() && i < header.size(); ++i)
                    if (row.cells[i].line == line && row.cells[i].column == column) told.column = header[i].text;
                return;
            }
        }
    }

    void read_again() {
        std::vector<EditedFiles::Held> all(folders.size());
        all[pack] = held;
        std::vector<FileDigests> digests;
        auto opened = open_with(folders, std::move(all), digests);
        for (std::size_t at = 0; at < digests.size(); ++at)
            for (const auto& [path, digest] : digests[at]) {
                if (at == pack && held.contains(path)) continue;
                const auto known = seen[at].find(path);
                // A file that nothing named before (a drawing lying about) is no change of the pack.
                if (known != seen[at].end() && known->second != digest) {
                    fault(changed_meanwhile((folders[at] / path).generic_string()));
                }
            }
        if (!opened) {
            // Nobody reads a form with more faults than this; each look for a place walks the table.
            constexpr std::size_t kMostLocated = 100;
            for (Problem& problem : opened.error()) {
                EditFault told{std::move(problem), std::nullopt, {}};
                if (out.faults.size() < kMostLocated) locate(told);
                out.faults.push_back(std::move(told));
            }
            return;
        }
        out.opened = std::move(*opened);
    }

    EditedPacks run() {
        if (!find_pack()) return std::move(out);
        edit_tables();
        edit_files();
        const bool conflict = std::ranges::any_of(
            out.faults, [](const EditFault& f) { return f.problem.code == ProblemCode::kConflict; });
        if (!conflict) read_again();
        // Another program's change makes all else that was found worth nothing.
        const auto meanwhile = [](const EditFault& f) { return f.problem.code == ProblemCode::kConflict; };
        if (std::ranges::any_of(out.faults, meanwhile))
            std::erase_if(out.faults, [&](const EditFault& f) { return !meanwhile(f); });
        return std::move(out);
    }
};

}  // namespace

Problem changed_meanwhile(const std::string& where) {
    return {ProblemCode::kConflict, where, "another program changed this file since the pack was opened",
            "read the pack again, then look at your edit again"};
}

std::expected<OpenedPacks, std::vector<Problem>> open_packs(const std::vector<fs::path>& folders) {
    std::vector<FileDigests> digests;
    return open_with(folders, std::vector<EditedFiles::Held>(folders.size()), digests);
}

Expected<TableText> table_text(const fs::path& folder, const Table& table) {
    PackOnDisk disk(folder);
    if (auto opened = disk.open(); !opened) return std::unexpected(opened.error());
    Faults faults;
    const auto descriptor = read_descriptor(disk, faults);
    if (!descriptor) return std::unexpected(faults.in_order().front());
    const TableFile& file = descriptor->tables.at(table.name);
    TableText out{file.path, "", file.delimiter, file.listed};
    auto bytes = disk.read(file.path);
    if (bytes) out.text = std::move(*bytes);
    else if (bytes.error().code != ProblemCode::kNotFound || file.listed) return std::unexpected(bytes.error());
    return out;
}

std::uint32_t line_for_new_row(const Table& table, const TableText& text, const Cells& cells) {
    const Column& first = table.columns.front();
    if (first.type != CellType::kRef && first.type != CellType::kSubject) return 0;
    const auto subject = cells.find(std::string(first.name));
    if (subject == cells.end()) return 0;
    std::uint32_t line = 0;
    for (const TextRow& row : rows_of_text(text.text, text.delimiter)) {
        const auto same = row.cells.find(subject->first);
        if (same != row.cells.end() && same->second == subject->second) line = row.line;
    }
    return line;
}

std::vector<std::string> OpenedPacks::ids() const {
    std::vector<std::string> out;
    for (const Pack& pack : book.packs) out.push_back(pack.id);
    return out;
}

EditedPacks edit_packs(const std::vector<fs::path>& folders, const std::vector<std::string>& ids,
                       const std::vector<FileDigests>& files, const PackEdit& edit) {
    return PackEditor{folders, ids, files, edit}.run();
}

}  // namespace footring::book

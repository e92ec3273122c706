// SPDX-License-Identifier: Apache-2.0
#include "server/book_editor.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/text.h"
#include "book/pack_writer.h"

namespace footring::server {

namespace fs = std::filesystem;

namespace {

std::string row_name(const book::RowChange& row) {
    const book::Cells& cells = row.after.empty() ? row.before : row.after;
    const book::Table* table = book::table_named(row.table);
    std::string name;
    for (std::size_t i = 0; table != nullptr && i < table->columns.size() && i < 3; ++i) {
        if (i > 0 && table->has_id()) break;
        const auto cell = cells.find(std::string(table->columns[i].name));
        if (cell != cells.end() && !cell->second.empty()) name += (name.empty() ? "" : ", ") + cell->second;
    }
    return fmt::format("{} {}", row.table, name);
}

// "treatments t-117: years 1931 -> 1932, note."
std::string sentence_of(const std::vector<book::RowChange>& rows, std::size_t files) {
    if (rows.empty()) return files == 1 ? "A drawing." : fmt::format("{} drawings.", files);
    std::string out = row_name(rows.front());
    if (rows.front().before.empty()) out += ": added";
    else if (rows.front().after.empty()) out += ": taken out";
    else {
        constexpr std::size_t kLongest = 40;
        std::string sign = ": ";
        for (const auto& [column, text] : rows.front().after) {
            const auto before = rows.front().before.find(column);
            const std::string was = before == rows.front().before.end() ? "" : before->second;
            if (was == text) continue;
            out += sign + column;
            if (was.size() + text.size() <= kLongest)
                out +=
                    fmt::format(" {} \xE2\x86\x92 {}", was.empty() ? "blank" : was, text.empty() ? "blank" : text);
            sign = ", ";
        }
    }
    if (rows.size() > 1) out += fmt::format("; and {} more {}", rows.size() - 1, rows.size() == 2 ? "row" : "rows");
    return out + ".";
}

Problems problems_of(const std::vector<book::EditFault>& faults) {
    Problems out;
    for (const book::EditFault& fault : faults) out.push_back(fault.problem);
    return out;
}

}  // namespace

BookEditor::BookEditor(std::vector<PackHome> homes, fs::path data, store::Now now)
    : homes_(std::move(homes)), log_(data / "book"), now_(std::move(now)) {}

std::expected<std::unique_ptr<BookEditor>, Problems> BookEditor::start(std::vector<PackHome> homes, fs::path data,
                                                                       store::Now now) {
    for (PackHome& home : homes) {
        std::error_code error;
        if (home.copies_to && fs::exists(*home.copies_to / "datapackage.json", error)) {
            home.folder = *home.copies_to;
            home.copies_to.reset();
        }
        if (home.read_only || book::why_not_editable(home.folder)) continue;
        if (auto finished = book::finish_edit(home.folder); !finished) return refuse(finished.error());
    }
    std::unique_ptr<BookEditor> editor(new BookEditor(std::move(homes), std::move(data), std::move(now)));
    if (auto read = editor->reload(); !read) return std::unexpected(std::move(read.error()));
    return editor;
}

std::vector<fs::path> BookEditor::folders() const {
    std::vector<fs::path> out;
    for (const PackHome& home : homes_) out.push_back(home.folder);
    return out;
}

std::optional<std::string> BookEditor::why_not(std::size_t pack) const {
    const PackHome& home = homes_[pack];
    if (home.read_only) return "the packs were opened to be read only";
    if (home.copies_to) return std::nullopt;
    return book::why_not_editable(home.folder);
}

std::vector<BookEditor::State> BookEditor::states() const {
    const std::lock_guard lock(editing_);
    std::vector<State> out;
    for (std::size_t at = 0; at < homes_.size(); ++at)
        out.push_back({ids_[at], homes_[at].folder, why_not(at), homes_[at].copies_to});
    return out;
}

std::expected<void, Problems> BookEditor::reload() {
    const std::lock_guard lock(editing_);
    auto opened = book::open_packs(folders());
    if (!opened) return std::unexpected(std::move(opened.error()));
    take(std::move(*opened));
    return {};
}

void BookEditor::take(book::OpenedPacks opened) {
    ids_ = opened.ids();
    files_ = std::move(opened.files);
    if (open_) open_(std::move(opened.book));
    else first_ = std::move(opened.book);
}

void BookEditor::open_into(Open open) {
    const std::lock_guard lock(editing_);
    open_ = std::move(open);
    if (first_) open_(std::move(*first_));
    first_.reset();
}

std::expected<std::size_t, Problems> BookEditor::pack_named(const std::string& id) const {
    const auto found = std::ranges::find(ids_, id);
    if (found != ids_.end()) return static_cast<std::size_t>(found - ids_.begin());
    return refuse(ProblemCode::kNotFound, "pack", fmt::format("no open pack is called '{}'", id),
                  did_you_mean(id, ids_, fmt::format("use one of {}", fmt::join(ids_, ", "))));
}

std::expected<BookEditor::Done, Problems> BookEditor::edit(const book::PackEdit& edit, std::string what,
                                                           bool dry_run) {
    const std::lock_guard lock(editing_);
    if (dry_run) {
        Done done;
        done.edited = book::edit_packs(folders(), ids_, files_, edit);
        const auto conflict = std::ranges::find(done.edited.faults, ProblemCode::kConflict,
                                                [](const book::EditFault& fault) { return fault.problem.code; });
        if (conflict != done.edited.faults.end()) return refuse(conflict->problem);
        return done;
    }
    BookChange note;
    note.what = std::move(what);
    return write(edit, std::move(note));
}

std::expected<BookEditor::Done, Problems> BookEditor::write(const book::PackEdit& edit, BookChange note) {
    const auto at = pack_named(edit.pack);
    if (!at) return refuse(at.error());
    if (const auto why = why_not(*at))
        return refuse(ProblemCode::kBadInput, "pack " + edit.pack, fmt::format("it cannot be edited: {}", *why),
                      "open a copy of it that may be written, without --read-only");
    Done done;
    done.edited = book::edit_packs(folders(), ids_, files_, edit);
    if (!done.edited.faults.empty()) return refuse(problems_of(done.edited.faults));
    if (done.edited.files.empty()) return done;
    if (homes_[*at].copies_to) {
        if (auto copied = book::copy_pack(homes_[*at].folder, *homes_[*at].copies_to); !copied)
            return refuse(copied.error());
        homes_[*at].folder = *homes_[*at].copies_to;
        homes_[*at].copies_to.reset();
        done.edited = book::edit_packs(folders(), ids_, files_, edit);
        if (!done.edited.faults.empty()) return refuse(problems_of(done.edited.faults));
    }
    note.when = now_();
    note.pack = edit.pack;
    note.rows = done.edited.rows;
    for (const book::FileChange& file : done.edited.files)
        if (file.path.ends_with(".svg") || file.path.ends_with(".png")) note.files.push_back(file);
    if (note.what.empty()) note.what = sentence_of(note.rows, note.files.size());
    // Noted first: an edit that could not be taken back would be worse than a note of one that did not happen.
    const auto noted = log_.add(std::move(note));
    if (!noted) return refuse(noted.error());
    if (auto written = book::write_pack(done.edited.folder, done.edited.files); !written) {
        log_.forget(*noted);
        return refuse(written.error());
    }
    done.change = *noted;
    take(done.edited.opened);
    return done;
}

std::expected<BookEditor::Done, Problems> BookEditor::undo(std::int64_t id) {
    const std::lock_guard lock(editing_);
    const auto change = log_.at(id);
    if (!change) return refuse(change.error());
    for (const BookChange& later : log_.newest(1000))
        if (later.id == id && later.undone)
            return refuse(ProblemCode::kConflict, "change", fmt::format("the edit {} is undone already", id),
                          "undo its undoing to have it again");
    const auto at = pack_named(change->pack);
    if (!at) return refuse(at.error());
    const fs::path& folder = homes_[*at].folder;
    book::PackEdit edit{change->pack, {}, {}, false};
    Problems problems;
    for (const book::Table& table : book::all_tables()) {
        std::vector<book::RowChange> rows;
        std::ranges::copy_if(change->rows, std::back_inserter(rows),
                             [&](const book::RowChange& row) { return row.table == table.name; });
        if (rows.empty()) continue;
        const auto text = book::table_text(folder, table);
        if (!text) return refuse(text.error());
        auto edits = book::undoing(rows, text->text, text->delimiter, (folder / text->path).generic_string());
        if (edits) std::ranges::move(*edits, std::back_inserter(edit.rows));
        else std::ranges::move(edits.error(), std::back_inserter(problems));
    }
    if (!problems.empty()) return refuse(std::move(problems));
    for (const book::FileChange& file : change->files) edit.files.push_back({file.path, file.before});
    BookChange note;
    const auto undone = change->undoes ? log_.at(*change->undoes) : change;
    note.what = (change->undoes ? "Did again: " : "Undid: ") + (undone ? undone->what : "");
    note.undoes = id;
    return write(edit, std::move(note));
}

std::vector<BookChange> BookEditor::changes(std::size_t most) const {
    const std::lock_guard lock(editing_);
    return log_.newest(most);
}

std::expected<book::TableText, Problems> BookEditor::table(const std::string& pack,
                                                           const book::Table& table) const {
    fs::path folder;
    {
        const std::lock_guard lock(editing_);
        const auto at = pack_named(pack);
        if (!at) return refuse(at.error());
        folder = homes_[*at].folder;
    }
    auto text = book::table_text(folder, table);
    if (!text) return refuse(text.error());
    return std::move(*text);
}

}  // namespace footring::server

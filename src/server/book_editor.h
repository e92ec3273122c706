// server/book_editor.h - the open packs, edited while the server runs.
//   An edit is checked against the packs as they stand on the disk, written whole (book/pack_writer.h), noted so
//   that it can be taken back (edit_log.h), and the Book that comes of it is opened for every request from then on.
//   A pack that another program changed since is not written over: kConflict, until reload() has read it.
//   A pack that belongs to the program (the demo) is copied into the data folder at the first edit, and the copy is
//   edited: the program's own files stay as they came.
//   Thread rule: any thread may call anything; one edit at a time.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "book/pack_edit.h"
#include "server/edit_log.h"
#include "server/request.h"
#include "store/store.h"

namespace footring::server {

struct PackHome {
    std::filesystem::path folder;
    std::optional<std::filesystem::path> copies_to;  // edits go to a copy, which is made there
    bool read_only = false;                          // as whoever started the server wanted it
};

class BookEditor {
  public:
    using Open = std::function<void(book::Book)>;

    // Completes edits that a crash interrupted and reads the packs. A copy that is there already is read in place
    // of its original.
    static std::expected<std::unique_ptr<BookEditor>, Problems> start(std::vector<PackHome> homes,
                                                                      std::filesystem::path data, store::Now now);
    // Opens the Book that was read, once, and from then on every Book that comes of an edit.
    void open_into(Open open);

    struct State {
        std::string pack;
        std::filesystem::path folder;
        std::optional<std::string> why_not;              // absent: it can be edited
        std::optional<std::filesystem::path> copies_to;  // the next edit copies it there
    };
    std::vector<State> states() const;

    struct Done {
        book::EditedPacks edited;  // its Book has been opened, but for a dry run
        std::int64_t change = 0;   // 0: a dry run, or nothing changed
    };
    // Faults of the edit are in Done::edited.faults; then nothing was written. `what`: empty makes a sentence.
    std::expected<Done, Problems> edit(const book::PackEdit&, std::string what, bool dry_run);
    std::expected<Done, Problems> undo(std::int64_t change);
    std::expected<void, Problems> reload();  // reads the packs from the disk again
    std::vector<BookChange> changes(std::size_t most) const;

    // A table of a pack as it stands in its file.
    std::expected<book::TableText, Problems> table(const std::string& pack, const book::Table&) const;

  private:
    BookEditor(std::vector<PackHome> homes, std::filesystem::path data, store::Now now);
    std::vector<std::filesystem::path> folders() const;
    std::optional<std::string> why_not(std::size_t pack) const;
    std::expected<std::size_t, Problems> pack_named(const std::string& id) const;
    void take(book::OpenedPacks);
    std::expected<Done, Problems> write(const book::PackEdit&, BookChange note);

    mutable std::mutex editing_;
    std::vector<PackHome> homes_;
    std::vector<std::string> ids_;  // of the packs, as in homes_
    std::vector<book::FileDigests> files_;
    EditLog log_;
    store::Now now_;
    Open open_;
    std::optional<book::Book> first_;  // until somebody takes it
};

}  // namespace footring::server

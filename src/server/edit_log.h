// server/edit_log.h - what was edited in the packs from here: a folder of the data folder, one file per edit.
//   A pack stays a plain folder that knows nothing of this; whoever keeps it in git has a second history there.
//   format  DATA/book/000001.json: {id, when, what, pack, rows: [{table, line, before, after, written}],
//           files: [{path, before: base64 or null, after: base64 or null}], undoes: id or null}
//   errors  kStore whatever the disk refuses; kNotFound; a file that cannot be read is left out of all()
//   Thread rule: the caller lets one thread in at a time.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/pack_edit.h"

namespace footring::server {

struct BookChange {
    std::int64_t id = 0;
    std::string when, what, pack;
    std::vector<book::RowChange> rows;
    std::vector<book::FileChange> files;  // drawings only: tables are in `rows`
    std::optional<std::int64_t> undoes;
    bool undone = false;  // by a later change that is not undone itself; not written
};

class EditLog {
  public:
    explicit EditLog(std::filesystem::path folder) : folder_(std::move(folder)) {}

    Expected<std::int64_t> add(BookChange);  // gives it the next id
    void forget(std::int64_t id);            // the newest one: the pack could not be written after all
    Expected<BookChange> at(std::int64_t id) const;
    std::vector<BookChange> newest(std::size_t most) const;  // newest first

  private:
    std::vector<std::int64_t> ids() const;  // rising
    std::filesystem::path path_of(std::int64_t id) const;
    std::filesystem::path folder_;
};

}  // namespace footring::server

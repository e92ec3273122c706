// store/sqlite_file.h - a whole database file: copied while others write to it, checked, asked a number.
//   For backup.h and restore.h; the rules of the store never come here.
//   errors  as sqlite_dialect.h says them; kNotFound: there is no such file
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "base/problem.h"

struct sqlite3;

namespace footring::store {

class SqliteFile {
  public:
    static Expected<SqliteFile> open(const std::filesystem::path&);  // one that is there
    static Expected<SqliteFile> make(const std::filesystem::path&);

    Expected<void> run(const std::string& statement);
    Expected<std::vector<std::vector<std::string>>> rows(const std::string& question);
    Expected<std::int64_t> number(const std::string& question);  // 0 when there is no row
    // One moment of it, page by page, in place of all that the other file holds. Writers of this one go on
    // meanwhile; to readers and writers of the other it is one transaction. Waits ten seconds for whoever holds the
    // other.
    Expected<void> copy_into(SqliteFile& other);
    Expected<void> check();  // kStore: it is damaged, or not a store of ours

    const std::filesystem::path& path() const { return path_; }

  private:
    struct Close {
        void operator()(sqlite3*) const;
    };
    static Expected<SqliteFile> open(const std::filesystem::path&, int flags);
    SqliteFile(std::filesystem::path path, sqlite3* db) : path_(std::move(path)), db_(db) {}
    Problem problem(int code) const;

    std::filesystem::path path_;
    std::unique_ptr<sqlite3, Close> db_;
};

}  // namespace footring::store

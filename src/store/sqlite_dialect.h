// store/sqlite_dialect.h - what SQLite does in its own way: opening, checking, migrating, searching, complaining.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <filesystem>
#include <string_view>

#include "store/sql_tables.h"
#include "store/store.h"

namespace footring::store {

inline constexpr int kApplicationId = 0x46545231;  // "FTR1", in the header of the file: it is ours

// Bytes of the log beside the database (footring.db-wal) over which a write empties it.
inline constexpr std::uintmax_t kMostLogBytes = 16 << 20;

// Creates or checks the file and brings its tables up to date. kStore: damaged, not ours, made by a newer program.
Expected<void> prepare_sqlite(const std::filesystem::path& file, const Now& now);
// What a result code of SQLite means to a person; `said` is its own sentence, for those that we do not know.
Problem sqlite_problem(const std::filesystem::path& file, int code, std::string_view said);
// The tables that this program knows: a store with another number was written by another version.
int newest_tables();
std::unique_ptr<Dialect> make_sqlite_dialect(std::filesystem::path file);

}  // namespace footring::store

// store/sqlite_dialect.h - what SQLite does in its own way: opening, checking, migrating, searching, complaining.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>

#include "store/sql_tables.h"
#include "store/store.h"

namespace footring::store {

// Creates or checks the file and brings its tables up to date. kStore: damaged, not ours, made by a newer program.
Expected<void> prepare_sqlite(const std::filesystem::path& file, const Now& now);
std::unique_ptr<Dialect> make_sqlite_dialect(std::filesystem::path file);

}  // namespace footring::store

// store/sqlite_migrations.h - the tables in SQLite, step by step from the first version on; docs/store.md explains
// them.
//   To change the tables: append a migration with the next number. Never edit one that was released: files out
//   there have run it. Each runs in a transaction with its row in schema_version.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "store/migration.h"

namespace footring::store {

std::span<const Migration> sqlite_migrations();  // versions 1, 2, 3 ...

}  // namespace footring::store

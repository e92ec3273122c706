// store/postgres_migrations.h - the tables in PostgreSQL, step by step; migration.h says what their numbers mean.
//   To change the tables: append a migration here and in sqlite_migrations.cpp, with the same number. Never edit
//   one that was released. PostgreSQL began with the tables of version 3.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>

#include "store/migration.h"

namespace footring::store {

std::span<const Migration> postgres_migrations();

}  // namespace footring::store

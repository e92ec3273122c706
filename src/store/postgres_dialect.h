// store/postgres_dialect.h - what PostgreSQL does in its own way: opening, migrating, searching, complaining,
// telling others.
//   Sessions are made anew when the connection was lost before a transaction began; a transaction in progress then
//   fails, and keeps nothing unless its very last step, the commit, was under way.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>

#include "store/sql_tables.h"
#include "store/store.h"

namespace footring::store {

// An address is what libpq takes for one: "postgresql://USER@HOST/DATABASE?...".
bool is_postgres_address(std::string_view);
std::string without_password(std::string_view address);
// The same address, with how long to wait for a host that has gone without a word, unless it says so itself.
std::string with_patience(std::string address);

// Checks whose database it is and brings its tables up to date; several programs may do so at once. kStore: it does
// not answer, is another program's, is no UTF-8, or was made by a newer program.
Expected<void> prepare_postgres(const std::string& address, const Now& now);
// The database is held as long as a session for writing is open: by any number of programs, or, to move a store, by
// one alone. Opening throws when that cannot be; the hold goes with the connection, however that ends.
enum class Hold { kShared, kAlone };
std::unique_ptr<Dialect> make_postgres_dialect(std::string address, Hold = Hold::kShared);

}  // namespace footring::store

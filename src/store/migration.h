// store/migration.h - one step of the tables of a database, and the run of those that it has not had yet.
//   The numbers are the same in every database: the same number, the same tables (docs/store.md). Each step runs in
//   a transaction with its row in schema_version; there are only steps forward.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <soci/soci.h>

#include <span>
#include <string>
#include <string_view>

#include "store/store.h"

namespace footring::store {

struct Migration {
    int version;
    std::string_view what;
    std::span<const std::string_view> statements;
};

// `where` names the database in a Problem. kStore: a newer program wrote it. Throws what the database throws.
Expected<void> migrate(soci::session&, std::span<const Migration>, const std::string& where, const Now&);

}  // namespace footring::store

// store/postgres_store.h - a store in a PostgreSQL database, used by any number of programs at once.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>

#include "store/store.h"
#include "store/tables.h"

namespace footring::store {

// Creates what is missing and migrates forward. kStore: see prepare_postgres() in postgres_dialect.h.
Expected<std::unique_ptr<Store>> open_postgres(const std::string& address, std::unique_ptr<Blobs> photographs,
                                               Now now);

}  // namespace footring::store

// store/place.h - where a store is: in one folder, or in a PostgreSQL database with its photographs elsewhere.
//   The one way in for everybody who opens a store by what a person named.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <memory>
#include <string>

#include "store/store.h"
#include "store/tables.h"

namespace footring::store {

struct Place {
    std::filesystem::path folder;  // of a SQLite store; of the photographs, unless `photos` names another place
    std::string database;          // "postgresql://..."; empty: SQLite in the folder
    std::string photos;            // a folder, or "s3://..." (object_blobs.h); empty: `folder`
    std::string key_id, secret;    // of the store of objects
};

// As a person named it, without a password: for messages.
std::string name_of(const Place&);
// kBadInput: what is named as a database is no address of one.
Expected<void> check(const Place&);
Expected<std::unique_ptr<Blobs>> open_blobs(const Place&);
// Opens or creates it. Of a SQLite store one program at a time may have it open; of a database any number, on any
// machines, with the photographs in one place that all of them reach.
Expected<std::unique_ptr<Store>> open_store(const Place&, Now);

}  // namespace footring::store

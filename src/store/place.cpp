// SPDX-License-Identifier: Apache-2.0
#include "store/place.h"

#include "store/folder_blobs.h"
#include "store/object_blobs.h"
#include "store/postgres_dialect.h"
#include "store/postgres_store.h"

namespace footring::store {

std::string name_of(const Place& place) {
    return place.database.empty() ? place.folder.string() : without_password(place.database);
}

Expected<void> check(const Place& place) {
    if (place.database.empty() || is_postgres_address(place.database)) return {};
    return fail(ProblemCode::kBadInput, "--store", "this is no address of a database",
                "write postgresql://USER@HOST/DATABASE, or name a folder with --data DIR");
}

Expected<std::unique_ptr<Blobs>> open_blobs(const Place& place) {
    if (is_object_address(place.photos)) return open_object_blobs(place.photos, place.key_id, place.secret);
    return open_folder_blobs(place.photos.empty() ? place.folder : std::filesystem::path(place.photos), real_disk(),
                             place.database.empty() ? Sharing::kAlone : Sharing::kShared);
}

Expected<std::unique_ptr<Store>> open_store(const Place& place, Now now) {
    if (auto ok = check(place); !ok) return std::unexpected(ok.error());
    if (place.database.empty()) return open_sqlite(place.folder, std::move(now));
    auto blobs = open_blobs(place);
    if (!blobs) return std::unexpected(blobs.error());
    return open_postgres(place.database, std::move(*blobs), std::move(now));
}

}  // namespace footring::store

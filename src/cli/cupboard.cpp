// SPDX-License-Identifier: Apache-2.0
#include "cli/cupboard.h"

#include <fmt/chrono.h>

#include <chrono>

#include "store/memory_store.h"

namespace footring::cli {

std::string utc_now() {
    const auto now = std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
    return fmt::format("{:%Y-%m-%dT%H:%M:%SZ}", fmt::gmtime(std::chrono::system_clock::to_time_t(now)));
}

void take_keys(store::Place& place, const World& world) {
    place.key_id = world.variable("AWS_ACCESS_KEY_ID").value_or("");
    place.secret = world.variable("AWS_SECRET_ACCESS_KEY").value_or("");
}

bool names_cupboard(const Call& call) { return call.has("--data") || call.has("--store"); }

Expected<store::Place> place_of(const Call& call, const World& world, const std::string& own_name) {
    store::Place place;
    place.database = call.one("--store").value_or("");
    place.photos = call.one("--photos").value_or("");
    take_keys(place, world);
    if (place.database.empty() && !place.photos.empty())
        return fail(ProblemCode::kBadInput, "--photos", "is given without --store",
                    "leave it out: photographs are in the folder of --data, or name a database with --store");
    if (const auto folder = call.one("--data")) {
        place.folder = *folder;
    } else if (const auto own = own_folder(world, own_name)) {
        place.folder = *own;
    } else if (place.photos.empty()) {
        return std::unexpected(own.error());
    }
    if (auto ok = store::check(place); !ok) return std::unexpected(ok.error());
    return place;
}

Expected<std::unique_ptr<store::Store>> open_cupboard(const Call& call, const World& world,
                                                      WhenMissing when_missing) {
    const auto place = place_of(call, world);
    if (!place) return std::unexpected(place.error());
    return open_cupboard(*place, when_missing);
}

Expected<std::unique_ptr<store::Store>> open_cupboard(const store::Place& place, WhenMissing when_missing) {
    if (!place.database.empty()) return store::open_store(place, utc_now);
    const std::filesystem::path& folder = place.folder;
    std::error_code error;
    if (std::filesystem::exists(folder, error) && !std::filesystem::is_directory(folder, error))
        return fail(ProblemCode::kBadInput, folder.string(), "this is a file, not a folder", "name a folder");
    if (when_missing != WhenMissing::kMake && !std::filesystem::exists(folder / "footring.db", error)) {
        if (when_missing == WhenMissing::kPretend) return store::open_in_memory(utc_now);
        return fail(ProblemCode::kNotFound, folder.string(), "there is no cupboard in this folder",
                    "check the path; `footring serve --data DIR` and `footring import` make one");
    }
    return store::open_store(place, utc_now);
}

Expected<std::filesystem::path> own_folder(const World& world, const std::string& name) {
    if (const auto base = world.variable("XDG_DATA_HOME"); base && base->starts_with('/'))
        return std::filesystem::path(*base) / name;
    if (const auto home = world.variable("HOME"); home && home->starts_with('/'))
        return std::filesystem::path(*home) / ".local" / "share" / name;
    return fail(ProblemCode::kBadInput, "--data", "there is no home folder to keep pieces in", "add --data DIR");
}

}  // namespace footring::cli

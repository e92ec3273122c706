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

Expected<std::unique_ptr<store::Store>> open_cupboard(const std::string& folder, WhenMissing when_missing) {
    std::error_code error;
    if (std::filesystem::exists(folder, error) && !std::filesystem::is_directory(folder, error))
        return fail(ProblemCode::kBadInput, folder, "this is a file, not a folder", "name a folder");
    if (when_missing != WhenMissing::kMake &&
        !std::filesystem::exists(std::filesystem::path(folder) / "footring.db", error)) {
        if (when_missing == WhenMissing::kPretend) return store::open_in_memory(utc_now);
        return fail(ProblemCode::kNotFound, folder, "there is no cupboard in this folder",
                    "check the path; `footring serve --data DIR` and `footring import` make one");
    }
    return store::open_sqlite(folder, utc_now);
}

Expected<std::filesystem::path> own_folder(const World& world, const std::string& name) {
    if (const auto base = world.variable("XDG_DATA_HOME"); base && base->starts_with('/'))
        return std::filesystem::path(*base) / name;
    if (const auto home = world.variable("HOME"); home && home->starts_with('/'))
        return std::filesystem::path(*home) / ".local" / "share" / name;
    return fail(ProblemCode::kBadInput, "--data", "there is no home folder to keep pieces in", "add --data DIR");
}

}  // namespace footring::cli

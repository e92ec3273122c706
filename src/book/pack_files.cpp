// SPDX-License-Identifier: Apache-2.0
#include "book/pack_files.h"

#include <fmt/format.h>

#include <algorithm>
#include <fstream>

namespace footring::book {

namespace fs = std::filesystem;

namespace {

std::unexpected<Problem> leads_out(std::string where, std::string_view path) {
    return fail(ProblemCode::kBadInput, std::move(where), fmt::format("the path '{}' leads out of the pack", path),
                "put the file into the pack and name it by a relative path");
}

std::unexpected<Problem> too_large(std::string where) {
    return fail(ProblemCode::kTooLarge, std::move(where),
                fmt::format("the file is larger than {} MB", kMostPackBytes >> 20), "split it into several packs");
}

}  // namespace

bool stays_inside(std::string_view path) {
    if (path.empty() || path.front() == '/' || path.find('\\') != path.npos || path.find(':') != path.npos)
        return false;
    const fs::path parts(path);
    return std::ranges::none_of(parts, [](const fs::path& part) { return part == ".."; });
}

Expected<void> PackOnDisk::open() {
    std::error_code error;
    const std::string shown = given_.generic_string();
    if (!fs::exists(given_, error))
        return fail(ProblemCode::kNotFound, shown, "there is no such folder", "check the path of the pack");
    if (!fs::is_directory(given_, error))
        return fail(ProblemCode::kBadInput, shown, "this is not a folder",
                    "name the folder that holds datapackage.json");
    root_ = fs::canonical(given_, error);
    if (error)
        return fail(ProblemCode::kUnreadable, shown,
                    fmt::format("the folder cannot be opened ({})", error.message()), "check that you may read it");
    return {};
}

std::string PackOnDisk::shown(std::string_view path) const { return (given_ / path).generic_string(); }

Expected<std::string> PackOnDisk::read(std::string_view path) const {
    if (!stays_inside(path)) return leads_out(shown(path), path);
    std::error_code error;
    const fs::path real = fs::canonical(root_ / path, error);
    if (error == std::errc::no_such_file_or_directory || error == std::errc::not_a_directory)
        return fail(ProblemCode::kNotFound, shown(path), "there is no such file",
                    "add the file or correct its path");
    const auto unreadable = [&](std::string_view why) {
        return fail(ProblemCode::kUnreadable, shown(path), fmt::format("the file cannot be read ({})", why),
                    "check that it is a file and that you may read it");
    };
    if (error) return unreadable(error.message());
    // A symbolic link may lead anywhere; only what really lies in the folder belongs to the pack.
    if (std::ranges::mismatch(root_, real).in1 != root_.end()) return leads_out(shown(path), path);
    // Only plain files: reading from a pipe or a device might never end.
    if (!fs::is_regular_file(real, error)) return unreadable("it is not a plain file");
    const auto size = fs::file_size(real, error);
    if (error) return unreadable(error.message());
    if (size > kMostPackBytes) return too_large(shown(path));
    std::ifstream in(real, std::ios::binary);
    std::string bytes(size, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(size));
    if (!in) return unreadable("it became shorter, or may not be read");
    return bytes;
}

Expected<std::string> PackInMemory::read(std::string_view path) const {
    if (!stays_inside(path)) return leads_out(shown(path), path);
    const auto found = files_.find(std::string(path));
    if (found == files_.end())
        return fail(ProblemCode::kNotFound, shown(path), "there is no such file",
                    "add the file or correct its path");
    if (found->second.size() > kMostPackBytes) return too_large(shown(path));
    return found->second;
}

}  // namespace footring::book

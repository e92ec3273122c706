// SPDX-License-Identifier: Apache-2.0
#include "cli/new_folder.h"

#include <fmt/format.h>

#include <fstream>
#include <utility>

namespace footring::cli {

namespace fs = std::filesystem;

namespace {

std::unexpected<Problem> refused(const fs::path& where, const std::string& why) {
    return fail(ProblemCode::kStore, where.string(), fmt::format("it cannot be written ({})", why),
                "check the rights of the folder and the space on the disk");
}

}  // namespace

NewFolder::NewFolder(fs::path out, std::string marker) : out_(std::move(out)), marker_(std::move(marker)) {
    partial_ = out_;
    partial_ += ".partial";
}
NewFolder::NewFolder(NewFolder&& other) noexcept
    : out_(std::move(other.out_)),
      partial_(std::move(other.partial_)),
      marker_(std::move(other.marker_)),
      open_(std::exchange(other.open_, false)) {}
NewFolder::~NewFolder() {
    std::error_code ignored;
    if (open_) fs::remove_all(partial_, ignored);
}

Expected<NewFolder> NewFolder::begin(const std::string& out, std::string_view marker) {
    std::error_code error;
    fs::path path = fs::absolute(fs::path(out), error).lexically_normal();
    if (!path.has_filename()) path = path.parent_path();  // "site/"
    if (!fs::is_directory(path.parent_path(), error))
        return fail(ProblemCode::kNotFound, path.parent_path().string(), "there is no such folder",
                    "make it first");
    const bool there = fs::exists(path, error);
    const bool empty = there && fs::is_directory(path, error) && fs::is_empty(path, error);
    if (there && !empty && !fs::exists(path / marker, error))
        return fail(ProblemCode::kBadInput, out, "something else is there",
                    "name a folder that does not exist yet");
    NewFolder folder(std::move(path), std::string(marker));
    fs::remove_all(folder.partial_, error);
    if (!fs::create_directory(folder.partial_, error)) return refused(folder.partial_, error.message());
    return folder;
}

Expected<void> NewFolder::write(const std::string& path, std::string_view bytes) {
    const fs::path file = partial_ / path;
    std::error_code error;
    fs::create_directories(file.parent_path(), error);
    std::ofstream stream(file, std::ios::binary);
    stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    stream.close();
    if (!stream) return refused(file, "the disk refused");
    return {};
}

Expected<void> NewFolder::finish() {
    if (auto done = write(marker_, "Written by footring; replaced whole when it is written again.\n"); !done)
        return done;
    std::error_code error;
    fs::path old = out_;
    old += ".old";
    fs::remove_all(old, error);
    if (fs::exists(out_, error)) {
        fs::rename(out_, old, error);
        if (error) return refused(out_, error.message());
    }
    fs::rename(partial_, out_, error);
    if (error) {
        std::error_code ignored;
        fs::rename(old, out_, ignored);
        return refused(out_, error.message());
    }
    open_ = false;
    fs::remove_all(old, error);
    return {};
}

}  // namespace footring::cli

// SPDX-License-Identifier: Apache-2.0
#include "book/pack_writer.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <system_error>

#include "book/json_text.h"
#include "book/pack_files.h"

namespace footring::book {

namespace fs = std::filesystem;

namespace {

constexpr const char* kStaging = ".footring-edit";
constexpr const char* kJournal = "journal.json";

std::unexpected<Problem> refused(const fs::path& path, int error) {
    const bool full = error == ENOSPC || error == EDQUOT;
    return fail(ProblemCode::kStore, path.generic_string(),
                fmt::format("the file cannot be written ({})", std::generic_category().message(error)),
                full ? "free some room on the disk, then try again"
                     : "check that you may write into the folder of the pack");
}

Expected<void> sync_folder(const fs::path& folder) {
    const int fd = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (fd < 0) return refused(folder, errno);
    const int result = ::fsync(fd), error = errno;
    ::close(fd);
    if (result != 0) return refused(folder, error);
    return {};
}

Expected<void> write_synced(const fs::path& path, std::string_view bytes, mode_t mode) {
    const int fd = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, mode);
    if (fd < 0) return refused(path, errno);
    // What umask took away from a file that others may write, such as one shared in a group.
    if (::fchmod(fd, mode) != 0) std::ignore = errno;
    while (!bytes.empty()) {
        const ssize_t written = ::write(fd, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) {
            const int error = errno;
            ::close(fd);
            return refused(path, error);
        }
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    const int result = ::fsync(fd), error = errno;
    if (::close(fd) != 0 || result != 0) return refused(path, result != 0 ? error : errno);
    return {};
}

std::optional<std::string> bytes_at(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    if (!in) return std::nullopt;
    return std::string{std::istreambuf_iterator<char>(in), {}};
}

// Where a path of the pack really lies.
fs::path target_of(const fs::path& folder, const std::string& path) {
    std::error_code error;
    const fs::path real = fs::weakly_canonical(folder / path, error);
    return error ? folder / path : real;
}

mode_t mode_of(const fs::path& path) {
    struct stat about {};
    constexpr mode_t kNewFile = 0644;
    return ::stat(path.c_str(), &about) == 0 ? about.st_mode & 07777u : kNewFile;
}

bool read_only(const fs::path& path) {
    struct stat about {};
    if (::stat(path.c_str(), &about) != 0) return false;
    return (about.st_mode & 0222u) == 0 || ::access(path.c_str(), W_OK) != 0;
}

// Renames what the journal lists; what was renamed before the crash is not there any more, and done.
Expected<void> carry_out(const fs::path& folder, const nlohmann::json& journal) {
    const fs::path staging = folder / kStaging;
    for (const auto& step : journal["files"]) {
        const std::string path = step.value("to", "");
        if (!stays_inside(path))
            return fail(ProblemCode::kStore, (staging / kJournal).generic_string(),
                        "the journal of an unfinished edit names a file outside of the pack",
                        "take the folder .footring-edit out of the pack and look at its files");
        const fs::path target = target_of(folder, path);
        if (step["from"].is_null()) {
            if (::unlink(target.c_str()) != 0 && errno != ENOENT) return refused(target, errno);
        } else {
            const fs::path from = staging / step["from"].get<std::string>();
            if (::rename(from.c_str(), target.c_str()) != 0 && errno != ENOENT) return refused(target, errno);
        }
        if (auto synced = sync_folder(target.parent_path()); !synced) return synced;
    }
    std::error_code ignored;
    fs::remove_all(staging, ignored);
    return sync_folder(folder);
}

}  // namespace

std::optional<std::string> why_not_editable(const fs::path& folder) {
    std::error_code error;
    if (!fs::is_directory(folder, error)) return "its folder is not there";
    if (read_only(folder)) return "its folder is read-only";
    return std::nullopt;
}

Expected<void> finish_edit(const fs::path& folder) {
    const fs::path staging = folder / kStaging;
    std::error_code error;
    if (!fs::exists(staging, error)) return {};
    const auto text = bytes_at(staging / kJournal);
    const auto journal = text ? json_from_text(*text, (staging / kJournal).generic_string())
                              : Expected<nlohmann::json>(nlohmann::json());
    if (!text || !journal || !journal->is_object() || !journal->contains("files")) {
        fs::remove_all(staging, error);  // it never came to the point
        return {};
    }
    return carry_out(folder, *journal);
}

Expected<void> write_pack(const fs::path& folder, const std::vector<FileChange>& changes) {
    if (changes.empty()) return {};
    if (const auto why = why_not_editable(folder))
        return fail(ProblemCode::kBadInput, folder.generic_string(),
                    fmt::format("the pack cannot be edited: {}", *why), "make it writable, or edit a copy of it");
    for (const FileChange& change : changes)
        if (change.before && read_only(target_of(folder, change.path)))
            return fail(ProblemCode::kBadInput, (folder / change.path).generic_string(), "the file is read-only",
                        "make it writable, or edit a copy of the pack");
    if (auto finished = finish_edit(folder); !finished) return finished;

    const fs::path staging = folder / kStaging;
    std::error_code error;
    const auto give_up = [&](Expected<void> problem) {
        fs::remove_all(staging, error);
        return problem;
    };
    if (!fs::create_directory(staging, error)) return refused(staging, error ? error.value() : EEXIST);
    nlohmann::json journal = {{"files", nlohmann::json::array()}};
    for (std::size_t at = 0; at < changes.size(); ++at) {
        const FileChange& change = changes[at];
        const fs::path target = target_of(folder, change.path);
        if (bytes_at(target) != change.before)
            return give_up(std::unexpected(changed_meanwhile((folder / change.path).generic_string())));
        nlohmann::json step = {{"from", nullptr}, {"to", change.path}};
        if (change.after) {
            step["from"] = std::to_string(at);
            fs::create_directories(target.parent_path(), error);
            if (error) return give_up(refused(target.parent_path(), error.value()));
            if (auto written = write_synced(staging / std::to_string(at), *change.after, mode_of(target)); !written)
                return give_up(written);
        }
        journal["files"].push_back(std::move(step));
    }
    const fs::path incoming = staging / "journal.incoming";
    if (auto written = write_synced(incoming, journal.dump(2), 0644); !written) return give_up(written);
    if (::rename(incoming.c_str(), (staging / kJournal).c_str()) != 0) return give_up(refused(staging, errno));
    if (auto synced = sync_folder(staging); !synced) return give_up(synced);
    return carry_out(folder, journal);
}

Expected<void> copy_pack(const fs::path& folder, const fs::path& to) {
    std::error_code error;
    const fs::path parent = to.has_parent_path() ? to.parent_path() : fs::path(".");
    fs::create_directories(parent, error);
    const fs::path incoming = parent / ("." + to.filename().string() + ".incoming");
    fs::remove_all(incoming, error);
    fs::copy(folder, incoming, fs::copy_options::recursive, error);
    if (!error)  // a copy of a read-only pack is there to be edited
        for (const auto& entry : fs::recursive_directory_iterator(incoming))
            fs::permissions(entry.path(), fs::perms::owner_write, fs::perm_options::add, error);
    if (!error) fs::permissions(incoming, fs::perms::owner_write, fs::perm_options::add, error);
    if (!error) fs::rename(incoming, to, error);
    if (!error) return sync_folder(parent);
    std::error_code ignored;
    fs::remove_all(incoming, ignored);
    return refused(to, error.value());
}

}  // namespace footring::book

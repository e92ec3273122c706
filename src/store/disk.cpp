// SPDX-License-Identifier: Apache-2.0
#include "store/disk.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace footring::store {

namespace {

class File {
  public:
    explicit File(int file) : file_(file) {}
    ~File() {
        if (file_ >= 0) ::close(file_);
    }
    File(const File&) = delete;
    File& operator=(const File&) = delete;
    int number() const { return file_; }
    bool is_open() const { return file_ >= 0; }

  private:
    int file_;
};

bool write_whole(int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

Expected<void> sync_folder(const std::filesystem::path& folder) {
    const File file(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (!file.is_open() || ::fsync(file.number()) != 0) return std::unexpected(disk_problem(folder, errno));
    return {};
}

}  // namespace

Problem disk_problem(const std::filesystem::path& path, int error) {
    const auto problem = [&](std::string what, std::string remedy) {
        return Problem{ProblemCode::kStore, path.string(), std::move(what), std::move(remedy)};
    };
    switch (error) {
        case ENOSPC:
        case EDQUOT:
            return problem("the disk is full", "free some space on this disk and try again");
        case EROFS:
        case EACCES:
        case EPERM:
            return problem("this may not be written here",
                           "give yourself the right to write to this folder, or choose another with --data");
        case ENOTDIR:
        case EEXIST:
            return problem("a file stands where a folder is needed",
                           "move the file away, or choose another folder");
        case ENAMETOOLONG:
            return problem("the path is too long", "choose a folder with a shorter path");
        default:
            return problem(fmt::format("the disk refuses ({})", std::strerror(error)),
                           "check the disk and try again; what was stored before is kept");
    }
}

Expected<void> make_folder(const std::filesystem::path& folder) {
    std::error_code error;
    if (std::filesystem::is_directory(folder, error)) return {};
    const std::filesystem::path above = folder.parent_path();
    if (!above.empty() && above != folder)
        if (auto ok = make_folder(above); !ok) return ok;
    if (::mkdir(folder.c_str(), 0755) != 0 && !(errno == EEXIST && std::filesystem::is_directory(folder, error)))
        return std::unexpected(disk_problem(folder, errno));
    return sync_folder(above.empty() ? "." : above);
}

Expected<void> write_file(const std::filesystem::path& path, const std::filesystem::path& incoming,
                          std::string_view bytes) {
    {
        const File file(::open(incoming.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644));
        if (!file.is_open() || !write_whole(file.number(), bytes) || ::fsync(file.number()) != 0) {
            const int error = errno;
            ::unlink(incoming.c_str());
            return std::unexpected(disk_problem(path, error));
        }
    }
    if (::rename(incoming.c_str(), path.c_str()) != 0) {
        const int error = errno;
        ::unlink(incoming.c_str());
        return std::unexpected(disk_problem(path, error));
    }
    return sync_folder(path.parent_path());
}

Expected<std::string> read_file(const std::filesystem::path& path) {
    const File file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (!file.is_open() && (errno == ENOENT || errno == ENOTDIR))
        return fail(ProblemCode::kNotFound, path.string(), "there is no such file", "bring it back from a backup");
    if (!file.is_open()) return std::unexpected(disk_problem(path, errno));
    std::string bytes;
    struct stat about {};
    if (::fstat(file.number(), &about) == 0 && about.st_size > 0)
        bytes.reserve(static_cast<std::size_t>(about.st_size));
    char buffer[1 << 16];
    for (;;) {
        const ssize_t got = ::read(file.number(), buffer, sizeof buffer);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return std::unexpected(disk_problem(path, errno));
        if (got == 0) return bytes;
        bytes.append(buffer, static_cast<std::size_t>(got));
    }
}

}  // namespace footring::store

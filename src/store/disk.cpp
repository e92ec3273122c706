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
    File(DiskCalls& disk, int file) : disk_(disk), file_(file) {}
    ~File() {
        if (file_ >= 0) disk_.close(file_);
    }
    File(const File&) = delete;
    File& operator=(const File&) = delete;
    int number() const { return file_; }
    bool is_open() const { return file_ >= 0; }

  private:
    DiskCalls& disk_;
    int file_;
};

bool write_whole(DiskCalls& disk, int file, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = disk.write(file, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return true;
}

Expected<void> sync_folder(const std::filesystem::path& path, DiskCalls& disk) {
    const std::filesystem::path folder = path.empty() ? "." : path;
    const File file(disk, disk.open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0));
    if (!file.is_open() || disk.fsync(file.number()) != 0) return std::unexpected(disk_problem(folder, errno));
    return {};
}

std::unexpected<Problem> no_file(const std::filesystem::path& path) {
    return fail(ProblemCode::kNotFound, path.string(), "there is no such file", "bring it back from a backup");
}

}  // namespace

int DiskCalls::open(const char* path, int flags, mode_t mode) { return ::open(path, flags, mode); }
ssize_t DiskCalls::write(int file, const void* bytes, std::size_t size) { return ::write(file, bytes, size); }
int DiskCalls::fsync(int file) { return ::fsync(file); }
int DiskCalls::close(int file) { return ::close(file); }
int DiskCalls::rename(const char* from, const char* to) { return ::rename(from, to); }
int DiskCalls::unlink(const char* path) { return ::unlink(path); }
int DiskCalls::mkdir(const char* path, mode_t mode) { return ::mkdir(path, mode); }

DiskCalls& real_disk() {
    static DiskCalls kernel;  // has no state
    return kernel;
}

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

Expected<void> make_folder(const std::filesystem::path& folder, DiskCalls& disk) {
    std::error_code error;
    if (std::filesystem::is_directory(folder, error)) return {};
    const std::filesystem::path above = folder.parent_path();
    if (!above.empty() && above != folder)
        if (auto ok = make_folder(above, disk); !ok) return ok;
    if (disk.mkdir(folder.c_str(), 0755) != 0 && !(errno == EEXIST && std::filesystem::is_directory(folder, error)))
        return std::unexpected(disk_problem(folder, errno));
    return sync_folder(above, disk);
}

Expected<void> write_file(const std::filesystem::path& path, const std::filesystem::path& incoming,
                          std::string_view bytes, DiskCalls& disk) {
    {
        const File file(disk, disk.open(incoming.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644));
        if (!file.is_open() || !write_whole(disk, file.number(), bytes) || disk.fsync(file.number()) != 0) {
            const int error = errno;
            disk.unlink(incoming.c_str());
            return std::unexpected(disk_problem(path, error));
        }
    }
    auto moved = move_file(incoming, path, disk);
    if (!moved) disk.unlink(incoming.c_str());
    return moved;
}

Expected<void> move_file(const std::filesystem::path& from, const std::filesystem::path& to, DiskCalls& disk) {
    if (disk.rename(from.c_str(), to.c_str()) != 0) return std::unexpected(disk_problem(to, errno));
    return sync_folder(to.parent_path(), disk);
}

Expected<std::string> read_file(const std::filesystem::path& path) {
    const File file(real_disk(), ::open(path.c_str(), O_RDONLY | O_CLOEXEC));
    if (!file.is_open() && (errno == ENOENT || errno == ENOTDIR)) return no_file(path);
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

Expected<OutFile> OutFile::make(const std::filesystem::path& path) {
    const int file = ::open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0644);
    if (file < 0) return std::unexpected(disk_problem(path, errno));
    return OutFile(path, file);
}
OutFile::~OutFile() {
    if (file_ < 0) return;
    ::close(file_);
    if (!kept_) ::unlink(path_.c_str());
}
Expected<void> OutFile::write(std::string_view bytes) {
    if (!write_whole(real_disk(), file_, bytes)) return std::unexpected(disk_problem(path_, errno));
    return {};
}
Expected<void> OutFile::sync() {
    if (::fsync(file_) != 0) return std::unexpected(disk_problem(path_, errno));
    return {};
}

Expected<InFile> InFile::open(const std::filesystem::path& path) {
    const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0 && (errno == ENOENT || errno == ENOTDIR)) return no_file(path);
    if (file < 0) return std::unexpected(disk_problem(path, errno));
    return InFile(path, file);
}
InFile::~InFile() {
    if (file_ >= 0) ::close(file_);
}
Expected<std::string> InFile::read(std::size_t most) {
    std::string bytes(most, '\0');
    std::size_t have = 0;
    while (have < most) {
        const ssize_t got = ::read(file_, bytes.data() + have, most - have);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) return std::unexpected(disk_problem(path_, errno));
        if (got == 0) break;
        have += static_cast<std::size_t>(got);
    }
    bytes.resize(have);
    return bytes;
}

}  // namespace footring::store

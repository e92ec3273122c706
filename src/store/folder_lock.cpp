// SPDX-License-Identifier: Apache-2.0
#include "store/folder_lock.h"

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <utility>

#include "store/disk.h"

namespace footring::store {

Expected<std::optional<FolderLock>> FolderLock::try_take(const std::filesystem::path& folder) {
    const std::filesystem::path path = folder / "footring.lock";
    const int file = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0644);
    if (file < 0) return std::unexpected(disk_problem(path, errno));
    FolderLock lock(file);
    if (::flock(file, LOCK_EX | LOCK_NB) == 0) return lock;
    if (errno != EWOULDBLOCK) return std::unexpected(disk_problem(path, errno));
    return std::nullopt;
}

bool FolderLock::is_held(const std::filesystem::path& folder) {
    const int file = ::open((folder / "footring.lock").c_str(), O_RDONLY | O_CLOEXEC);
    if (file < 0) return false;
    const FolderLock lock(file);
    return ::flock(file, LOCK_SH | LOCK_NB) != 0 && errno == EWOULDBLOCK;
}

Expected<FolderLock> FolderLock::take(const std::filesystem::path& folder) {
    auto lock = try_take(folder);
    if (!lock) return std::unexpected(lock.error());
    if (*lock) return std::move(**lock);
    return fail(ProblemCode::kStore, folder.string(), "another Footring has this folder open",
                "use the one that is running, or stop it first");
}

FolderLock::FolderLock(FolderLock&& other) noexcept : file_(std::exchange(other.file_, -1)) {}
FolderLock::~FolderLock() {
    if (file_ >= 0) ::close(file_);
}

}  // namespace footring::store

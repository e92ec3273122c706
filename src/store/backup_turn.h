// store/backup_turn.h - one backup at a time in a folder.
//   Two would take each other's unfinished files for leftovers of a crash; a keeper who makes one while one is made
//   by itself waits for it. The lock is the kernel's, on the folder itself, so that nothing is left behind and
//   other programs wait as well. Where a disk knows no such locks nobody waits.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <cerrno>
#include <cstdint>
#include <filesystem>

namespace footring::store {

enum class Waiting : std::uint8_t { kUntilFree, kNotAtAll };

class BackupTurn {
  public:
    BackupTurn(const std::filesystem::path& folder, Waiting waiting)
        : folder_(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC)) {
        const int how = waiting == Waiting::kUntilFree ? LOCK_EX : LOCK_EX | LOCK_NB;
        int done = 0;
        do done = folder_ < 0 ? 0 : ::flock(folder_, how);
        while (done != 0 && errno == EINTR);
        ours_ = done == 0 || errno != EWOULDBLOCK;
    }
    ~BackupTurn() {
        if (folder_ >= 0) ::close(folder_);
    }
    BackupTurn(const BackupTurn&) = delete;
    BackupTurn& operator=(const BackupTurn&) = delete;
    bool ours() const { return ours_; }  // false: another one is being made

  private:
    int folder_;
    bool ours_ = false;
};

}  // namespace footring::store

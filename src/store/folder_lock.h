// store/folder_lock.h - one program at a time in a data folder.
//   An exclusive flock() on DIR/footring.lock: the kernel lets go of it when the program ends, however it ends, so
//   that a crash leaves no lock behind. The file itself stays and means nothing.
//   errors  kStore: another program holds the folder, or it cannot be written
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <memory>
#include <optional>

#include "base/problem.h"

namespace footring::store {

class FolderLock {
  public:
    static Expected<FolderLock> take(const std::filesystem::path& folder);
    static Expected<std::optional<FolderLock>> try_take(const std::filesystem::path& folder);  // absent: held
    static bool is_held(const std::filesystem::path& folder);  // needs no right to write
    FolderLock(FolderLock&& other) noexcept;
    FolderLock& operator=(FolderLock&&) = delete;
    ~FolderLock();

  private:
    explicit FolderLock(int file) : file_(file) {}
    int file_;
};

}  // namespace footring::store

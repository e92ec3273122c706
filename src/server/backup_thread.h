// server/backup_thread.h - automatic backups while the server runs, into DIR/backups (store/automatic_backups.h).
//   A thread of its own looks at the beginning and then every ten minutes whether one is due; nobody waits for it.
//   What it did, and what went wrong, goes to the log: a full disk must not stop anybody from looking at their
//   pieces.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <filesystem>
#include <functional>
#include <mutex>
#include <string>
#include <thread>

#include "store/automatic_backups.h"

namespace footring::server {

class BackupThread {
  public:
    using Say = std::function<void(bool well, const std::string&)>;
    BackupThread(std::filesystem::path data, store::KeepBackups keep, store::Now now, Say say);
    ~BackupThread();  // when the one that is being made is done
    BackupThread(const BackupThread&) = delete;
    BackupThread& operator=(const BackupThread&) = delete;

  private:
    void run(const std::stop_token& stop);

    const std::filesystem::path data_;
    const store::KeepBackups keep_;
    const store::Now now_;
    const Say say_;
    std::mutex mutex_;
    std::condition_variable_any wake_;
    std::jthread thread_;  // last: it uses all of these
};

}  // namespace footring::server

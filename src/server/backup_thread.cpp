// SPDX-License-Identifier: Apache-2.0
#include "server/backup_thread.h"

#include <fmt/format.h>

#include <chrono>
#include <exception>

namespace footring::server {

namespace {
constexpr std::chrono::minutes kBetweenLooks{10};
}

BackupThread::BackupThread(std::filesystem::path data, store::KeepBackups keep, store::Now now, Say say)
    : data_(std::move(data)),
      keep_(keep),
      now_(std::move(now)),
      say_(std::move(say)),
      thread_([this](const std::stop_token& stop) { run(stop); }) {}

BackupThread::~BackupThread() {
    thread_.request_stop();
    wake_.notify_all();
}

void BackupThread::run(const std::stop_token& stop) {
    std::unique_lock lock(mutex_);
    while (!stop.stop_requested()) {
        try {
            const auto made = store::backup_when_due(data_, keep_, now_);
            if (!made) say_(false, to_line(made.error()));
            else if (*made) say_(true, (*made)->file.filename().string());
        } catch (const std::exception& mistake) {  // of ours; the server goes on
            say_(false, mistake.what());
        }
        wake_.wait_for(lock, stop, kBetweenLooks, [] { return false; });
    }
}

}  // namespace footring::server

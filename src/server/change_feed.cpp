// SPDX-License-Identifier: Apache-2.0
#include "server/change_feed.h"

#include <utility>

namespace footring::server {

namespace {
constexpr std::chrono::milliseconds kLook{500};  // how soon the thread notices that it is to end
}

ChangeFeed::ChangeFeed(const store::Store& store, std::function<void()> changed)
    : store_(store),
      changed_(std::move(changed)),
      newest_(store.await_change(0, std::chrono::milliseconds(0)).value_or(0)),
      thread_([this] { run(); }) {}

void ChangeFeed::run() {
    std::int64_t known = newest_;
    for (;;) {
        const auto newest = store_.await_change(known, kLook);
        std::unique_lock lock(mutex_);
        if (closed_) return;
        if (!newest) {  // the database does not answer: whoever asks it something is told why
            heard_.wait_for(lock, kLook, [this] { return closed_; });
            continue;
        }
        if (*newest == known) continue;
        newest_ = known = *newest;
        lock.unlock();
        changed_();
        heard_.notify_all();
    }
}

ChangeFeed::Heard ChangeFeed::wait(std::int64_t after, std::chrono::milliseconds most) {
    std::unique_lock lock(mutex_);
    if (newest_ > after || most.count() <= 0 || closed_) return {newest_, true};
    if (waiting_ >= kMostWaiting) return {newest_, false};
    ++waiting_;
    heard_.wait_for(lock, most, [&] { return newest_ > after || closed_; });
    --waiting_;
    return {newest_, true};
}

void ChangeFeed::close() {
    {
        const std::lock_guard lock(mutex_);
        closed_ = true;
    }
    heard_.notify_all();
    if (thread_.joinable()) thread_.join();
}

}  // namespace footring::server

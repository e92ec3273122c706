// server/change_feed.h - what has changed, told as it happens, whichever server on the same store changed it.
//   One thread waits for the store; those who ask over HTTP wait here. Few may wait at a time, because each holds a
//   thread of the server; the others are told when to ask again.
//   Thread rule: any thread may call anything. The store must outlive it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <functional>
#include <mutex>
#include <thread>

#include "store/store.h"

namespace footring::server {

class ChangeFeed {
  public:
    static constexpr int kMostWaiting = 16;
    static constexpr std::chrono::milliseconds kAskAgain{2000};  // for those who may not wait

    // `changed` is called on the feed's own thread, after every change of anybody.
    ChangeFeed(const store::Store& store, std::function<void()> changed);
    ~ChangeFeed() { close(); }
    ChangeFeed(const ChangeFeed&) = delete;
    ChangeFeed& operator=(const ChangeFeed&) = delete;

    // The id of the newest change: at once when it is above `after`, else as soon as it is, at most so long after.
    // `waited` is false when too many wait already.
    struct Heard {
        std::int64_t newest;
        bool waited;
    };
    Heard wait(std::int64_t after, std::chrono::milliseconds most);
    void close();  // nobody waits any more; twice is harmless

  private:
    void run();

    const store::Store& store_;
    const std::function<void()> changed_;
    std::mutex mutex_;
    std::condition_variable heard_;
    std::int64_t newest_ = 0;
    int waiting_ = 0;
    bool closed_ = false;
    std::thread thread_;  // last: it uses all of these
};

}  // namespace footring::server

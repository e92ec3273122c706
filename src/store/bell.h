// store/bell.h - wakes those who wait for a change of the store; what changed they then read in the history.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <mutex>

namespace footring::store {

class Bell {
  public:
    void ring() {
        const std::lock_guard lock(mutex_);
        ++rings_;
        rang_.notify_all();
    }
    // Look at the history between rings() and wait(): then no change is missed.
    std::uint64_t rings() const {
        const std::lock_guard lock(mutex_);
        return rings_;
    }
    // Until it rings for the next time after `heard`, or until then.
    void wait(std::uint64_t heard, std::chrono::steady_clock::time_point until) const {
        std::unique_lock lock(mutex_);
        rang_.wait_until(lock, until, [&] { return rings_ != heard; });
    }

  private:
    mutable std::mutex mutex_;
    mutable std::condition_variable rang_;
    std::uint64_t rings_ = 0;
};

}  // namespace footring::store

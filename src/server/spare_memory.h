// server/spare_memory.h - gives back to the system what the allocator holds and nobody uses.
//   The allocator of glibc gives nearly every thread an arena of its own, and what one of them has free no other
//   can use; and it gives back only what lies free at an arena's end. After half an hour of many people reading and
//   writing, half to two thirds of the memory was free and held. So there are few arenas, large blocks go back at
//   once, and once a minute so do the free pages in the middle (bench/load.py --soak).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <mutex>
#include <thread>

namespace footring::server {

class SpareMemory {
  public:
    SpareMemory();
    ~SpareMemory();
    SpareMemory(const SpareMemory&) = delete;
    SpareMemory& operator=(const SpareMemory&) = delete;

  private:
    void run(const std::stop_token& stop);

    std::mutex mutex_;
    std::condition_variable_any wake_;
    std::jthread thread_;  // last: it uses the others
};

}  // namespace footring::server

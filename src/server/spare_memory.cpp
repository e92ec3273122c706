// SPDX-License-Identifier: Apache-2.0
#include "server/spare_memory.h"

#include <malloc.h>

#include <chrono>

namespace footring::server {

SpareMemory::SpareMemory() : thread_([this](const std::stop_token& stop) { run(stop); }) {
    constexpr int kArenas = 4, kLargeBlock = 1 << 20;
    mallopt(M_ARENA_MAX, kArenas);
    mallopt(M_MMAP_THRESHOLD, kLargeBlock);
}

SpareMemory::~SpareMemory() {
    thread_.request_stop();
    wake_.notify_all();
}

void SpareMemory::run(const std::stop_token& stop) {
    constexpr std::chrono::minutes kBetween{1};
    std::unique_lock lock(mutex_);
    while (!wake_.wait_for(lock, stop, kBetween, [&] { return stop.stop_requested(); })) malloc_trim(0);
}

}  // namespace footring::server

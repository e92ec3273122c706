// server/queue_work.h - what a reader does: reads the photographs in the queue of a store, one after the other.
//   Any number of readers work on one queue, on any machines (store/reading_queue.h). A lease is renewed while its
//   photograph is read; when it was lost the reading is given up. While the store does not answer the reader waits.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <functional>
#include <string>

#include "server/app.h"
#include "store/reading_queue.h"

namespace footring::server {

struct QueueWork {
    std::string reader;               // its name in the queue
    std::chrono::seconds lease{120};  // [5, 3600] how long a photograph of a reader that is gone stays away
    bool until_empty = false;         // ends when nothing waits and nothing is being read; else when `stop` says so
};
struct QueueWorked {
    enum class How { kRead, kFailed, kLost, kGivenBack };
    std::string sha256;
    How how = How::kRead;
    double seconds = 0;
    std::optional<Problem> problem;
};
// `told` hears of each photograph. kStore when the store does not answer at the beginning.
Expected<void> work_queue(App&, const QueueWork&, const std::function<bool()>& stop,
                          const std::function<void(const QueueWorked&)>& told);
// Adds the photographs that were not read with the packs of the App; how many.
Expected<std::int64_t> fill_queue(App&);

}  // namespace footring::server

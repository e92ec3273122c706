// store/reading_queue.h - photographs that wait to be read, for any number of readers on any machines.
//   A reader leases a photograph for some time, reads it, and finishes it; a lease that runs out, because its
//   reader was killed or cut off, goes to the next one. What a reader finishes after it lost its lease is not kept,
//   so that each photograph in the queue gets exactly one result. Time is the database's: readers' clocks do not
//   matter. A photograph that failed kMostTries times, or whose readers ended that often without a word, is dead:
//   it stays in the queue, with what was last said of it, until somebody revives it or takes it out. Thread rule:
//   any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <string>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::store {

struct Task {
    std::string sha256;
    std::string reader;      // who has it, or had it last
    std::int64_t lease = 0;  // tells this lease from every other; 0: nobody has it
    int tries = 0;           // leases so far, this one included
    bool dead = false;
    std::string said;  // of the last failure, a line; empty: there was none
};
struct QueueCounts {
    std::int64_t waiting = 0, leased = 0, dead = 0;
    friend bool operator==(const QueueCounts&, const QueueCounts&) = default;
};

class ReadingQueue {
  public:
    static constexpr int kMostTries = 5;

    virtual ~ReadingQueue() = default;
    // Those that are not in the queue yet, at its end; how many.
    virtual Expected<std::int64_t> add(const std::vector<std::string>& photographs) = 0;
    // The ones that have waited longest and are not leased; fewer than `most`, or none, when there are no more.
    virtual Expected<std::vector<Task>> lease(const std::string& reader, int most, std::chrono::seconds) = 0;
    virtual Expected<bool> extend(const Task&, std::chrono::seconds) = 0;  // false: the lease was lost
    // Keeps the reading, as Store::put_reading() does, and takes the photograph out of the queue, both or neither.
    // kConflict: the lease was lost; somebody else's result stands, or will.
    virtual Expected<Reading> finish(const Task&, Reading, const std::map<std::string, std::string>& pictures) = 0;
    // It failed: it is dead, or waits again, the longer the more often it failed.
    virtual Expected<void> fail(const Task&, const Problem&) = 0;
    virtual Expected<void> give_back(const Task&) = 0;  // the reader ends; this was no try
    virtual Expected<std::vector<Task>> dead() = 0;
    virtual Expected<std::int64_t> revive() = 0;  // the dead wait again, as if new; how many
    // Takes it out; kNotFound.
    virtual Expected<void> remove(const std::string& sha256) = 0;
    virtual Expected<QueueCounts> counts() = 0;
};

}  // namespace footring::store

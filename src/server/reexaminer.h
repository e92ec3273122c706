// server/reexaminer.h - decided pieces examined again with the Book as it is now, on a thread of its own.
//   One at a time; what the last one found stays until the next begins. Nothing is stored: a person accepts the new
//   answer of a piece, or keeps the decision, one by one.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "base/problem.h"
#include "exchange/reexamine.h"

namespace footring::server {

struct App;

class Reexaminer {
  public:
    enum class State { kNone, kRunning, kDone, kStopped, kFailed };
    struct Progress {
        State state = State::kNone;
        std::string began, packs;  // with which packs
        int done = 0, of = 0, up_to_date = 0, same = 0;
        std::vector<exchange::Reexamined> changed;
        std::optional<Problem> problem;  // kFailed
    };

    Reexaminer() = default;
    ~Reexaminer() { stop(); }
    Reexaminer(const Reexaminer&) = delete;
    Reexaminer& operator=(const Reexaminer&) = delete;

    Expected<void> start(std::shared_ptr<App>);  // kConflict while one runs
    void stop();                                 // and waits until it has stopped; twice is harmless
    Progress progress() const;
    void settled(const std::string& piece);  // the person has looked at it: it leaves the list

  private:
    void work(const std::shared_ptr<App>&);
    std::mutex starting_;
    mutable std::mutex mutex_;
    Progress progress_;
    std::atomic<bool> stop_ = false;
    std::thread thread_;
};

}  // namespace footring::server

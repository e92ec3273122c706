// server/reexaminer.h - pieces examined again with the Book as it is now, on a thread of its own.
//   One at a time; what the last one found stays until the next begins. Nothing is stored: a person accepts the new
//   answer of a decided piece, or keeps the decision, one by one; of an undecided piece there is nothing to accept,
//   it is looked at. When no undecided piece is left to look at, the packs count as reviewed (reviewed_packs.h).
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <atomic>
#include <filesystem>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "base/problem.h"
#include "exchange/reexamine.h"
#include "server/reviewed_packs.h"

namespace footring::server {

struct App;

class Reexaminer {
  public:
    enum class State { kNone, kRunning, kDone, kStopped, kFailed };
    struct Progress {
        State state = State::kNone;
        std::string began, packs;  // with which packs
        int done = 0, of = 0, up_to_date = 0, same = 0, unknown = 0;
        std::vector<exchange::Reexamined> changed;
        std::optional<Problem> problem;  // kFailed
    };

    // `packs` gives the folders of the packs that are open.
    Reexaminer(std::filesystem::path data, std::function<std::vector<std::filesystem::path>()> packs)
        : reviewed_(data), packs_(std::move(packs)) {}
    ~Reexaminer() { stop(); }
    Reexaminer(const Reexaminer&) = delete;
    Reexaminer& operator=(const Reexaminer&) = delete;

    Expected<void> begin_with_these_packs();  // the first time: the packs as they are count as reviewed

    Expected<void> start(std::shared_ptr<App>);  // kConflict while one runs
    void stop();                                 // and waits until it has stopped; twice is harmless
    Progress progress() const;
    // The person has looked at it: it leaves the list. `packs`: of the Book that is open.
    Expected<void> settled(const std::string& piece, const std::string& packs);

  private:
    void work(const std::shared_ptr<App>&);
    Expected<void> note_review(const std::string& packs);  // with mutex_ held
    const ReviewedPacks reviewed_;
    const std::function<std::vector<std::filesystem::path>()> packs_;
    std::mutex starting_;
    mutable std::mutex mutex_;
    Progress progress_;
    std::atomic<bool> stop_ = false;
    std::thread thread_;
};

}  // namespace footring::server

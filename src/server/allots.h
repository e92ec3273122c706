// server/allots.h - allotments being worked out, one after another, and the last that were.
//   One thread works; a job that waits can be stopped at once, the one that is worked on keeps its best so far.
//   The last kJobsKept jobs are kept while the program runs: an allotment follows from what is stored, and can be
//   made again at any time.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <list>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include "base/problem.h"
#include "server/request.h"
#include "services/wants.h"
#include "store/store.h"

namespace footring::server {

struct App;

// An allotment with all that it speaks of; it stays as it was, whatever is changed afterwards.
struct LaidOut {
    std::shared_ptr<App> app;  // whose Book it refers to
    services::Plan plan;
    std::vector<services::Owned> pieces;
    services::AllotOptions options;
    std::optional<services::Fitting> fitting;  // over plan and pieces: a LaidOut is never moved
    services::Allotment allotment;
};

class AllotDesk {
  public:
    static constexpr std::size_t kJobsKept = 20;
    enum class State : std::uint8_t { kWaiting, kWorking, kDone, kStopped, kFailed };
    struct Job {
        std::string id;  // "a-1"
        State state = State::kWaiting;
        std::string began, ended;
        services::Objective objective = services::Objective::kSettings;
        std::optional<double> budget;
        std::vector<std::string> asked;  // ids of services
        std::int64_t as_of = 0;          // the newest change when it was asked for
        std::string packs;
        bool stop = false;
        std::optional<services::Progress> progress;
        Problems problems;
        std::shared_ptr<const LaidOut> laid;
        bool finished() const { return state != State::kWaiting && state != State::kWorking; }
    };
    using Tell = std::function<bool(const services::Progress&)>;  // true: stop
    using Work = std::function<std::expected<std::shared_ptr<const LaidOut>, Problems>(const Tell&)>;

    explicit AllotDesk(store::Now now) : now_(std::move(now)) {}
    ~AllotDesk() { close(); }
    AllotDesk(const AllotDesk&) = delete;
    AllotDesk& operator=(const AllotDesk&) = delete;

    Expected<Job> add(Job asked, Work work);  // kConflict when closed
    std::optional<Job> job(const std::string& id) const;
    std::vector<Job> jobs() const;  // newest first
    std::optional<Job> stop(const std::string& id);
    std::shared_ptr<const LaidOut> newest() const;  // of the newest job that has one; null: none has
    void close();

  private:
    struct Entry {
        Job job;
        Work work;
    };
    void run();
    Entry* find(const std::string& id);

    store::Now now_;
    mutable std::mutex mutex_;
    std::condition_variable changed_;
    std::list<Entry> jobs_;  // newest first
    std::uint64_t made_ = 0;
    bool closed_ = false;
    std::thread thread_;  // begins with the first job
};
std::string_view name_of(AllotDesk::State);

}  // namespace footring::server

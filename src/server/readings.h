// server/readings.h - photographs are read: one at once for whoever waits, many in the queue.
//   A queue of jobs and one thread that works on them; the job with the fewest photographs left goes first, so that
//   a single photograph at the Bench does not wait for a batch of hundreds. Together with readings that somebody
//   waits for, at most two photographs are decoded at a time (App::decoding).
//   Jobs live as long as the program and are forgotten after kJobsKept newer ones; what was read is in the store.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <condition_variable>
#include <cstdint>
#include <functional>
#include <list>
#include <map>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

#include "base/problem.h"
#include "photo/read.h"
#include "photo/reading.h"
#include "server/request.h"
#include "store/store.h"

namespace footring::server {

// photo::read() over the open packs; tests put their own in its place.
using ReadPhoto = std::function<Expected<photo::Reading>(std::string_view bytes, std::string_view where,
                                                         const photo::ReadOptions&)>;

// What a person gives for a reading. As JSON: {"side": "front", "rim_height_mm": 22, "form": "dinner-plate",
// "rim": {"centre_px": [x, y], "axes_px": [a, b], "angle_deg": d}}; absent members are left out.
struct Asked {
    std::optional<photo::Side> side;
    std::optional<double> rim_height_mm;
    std::optional<photo::Ellipse> rim;  // px
    std::string form;                   // its recorded height stands for the rim's where that is not given
};
// Members that are absent stay as in `before`; null forgets them. Every fault at once.
std::expected<Asked, Problems> asked_from_json(const nlohmann::json& body, const Asked& before, const book::Book&);
Asked asked_of(const nlohmann::json& stored);  // as to_json wrote it
nlohmann::json to_json(const Asked&);

// What is read of a stored photograph, and the pictures made of it by their kind. Waits for its turn to decode;
// kConflict when `stop` said so.
struct ReadWithPictures {
    store::Reading reading;
    std::map<std::string, std::string> pictures;
};
Expected<ReadWithPictures> read_photograph(App&, const std::string& sha256, const Asked&,
                                           const std::function<bool()>& stop);
// The same, kept.
Expected<store::Reading> read_and_keep(App&, const std::string& sha256, const Asked&,
                                       const std::function<bool()>& stop);

class ReadQueue {
  public:
    static constexpr std::size_t kJobsKept = 20;
    enum class State : std::uint8_t { kWaiting, kReading, kRead, kFailed, kStopped };
    struct Item {
        std::string sha256;
        State state = State::kWaiting;
        std::optional<Problem> problem;
    };
    struct Job {
        std::string id;
        bool stopped = false;
        std::string began;
        std::vector<Item> items;
        bool finished() const;  // nothing waits and nothing is being read
    };
    using ReadOne = std::function<Expected<void>(const std::string& sha256, const std::function<bool()>& stop)>;

    explicit ReadQueue(ReadOne read, store::Now now) : read_(std::move(read)), now_(std::move(now)) {}
    ~ReadQueue() { close(); }
    ReadQueue(const ReadQueue&) = delete;
    ReadQueue& operator=(const ReadQueue&) = delete;

    Expected<Job> add(const std::vector<std::string>& photographs);  // kConflict when closed
    std::optional<Job> job(const std::string& id) const;
    std::vector<Job> jobs() const;  // newest first
    // What waits is not read any more, and what is being read is given up.
    std::optional<Job> stop(const std::string& id);
    void close();                 // stops everything and waits for the thread; twice is harmless
    bool closed() const;          // asked by readings that somebody waits for
    std::size_t waiting() const;  // photographs, in all jobs

  private:
    struct Turn {
        std::string job, sha256;
        std::size_t at;
    };
    void work();
    std::optional<Turn> next();  // waits for one; absent: closed
    Job* find(const std::string& id);

    ReadOne read_;
    store::Now now_;
    mutable std::mutex mutex_;
    std::condition_variable changed_;
    std::list<Job> jobs_;  // newest first
    std::uint64_t made_ = 0;
    bool closed_ = false;
    std::thread thread_;  // begins with the first job
};
std::string_view name_of(ReadQueue::State);

}  // namespace footring::server

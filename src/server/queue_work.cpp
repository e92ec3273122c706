// SPDX-License-Identifier: Apache-2.0
#include "server/queue_work.h"

#include <atomic>
#include <condition_variable>
#include <mutex>
#include <optional>
#include <thread>

namespace footring::server {

namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

constexpr auto kLook = 200ms;  // how soon a stop is noticed
constexpr auto kBetween = 1s;  // asks again when nothing is waiting, or the store does not answer

void rest(std::chrono::milliseconds time, const std::function<bool()>& stop) {
    const auto until = Clock::now() + time;
    while (!stop() && Clock::now() < until) std::this_thread::sleep_for(kLook);
}

// Renews a lease on a thread of its own until the photograph is read.
class Lease {
  public:
    Lease(store::ReadingQueue& queue, const store::Task& task, std::chrono::seconds time)
        : thread_([this, &queue, task, time](const std::stop_token& done) {
              auto held_until = Clock::now() + time;
              std::unique_lock lock(mutex_);
              while (!done.stop_requested()) {
                  wake_.wait_for(lock, done, time / 3, [] { return false; });
                  if (done.stop_requested()) return;
                  const auto asked = Clock::now();
                  const auto held = queue.extend(task, time);
                  if (held && *held) held_until = asked + time;
                  // Without an answer it is ours until its time is over; then somebody else may have it.
                  if ((held && !*held) || Clock::now() > held_until) lost_ = true;
              }
          }) {}
    ~Lease() {
        thread_.request_stop();
        wake_.notify_all();
    }
    Lease(const Lease&) = delete;
    Lease& operator=(const Lease&) = delete;
    bool lost() const { return lost_; }

  private:
    std::atomic<bool> lost_ = false;
    std::mutex mutex_;
    std::condition_variable_any wake_;
    std::jthread thread_;  // last: it uses all of these
};

// Tries while the store does not answer, as long as the lease may hold.
template <class F>
auto insist(const F& act, std::chrono::seconds time, const std::function<bool()>& stop) {
    const auto until = Clock::now() + time;
    for (;;) {
        auto answer = act();
        if (answer || answer.error().code != ProblemCode::kStore || stop() || Clock::now() > until) return answer;
        rest(kBetween, stop);
    }
}

QueueWorked read_one(App& app, const store::Task& task, const QueueWork& work, const std::function<bool()>& stop) {
    store::ReadingQueue& queue = app.store->reading_queue();
    const auto began = Clock::now();
    QueueWorked out;
    out.sha256 = task.sha256;
    Expected<ReadWithPictures> read = std::unexpected(Problem{});
    bool lost = false;
    {
        const Lease lease(queue, task, work.lease);
        // What a person gave for it before holds again.
        const auto before = app.store->reading(task.sha256);
        read = read_photograph(app, task.sha256, before ? asked_of(before->asked) : Asked{},
                               [&] { return stop() || lease.lost(); });
        lost = lease.lost();
    }
    if (lost) {
        out.how = QueueWorked::How::kLost;
    } else if (!read && stop()) {
        queue.give_back(task);
        out.how = QueueWorked::How::kGivenBack;
    } else if (!read) {
        out.how = QueueWorked::How::kFailed;
        out.problem = read.error();
        insist([&] { return queue.fail(task, read.error()); }, work.lease, stop);
    } else {
        const auto kept =
            insist([&] { return queue.finish(task, read->reading, read->pictures); }, work.lease, stop);
        if (!kept) {
            out.how =
                kept.error().code == ProblemCode::kConflict ? QueueWorked::How::kLost : QueueWorked::How::kFailed;
            out.problem = kept.error();
        }
    }
    out.seconds = std::chrono::duration<double>(Clock::now() - began).count();
    return out;
}

}  // namespace

Expected<std::int64_t> fill_queue(App& app) {
    const auto unread = app.store->unread(app.packs);
    if (!unread) return std::unexpected(unread.error());
    return app.store->reading_queue().add(*unread);
}

Expected<void> work_queue(App& app, const QueueWork& work, const std::function<bool()>& stop,
                          const std::function<void(const QueueWorked&)>& told) {
    store::ReadingQueue& queue = app.store->reading_queue();
    if (const auto there = queue.counts(); !there) return std::unexpected(there.error());
    while (!stop()) {
        const auto leased = queue.lease(work.reader, 1, work.lease);
        if (leased && !leased->empty()) {
            told(read_one(app, leased->front(), work, stop));
            continue;
        }
        const auto counts = queue.counts();
        if (work.until_empty && leased && counts && counts->waiting + counts->leased == 0) return {};
        rest(kBetween, stop);
    }
    return {};
}

}  // namespace footring::server

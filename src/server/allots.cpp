// SPDX-License-Identifier: Apache-2.0
#include "server/allots.h"

#include <fmt/format.h>

#include <algorithm>

namespace footring::server {

std::string_view name_of(AllotDesk::State state) {
    constexpr std::string_view kNames[] = {"waiting", "working", "done", "stopped", "failed"};
    return kNames[static_cast<std::size_t>(state)];
}

Expected<AllotDesk::Job> AllotDesk::add(Job asked, Work work) {
    const std::lock_guard lock(mutex_);
    if (closed_)
        return fail(ProblemCode::kConflict, "allotments", "the program is being stopped",
                    "start it again, then try");
    asked.id = fmt::format("a-{}", ++made_);
    asked.began = now_();
    jobs_.push_front({asked, std::move(work)});
    std::size_t kept = 0;
    std::erase_if(jobs_, [&](const Entry& one) { return ++kept > kJobsKept && one.job.finished(); });
    if (!thread_.joinable()) thread_ = std::thread([this] { run(); });
    changed_.notify_all();
    return asked;
}

AllotDesk::Entry* AllotDesk::find(const std::string& id) {
    const auto at = std::ranges::find(jobs_, id, [](const Entry& e) { return e.job.id; });
    return at == jobs_.end() ? nullptr : &*at;
}

std::optional<AllotDesk::Job> AllotDesk::job(const std::string& id) const {
    const std::lock_guard lock(mutex_);
    const auto at = std::ranges::find(jobs_, id, [](const Entry& e) { return e.job.id; });
    return at == jobs_.end() ? std::nullopt : std::optional(at->job);
}

std::vector<AllotDesk::Job> AllotDesk::jobs() const {
    const std::lock_guard lock(mutex_);
    std::vector<Job> out;
    for (const Entry& entry : jobs_) out.push_back(entry.job);
    return out;
}

std::optional<AllotDesk::Job> AllotDesk::stop(const std::string& id) {
    const std::lock_guard lock(mutex_);
    Entry* entry = find(id);
    if (entry == nullptr) return std::nullopt;
    if (!entry->job.finished()) entry->job.stop = true;
    if (entry->job.state == State::kWaiting) {
        entry->job.state = State::kStopped;
        entry->job.ended = now_();
        entry->work = {};
    }
    return entry->job;
}

std::shared_ptr<const LaidOut> AllotDesk::newest() const {
    const std::lock_guard lock(mutex_);
    const auto at = std::ranges::find_if(jobs_, [](const Entry& e) { return e.job.laid != nullptr; });
    return at == jobs_.end() ? nullptr : at->job.laid;
}

void AllotDesk::close() {
    {
        const std::lock_guard lock(mutex_);
        closed_ = true;
        for (Entry& entry : jobs_) {
            if (!entry.job.finished()) entry.job.stop = true;
            if (entry.job.state == State::kWaiting) entry.job.state = State::kStopped;
        }
        changed_.notify_all();
    }
    if (thread_.joinable()) thread_.join();
}

void AllotDesk::run() {
    while (true) {
        std::string id;
        Work work;
        {
            std::unique_lock lock(mutex_);
            auto next = jobs_.rend();
            changed_.wait(lock, [&] {
                next = std::find_if(jobs_.rbegin(), jobs_.rend(),
                                    [](const Entry& e) { return e.job.state == State::kWaiting; });
                return closed_ || next != jobs_.rend();
            });
            if (closed_) return;
            next->job.state = State::kWorking;
            id = next->job.id;
            work = std::move(next->work);
        }
        const auto tell = [&](const services::Progress& progress) {
            const std::lock_guard lock(mutex_);
            Entry* entry = find(id);
            if (entry == nullptr) return true;
            entry->job.progress = progress;
            return closed_ || entry->job.stop;
        };
        std::expected<std::shared_ptr<const LaidOut>, Problems> done;
        try {
            done = work(tell);
        } catch (const std::exception&) {
            done = refuse(ProblemCode::kOurFault, "allotments", "allotting failed through a mistake of the program",
                          "report it with the services and the pieces");
        }
        work = {};  // what it holds goes before the job is said to be over
        const std::lock_guard lock(mutex_);
        Entry* entry = find(id);
        if (entry == nullptr) continue;
        Job& job = entry->job;
        job.ended = now_();
        if (done) job.laid = std::move(*done);
        else if (!job.stop) job.problems = std::move(done.error());
        job.state = job.stop ? State::kStopped : job.laid ? State::kDone : State::kFailed;
    }
}

}  // namespace footring::server

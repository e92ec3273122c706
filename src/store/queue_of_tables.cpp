// SPDX-License-Identifier: Apache-2.0
#include "store/queue_of_tables.h"

#include <fmt/format.h>
#include <sodium.h>

#include <algorithm>

#include "store/conflicts.h"
#include "store/kept_readings.h"
#include "store/sha256.h"

namespace footring::store {

namespace {

constexpr const char* kQueue =
    "the reading queue";                    // who adds and who leases wait for each other, and for nobody else
constexpr const char* kLast = "task";       // the counter of places in the queue
constexpr int kFirstPause = 30;             // seconds until a failed one is tried again; then twice as long
constexpr std::size_t kLongestSaid = 2000;  // bytes

Task task_of(const TaskRow& row) { return {row.sha256, row.reader, row.lease, row.tries, row.dead, row.said}; }

// Never 0, and never given twice.
std::int64_t new_lease() {
    std::int64_t out = 0;
    while (out == 0) {
        std::uint64_t bits = 0;
        randombytes_buf(&bits, sizeof bits);
        out = static_cast<std::int64_t>(bits >> 1);
    }
    return out;
}

std::unexpected<Problem> lost(const Task& task) {
    return footring::fail(ProblemCode::kConflict, fmt::format("photograph {}", task.sha256),
                          "its lease ran out and another reader has it", "go on with the next one");
}

void bury(TaskRow& row) {
    row.dead = true;
    row.lease = 0;
}

}  // namespace

Expected<std::int64_t> QueueOfTables::add(const std::vector<std::string>& photographs) {
    for (const std::string& sha256 : photographs)
        if (!is_sha256(sha256)) return no_such("photograph", sha256);
    std::int64_t added = 0;
    auto ok = tables_.write_aside(kQueue, [&](Writer& tables) -> Expected<void> {
        std::int64_t last = tables.counter(kLast);
        for (const std::string& sha256 : photographs) {
            if (tables.task(sha256)) continue;
            TaskRow row;
            row.sha256 = sha256;
            row.no = ++last;
            tables.add(row);
            ++added;
        }
        if (added > 0) tables.set_counter(kLast, last);
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return added;
}

Expected<std::vector<Task>> QueueOfTables::lease(const std::string& reader, int most, std::chrono::seconds time) {
    std::vector<Task> out;
    auto ok = tables_.write_aside(kQueue, [&](Writer& tables) -> Expected<void> {
        const std::int64_t now = tables.seconds_now();
        while (out.size() < static_cast<std::size_t>(most)) {
            const auto due = tables.due_tasks(now, most - static_cast<int>(out.size()));
            if (due.empty()) break;
            for (TaskRow row : due) {
                const std::int64_t before = row.lease;
                if (row.tries >= kMostTries) {
                    // Each time its reader ended without a word: it may be what ends them.
                    if (row.said.empty()) row.said = fmt::format("{} readers ended while they had it", row.tries);
                    bury(row);
                    tables.change_task(row, before);
                    continue;
                }
                row.reader = reader;
                row.lease = new_lease();
                row.due = now + time.count();
                ++row.tries;
                if (tables.change_task(row, before)) out.push_back(task_of(row));
            }
            if (time.count() <= 0 && !out.empty()) break;  // they are due again at once
        }
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return out;
}

Expected<bool> QueueOfTables::change(const Task& task, const std::function<void(TaskRow&, std::int64_t)>& as) {
    bool held = false;
    auto ok = tables_.write_aside(task.sha256, [&](Writer& tables) -> Expected<void> {
        auto row = tables.task(task.sha256);
        if (!row || row->lease != task.lease) return {};
        as(*row, tables.seconds_now());
        held = tables.change_task(*row, task.lease);
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return held;
}

Expected<bool> QueueOfTables::extend(const Task& task, std::chrono::seconds time) {
    return change(task, [&](TaskRow& row, std::int64_t now) { row.due = now + time.count(); });
}

Expected<Reading> QueueOfTables::finish(const Task& task, Reading reading,
                                        const std::map<std::string, std::string>& pictures) {
    reading.sha256 = task.sha256;
    const std::shared_lock no_sweep(sweeping_);
    return keep_reading(tables_, blobs_, now_, std::move(reading), pictures, [&](Writer& tables) -> Expected<void> {
        if (!tables.erase_task(task.sha256, task.lease)) return lost(task);
        return {};
    });
}

Expected<void> QueueOfTables::fail(const Task& task, const Problem& problem) {
    const auto held = change(task, [&](TaskRow& row, std::int64_t now) {
        row.said = to_line(problem).substr(0, kLongestSaid);
        row.due = now + (kFirstPause << std::min(row.tries - 1, kMostTries));
        row.lease = 0;
        if (row.tries >= kMostTries) bury(row);
    });
    if (!held) return std::unexpected(held.error());
    return {};  // when the lease was lost it is somebody else's to tell
}

Expected<void> QueueOfTables::give_back(const Task& task) {
    const auto held = change(task, [](TaskRow& row, std::int64_t now) {
        row.due = now;
        row.lease = 0;
        --row.tries;
    });
    if (!held) return std::unexpected(held.error());
    return {};
}

Expected<std::vector<Task>> QueueOfTables::dead() {
    std::vector<Task> out;
    auto ok = tables_.read([&](Reader& tables) -> Expected<void> {
        for (const TaskRow& row : tables.dead_tasks()) out.push_back(task_of(row));
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return out;
}

Expected<std::int64_t> QueueOfTables::revive() {
    std::int64_t revived = 0;
    auto ok = tables_.write_aside(kQueue, [&](Writer& tables) -> Expected<void> {
        for (TaskRow row : tables.dead_tasks()) {
            row.dead = false;
            row.tries = 0;
            row.due = 0;
            if (tables.change_task(row, row.lease)) ++revived;
        }
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return revived;
}

Expected<void> QueueOfTables::remove(const std::string& sha256) {
    return tables_.write_aside(sha256, [&](Writer& tables) -> Expected<void> {
        const auto row = tables.task(sha256);
        if (!row || !tables.erase_task(sha256, row->lease)) return no_such("photograph in the queue", sha256);
        return {};
    });
}

Expected<QueueCounts> QueueOfTables::counts() {
    QueueCounts out;
    auto ok = tables_.read([&](Reader& tables) -> Expected<void> {
        const auto counted = tables.count_tasks(tables.seconds_now());
        out = {counted[0], counted[1], counted[2]};
        return {};
    });
    if (!ok) return std::unexpected(ok.error());
    return out;
}

}  // namespace footring::store

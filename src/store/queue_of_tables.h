// store/queue_of_tables.h - the rules of the reading queue, the same for every database.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <shared_mutex>

#include "store/reading_queue.h"
#include "store/tables.h"

namespace footring::store {

class QueueOfTables final : public ReadingQueue {
  public:
    // All must outlive it. `sweeping`: held alone by whoever sweeps photographs away.
    QueueOfTables(Tables& tables, Blobs& blobs, const Now& now, std::shared_mutex& sweeping)
        : tables_(tables), blobs_(blobs), now_(now), sweeping_(sweeping) {}

    Expected<std::int64_t> add(const std::vector<std::string>& photographs) override;
    Expected<std::vector<Task>> lease(const std::string& reader, int most, std::chrono::seconds) override;
    Expected<bool> extend(const Task&, std::chrono::seconds) override;
    Expected<Reading> finish(const Task&, Reading, const std::map<std::string, std::string>& pictures) override;
    Expected<void> fail(const Task&, const Problem&) override;
    Expected<void> give_back(const Task&) override;
    Expected<std::vector<Task>> dead() override;
    Expected<std::int64_t> revive() override;
    Expected<void> remove(const std::string& sha256) override;
    Expected<QueueCounts> counts() override;

  private:
    // Changes the row of a task whose lease holds; whether it does.
    Expected<bool> change(const Task&, const std::function<void(TaskRow&, std::int64_t now)>&);

    Tables& tables_;
    Blobs& blobs_;
    const Now& now_;
    std::shared_mutex& sweeping_;
};

}  // namespace footring::store

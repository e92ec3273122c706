// server/importer.h - tables brought in: pieces, sales, and treatments for a pack, on a thread of their own.
//   A table is sent once and stays here while its columns are matched and it is tried; the newest few stay. One
//   import at a time; what the last one came to stays until the next begins. A stopped import has stored nothing.
//   Thread rule: any thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <memory>
#include <mutex>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "book/columns.h"
#include "exchange/spreadsheet.h"
#include "server/book_editor.h"
#include "server/request.h"

namespace footring::server {

struct App;

struct ImportTable {
    std::string id, name;  // name: of the file, as problems call it
    bool json = false;
    std::vector<exchange::SheetText> sheets;  // of a text: one without a name
};
struct ImportAsk {
    std::string table, sheet;  // sheet empty: the first
    std::string into;          // pieces, sales or treatments
    bool dry_run = true, keep_good = false;
    std::optional<book::Mapping> mapping;  // absent: as the same headings were understood the last time
    std::string currency;                  // of sales that name none
    std::string pack, source;  // of treatments: the pack they go into, and the source of rows that name none
};

class Importer {
  public:
    enum class State { kNone, kRunning, kDone, kStopped, kFailed };
    struct Progress {
        State state = State::kNone;
        std::string into, began, step;
        bool dry_run = true;
        std::size_t done = 0, of = 0;
        nlohmann::ordered_json result;      // kDone
        Problems problems;                  // kFailed
        std::vector<std::int64_t> batches;  // of the changes that it made, oldest first
    };

    Importer() = default;
    ~Importer() { stop(); }
    Importer(const Importer&) = delete;
    Importer& operator=(const Importer&) = delete;

    // CSV, TSV, JSON, XLSX or ODS, by what the bytes are.
    Expected<std::shared_ptr<const ImportTable>> keep(std::string bytes, std::string name);
    // kConflict while one runs, kNotFound for a table that is not here any more. Waits a moment, so that a small
    // table is done when this returns.
    Expected<void> start(std::shared_ptr<App>, std::shared_ptr<BookEditor>, ImportAsk);
    void stop();  // and waits until it has stopped; twice is harmless
    Progress progress() const;

  private:
    void work(const std::shared_ptr<App>&, const std::shared_ptr<BookEditor>&, const ImportTable&,
              const ImportAsk&);
    std::mutex starting_;
    mutable std::mutex mutex_;
    std::condition_variable ended_;
    Progress progress_;
    std::deque<std::shared_ptr<const ImportTable>> tables_;  // newest first
    std::atomic<bool> stop_ = false;
    std::thread thread_;
};

}  // namespace footring::server

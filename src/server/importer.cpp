// SPDX-License-Identifier: Apache-2.0
#include "server/importer.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <iterator>

#include "base/text.h"
#include "server/app.h"
#include "server/import_kinds.h"
#include "store/sha256.h"

namespace footring::server {

namespace {

constexpr std::size_t kMostTables = 4;
constexpr std::size_t kMostKept = 200u << 20;  // bytes of all tables but the newest
constexpr std::chrono::milliseconds kMoment{400};

std::size_t bytes_of(const ImportTable& table) {
    std::size_t bytes = 0;
    for (const exchange::SheetText& sheet : table.sheets) bytes += sheet.csv.size();
    return bytes;
}

// JSON begins with a bracket; everything else is taken for a table.
bool looks_like_json(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF")) text.remove_prefix(3);
    const std::size_t first = text.find_first_not_of(" \t\r\n");
    return first != std::string_view::npos && (text[first] == '[' || text[first] == '{');
}

}  // namespace

Expected<std::shared_ptr<const ImportTable>> Importer::keep(std::string bytes, std::string name) {
    auto table = std::make_shared<ImportTable>();
    table->name = name.empty() ? "table" : std::move(name);
    table->id = store::sha256_of(bytes).substr(0, 16);
    if (exchange::looks_like_workbook(bytes)) {
        auto sheets = exchange::read_workbook(bytes, table->name);
        if (!sheets) return std::unexpected(sheets.error());
        table->sheets = std::move(*sheets);
    } else {
        if (!is_utf8(bytes))
            return fail(ProblemCode::kUnreadable, table->name, "the file is neither UTF-8 text nor a workbook",
                        "save it from the spreadsheet as CSV in UTF-8, as XLSX or as ODS");
        table->json = looks_like_json(bytes);
        const auto lines = static_cast<int>(std::ranges::count(bytes, '\n')) + (bytes.ends_with('\n') ? 0 : 1);
        table->sheets.push_back({"", std::move(bytes), lines});
    }
    const std::lock_guard lock(mutex_);
    std::erase_if(tables_, [&](const auto& old) { return old->id == table->id && old->name == table->name; });
    tables_.push_front(table);
    std::size_t kept = 0;
    for (std::size_t at = 1; at < tables_.size(); ++at) {
        kept += bytes_of(*tables_[at]);
        if (at >= kMostTables || kept > kMostKept) tables_.resize(at);
    }
    return table;
}

Expected<void> Importer::start(std::shared_ptr<App> app, std::shared_ptr<BookEditor> editor, ImportAsk ask) {
    const std::lock_guard starting(starting_);
    std::shared_ptr<const ImportTable> table;
    {
        const std::lock_guard lock(mutex_);
        if (progress_.state == State::kRunning)
            return fail(ProblemCode::kConflict, "imports", "another table is being brought in",
                        "wait for it, or stop it");
        const auto found = std::ranges::find(tables_, ask.table, [](const auto& one) { return one->id; });
        if (found == tables_.end())
            return fail(ProblemCode::kNotFound, "body: /table", "this table is not here any more", "send it again");
        table = *found;
        progress_ = {};
        progress_.state = State::kRunning;
        progress_.into = ask.into;
        progress_.dry_run = ask.dry_run;
        progress_.began = app->now();
    }
    if (thread_.joinable()) thread_.join();
    stop_ = false;
    thread_ = std::thread([this, app = std::move(app), editor = std::move(editor), table = std::move(table),
                           ask = std::move(ask)] { work(app, editor, *table, ask); });
    std::unique_lock lock(mutex_);
    ended_.wait_for(lock, kMoment, [this] { return progress_.state != State::kRunning; });
    return {};
}

void Importer::stop() {
    const std::lock_guard starting(starting_);
    stop_ = true;
    if (thread_.joinable()) thread_.join();
}

Importer::Progress Importer::progress() const {
    const std::lock_guard lock(mutex_);
    return progress_;
}

void Importer::work(const std::shared_ptr<App>& app, const std::shared_ptr<BookEditor>& editor,
                    const ImportTable& table, const ImportAsk& ask) {
    const auto told = [this](std::string_view step, std::size_t done, std::size_t of) {
        const std::lock_guard lock(mutex_);
        progress_.step = step;
        progress_.done = done;
        progress_.of = of;
        return !stop_;
    };
    std::expected<std::optional<nlohmann::ordered_json>, Problems> result;
    try {
        result = run_import(*app, *editor, table, ask, told);
    } catch (const std::exception& fault) {
        result = refuse(ProblemCode::kOurFault, "imports", fault.what(), "try again");
    }
    auto batches = app->store->take_own_batches();
    const std::lock_guard lock(mutex_);
    progress_.batches = std::move(batches);
    if (!result) {
        progress_.state = State::kFailed;
        progress_.problems = std::move(result.error());
    } else if (!*result) {
        progress_.state = State::kStopped;
    } else {
        progress_.state = State::kDone;
        progress_.result = std::move(**result);
    }
    ended_.notify_all();
}

}  // namespace footring::server

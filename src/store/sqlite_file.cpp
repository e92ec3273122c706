// SPDX-License-Identifier: Apache-2.0
#include "store/sqlite_file.h"

#include <fmt/format.h>
#include <sqlite3.h>

#include <chrono>
#include <thread>

#include "base/text.h"
#include "store/sqlite_dialect.h"

namespace footring::store {

namespace {
constexpr int kPatienceMs = 10'000;  // a write of a hundred thousand records takes less
}

void SqliteFile::Close::operator()(sqlite3* db) const { sqlite3_close(db); }

Problem SqliteFile::problem(int code) const { return sqlite_problem(path_, code, sqlite3_errmsg(db_.get())); }

Expected<SqliteFile> SqliteFile::open(const std::filesystem::path& path) {
    std::error_code error;
    if (!std::filesystem::exists(path, error))
        return fail(ProblemCode::kNotFound, path.parent_path().string(), "there is no store in this folder",
                    "name the folder that `footring serve --data` uses");
    return open(path, SQLITE_OPEN_READWRITE);
}
Expected<SqliteFile> SqliteFile::make(const std::filesystem::path& path) {
    return open(path, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE);
}
Expected<SqliteFile> SqliteFile::open(const std::filesystem::path& path, int flags) {
    sqlite3* db = nullptr;
    const int code = sqlite3_open_v2(path.c_str(), &db, flags, nullptr);
    SqliteFile file(path, db);
    if (code != SQLITE_OK) return std::unexpected(file.problem(code));
    sqlite3_busy_timeout(db, kPatienceMs);
    return file;
}

Expected<void> SqliteFile::run(const std::string& statement) {
    const auto ignored = rows(statement);
    if (!ignored) return std::unexpected(ignored.error());
    return {};
}

Expected<std::vector<std::vector<std::string>>> SqliteFile::rows(const std::string& question) {
    std::vector<std::vector<std::string>> out;
    const auto take = [](void* all, int columns, char** values, char**) {
        std::vector<std::string> row;
        for (int i = 0; i < columns; ++i) row.emplace_back(values[i] == nullptr ? "" : values[i]);
        static_cast<std::vector<std::vector<std::string>>*>(all)->push_back(std::move(row));
        return 0;
    };
    const int code = sqlite3_exec(db_.get(), question.c_str(), take, &out, nullptr);
    if (code != SQLITE_OK) return std::unexpected(problem(code));
    return out;
}

Expected<std::int64_t> SqliteFile::number(const std::string& question) {
    const auto found = rows(question);
    if (!found) return std::unexpected(found.error());
    return found->empty() ? 0 : to_int(found->front().front()).value_or(0);
}

Expected<void> SqliteFile::copy_into(SqliteFile& other) {
    sqlite3_backup* copying = sqlite3_backup_init(other.db_.get(), "main", db_.get(), "main");
    if (copying == nullptr) return std::unexpected(other.problem(sqlite3_errcode(other.db_.get())));
    const auto until = std::chrono::steady_clock::now() + std::chrono::milliseconds(kPatienceMs);
    int code = SQLITE_OK;
    do {
        code = sqlite3_backup_step(copying, -1);  // all of it: one moment, whatever is written meanwhile
        if (code != SQLITE_BUSY && code != SQLITE_LOCKED) break;
        std::this_thread::sleep_for(std::chrono::milliseconds(20));
    } while (std::chrono::steady_clock::now() < until);
    const int finished = sqlite3_backup_finish(copying);
    if (code == SQLITE_DONE && finished == SQLITE_OK) return {};
    return std::unexpected(other.problem(code == SQLITE_DONE ? finished : code));
}

Expected<void> SqliteFile::check() {
    const auto ours = number("PRAGMA application_id");
    if (!ours) return std::unexpected(ours.error());
    if (*ours != kApplicationId)
        return fail(ProblemCode::kStore, path_.string(), "this file is a database of another program",
                    "choose another folder with --data, or move this file away");
    const auto verdict = rows("PRAGMA quick_check(1)");
    if (!verdict) return std::unexpected(verdict.error());
    if (!verdict->empty() && verdict->front().front() == "ok") return {};
    return fail(ProblemCode::kStore, path_.string(),
                fmt::format("the store is damaged ({})", verdict->empty() ? "" : verdict->front().front()),
                "restore the newest backup that was made before");
}

}  // namespace footring::store

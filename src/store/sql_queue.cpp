// The queue of photographs to be read, in SQL.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "store/sql_prepared.h"

namespace footring::store {

using soci::into;
using soci::use;

namespace {

constexpr const char* kColumns = "SELECT sha256, no, reader, lease, due, tries, dead, said FROM reading_task ";

// Tasks that meet a condition with these parameters, and with :sha256 when `name` is given.
std::vector<TaskRow> tasks(soci::session& sql, const std::string& condition,
                           const std::vector<std::pair<std::string, std::int64_t>>& numbers,
                           const std::string* name = nullptr) {
    TaskRow row;
    int dead = 0;
    soci::statement statement(sql);
    for (const auto& [parameter, number] : numbers) statement.exchange(use(number, parameter));
    if (name != nullptr) statement.exchange(use(*name, "sha256"));
    statement.exchange(into(row.sha256));
    statement.exchange(into(row.no));
    statement.exchange(into(row.reader));
    statement.exchange(into(row.lease));
    statement.exchange(into(row.due));
    statement.exchange(into(row.tries));
    statement.exchange(into(dead));
    statement.exchange(into(row.said));
    statement.alloc();
    statement.prepare(kColumns + condition);
    statement.define_and_bind();
    statement.execute(false);
    std::vector<TaskRow> out;
    while (statement.fetch()) {
        row.dead = dead != 0;
        out.push_back(row);
    }
    return out;
}

}  // namespace

std::int64_t SqlSession::seconds_now() {
    std::int64_t now = 0;
    sql_ << "SELECT " + dialect_.seconds_now(), into(now);
    return now;
}

std::optional<TaskRow> SqlSession::task(const std::string& sha256) {
    const auto found = tasks(sql_, "WHERE sha256 = :sha256", {}, &sha256);
    return found.empty() ? std::nullopt : std::optional(found.front());
}

std::vector<TaskRow> SqlSession::due_tasks(std::int64_t now, int most) {
    return tasks(sql_, "WHERE dead = 0 AND due <= :now ORDER BY no LIMIT :most", {{"now", now}, {"most", most}});
}

std::vector<TaskRow> SqlSession::dead_tasks() { return tasks(sql_, "WHERE dead = 1 ORDER BY no", {}); }

std::array<std::int64_t, 3> SqlSession::count_tasks(std::int64_t now) {
    std::array<std::int64_t, 3> counts{};
    sql_ << "SELECT COUNT(*) FROM reading_task WHERE dead = 0 AND (lease = 0 OR due <= :now)", use(now, "now"),
        into(counts[0]);
    sql_ << "SELECT COUNT(*) FROM reading_task WHERE dead = 0 AND lease <> 0 AND due > :now", use(now, "now"),
        into(counts[1]);
    sql_ << "SELECT COUNT(*) FROM reading_task WHERE dead = 1", into(counts[2]);
    return counts;
}

void SqlSession::add(const TaskRow& task) {
    const int dead = task.dead ? 1 : 0;
    sql_ << "INSERT INTO reading_task (sha256, no, reader, lease, due, tries, dead, said) VALUES (:sha256, :no, "
            ":reader, :lease, :due, :tries, :dead, :said)",
        use(task.sha256, "sha256"), use(task.no, "no"), use(task.reader, "reader"), use(task.lease, "lease"),
        use(task.due, "due"), use(task.tries, "tries"), use(dead, "dead"), use(task.said, "said");
}

bool SqlSession::change_task(const TaskRow& task, std::int64_t lease) {
    const int dead = task.dead ? 1 : 0;
    soci::statement statement =
        (sql_.prepare << "UPDATE reading_task SET reader = :reader, lease = :lease, due = :due, tries = :tries, "
                         "dead = :dead, said = :said WHERE sha256 = :sha256 AND lease = :before",
         use(task.reader, "reader"), use(task.lease, "lease"), use(task.due, "due"), use(task.tries, "tries"),
         use(dead, "dead"), use(task.said, "said"), use(task.sha256, "sha256"), use(lease, "before"));
    statement.execute(true);
    return statement.get_affected_rows() == 1;
}

bool SqlSession::erase_task(const std::string& sha256, std::int64_t lease) {
    soci::statement statement =
        (sql_.prepare << "DELETE FROM reading_task WHERE sha256 = :sha256 AND lease = :lease",
         use(sha256, "sha256"), use(lease, "lease"));
    statement.execute(true);
    return statement.get_affected_rows() == 1;
}

}  // namespace footring::store

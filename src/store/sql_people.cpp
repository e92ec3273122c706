// Accounts, sessions and the audit trail in SQL. SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "store/sql_session.h"

namespace footring::store {

using soci::into;
using soci::use;

namespace {

// Rows of one statement that is bound to one value; `row` is what it fills.
template <class Row>
std::vector<Row> all_rows(soci::statement& statement, const Row& row) {
    std::vector<Row> out;
    statement.execute(false);
    while (statement.fetch()) out.push_back(row);
    return out;
}

// SOCI binds addresses: it stays where it is while its statement runs.
struct AccountRow {
    Account account;
    int role = 0;
    Account read() const {
        Account out = account;
        out.role = static_cast<Role>(role);
        return out;
    }
};

constexpr const char* kAccounts = "SELECT name, role, secret, created, changed FROM account";
constexpr const char* kSessions = "SELECT digest, account, begun, seen, ends, origin FROM session";

}  // namespace

std::optional<Account> SqlSession::account(const std::string& name) {
    AccountRow row;
    sql_ << std::string(kAccounts) + " WHERE name = :name", use(name, "name"), into(row.account.name),
        into(row.role), into(row.account.secret), into(row.account.created), into(row.account.changed);
    return sql_.got_data() ? std::optional(row.read()) : std::nullopt;
}

std::vector<Account> SqlSession::accounts() {
    AccountRow row;
    soci::statement statement = (sql_.prepare << kAccounts, into(row.account.name), into(row.role),
                                 into(row.account.secret), into(row.account.created), into(row.account.changed));
    std::vector<Account> out;
    statement.execute(false);
    while (statement.fetch()) out.push_back(row.read());
    std::ranges::sort(out, {}, &Account::name);
    return out;
}

std::optional<Session> SqlSession::session(const std::string& digest) {
    Session row;
    sql_ << std::string(kSessions) + " WHERE digest = :digest", use(digest, "digest"), into(row.digest),
        into(row.account), into(row.begun), into(row.seen), into(row.ends), into(row.origin);
    return sql_.got_data() ? std::optional(row) : std::nullopt;
}

std::vector<Session> SqlSession::sessions_of(const std::string& account) {
    Session row;
    soci::statement statement =
        (sql_.prepare << std::string(kSessions) + " WHERE account = :account", use(account, "account"),
         into(row.digest), into(row.account), into(row.begun), into(row.seen), into(row.ends), into(row.origin));
    return all_rows(statement, row);
}

std::vector<Noted> SqlSession::noted(const NotedQuery& query) {
    std::string condition;
    const auto also = [&](const char* one) {
        condition += (condition.empty() ? " WHERE " : " AND ") + std::string(one);
    };
    if (!query.who.empty()) also("who = :who");
    if (!query.subject.empty()) also("subject = :subject");
    if (query.before > 0) also("id < :before");
    Noted row;
    soci::statement statement(sql_);
    if (!query.who.empty()) statement.exchange(use(query.who, "who"));
    if (!query.subject.empty()) statement.exchange(use(query.subject, "subject"));
    if (query.before > 0) statement.exchange(use(query.before, "before"));
    statement.exchange(use(query.limit, "most"));
    statement.exchange(into(row.id));
    statement.exchange(into(row.when));
    statement.exchange(into(row.who));
    statement.exchange(into(row.what));
    statement.exchange(into(row.subject));
    statement.exchange(into(row.batch));
    statement.exchange(into(row.origin));
    statement.alloc();
    statement.prepare("SELECT id, made_at, who, what, subject, batch, origin FROM audit" + condition +
                      " ORDER BY id DESC LIMIT :most");
    statement.define_and_bind();
    return all_rows(statement, row);
}

void SqlSession::save(const Account& account) {
    const int role = static_cast<int>(account.role);
    const std::string text = this->account(account.name)
                                 ? "UPDATE account SET role = :role, secret = :secret, created = :created, "
                                   "changed = :changed WHERE name = :name"
                                 : "INSERT INTO account (name, role, secret, created, changed) "
                                   "VALUES (:name, :role, :secret, :created, :changed)";
    sql_ << text, use(account.name, "name"), use(role, "role"), use(account.secret, "secret"),
        use(account.created, "created"), use(account.changed, "changed");
}

void SqlSession::erase_account(const std::string& name) {
    sql_ << "DELETE FROM account WHERE name = :name", use(name, "name");
}

void SqlSession::save(const Session& session) {
    erase_session(session.digest);
    sql_ << "INSERT INTO session (digest, account, begun, seen, ends, origin) "
            "VALUES (:digest, :account, :begun, :seen, :ends, :origin)",
        use(session.digest, "digest"), use(session.account, "account"), use(session.begun, "begun"),
        use(session.seen, "seen"), use(session.ends, "ends"), use(session.origin, "origin");
}

void SqlSession::erase_session(const std::string& digest) {
    sql_ << "DELETE FROM session WHERE digest = :digest", use(digest, "digest");
}

void SqlSession::erase_sessions_until(const std::string& moment) {
    sql_ << "DELETE FROM session WHERE ends <= :moment", use(moment, "moment");
}

void SqlSession::append(const Noted& row) {
    std::int64_t id = 0;
    sql_ << "SELECT COALESCE(MAX(id), 0) + 1 FROM audit", into(id);
    sql_ << "INSERT INTO audit (id, made_at, who, what, subject, batch, origin) "
            "VALUES (:id, :made_at, :who, :what, :subject, :batch, :origin)",
        use(id, "id"), use(row.when, "made_at"), use(row.who, "who"), use(row.what, "what"),
        use(row.subject, "subject"), use(row.batch, "batch"), use(row.origin, "origin");
}

}  // namespace footring::store

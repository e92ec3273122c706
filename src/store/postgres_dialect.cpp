// SPDX-License-Identifier: Apache-2.0
#include "store/postgres_dialect.h"

#include <fmt/format.h>
#include <soci/postgresql/soci-postgresql.h>

#include <stdexcept>

#include "base/text.h"
#include "store/postgres_listener.h"
#include "store/postgres_migrations.h"

namespace footring::store {

namespace {

using soci::into;
using soci::use;

// Numbers of our own among the advisory locks of a database.
constexpr std::int64_t kMigrating = 0x46545231'0001, kOpen = 0x46545231'0002;

constexpr std::string_view kLockNotAvailable = "55P03";

bool is_lost(soci::session& sql) {
    const auto* backend = static_cast<soci::postgresql_session_backend*>(sql.get_backend());
    return backend == nullptr || backend->conn_ == nullptr || PQstatus(backend->conn_) != CONNECTION_OK;
}

std::string ask_text(soci::session& sql, const std::string& question) {
    std::string answer;
    sql << question, into(answer);
    return answer;
}

// The first line of what libpq says, which holds addresses and no passwords.
std::string first_line(std::string said) {
    for (const std::string_view front : {"Cannot establish connection to the database.\n", "Cannot execute query. ",
                                         "Cannot prepare statement. ", "Fatal error. ", "ERROR:  ", "FATAL:  "})
        if (said.starts_with(front)) said.erase(0, front.size());
    return said.substr(0, said.find('\n'));
}

// The database is held by whoever moves it, or by those who use it.
struct Held : std::runtime_error {
    using std::runtime_error::runtime_error;
};

Problem problem_in(const std::string& where, const std::exception& e) {
    const auto unusable = [&](std::string what, std::string remedy) {
        return Problem{ProblemCode::kStore, where, std::move(what), std::move(remedy)};
    };
    if (dynamic_cast<const Held*>(&e) != nullptr)
        return unusable(e.what(), "wait until that has ended, or stop the programs that use it");
    const auto* refused = dynamic_cast<const soci::postgresql_soci_error*>(&e);
    const std::string state = refused == nullptr ? "" : std::string(trim(refused->sqlstate().c_str()));
    const std::string said = first_line(e.what());
    const bool is_of_soci = dynamic_cast<const soci::soci_error*>(&e) != nullptr;
    if (state == "53100")
        return unusable("the disk of the database is full; nothing of this change was stored",
                        "free some space on the disk of the database and try again");
    if (state == "53300")
        return unusable("the database has as many connections as it allows",
                        "stop programs that do not need it, or raise its max_connections");
    if (state == "42501" || state.starts_with("28"))
        return unusable(fmt::format("the database does not let us do this ({})", said),
                        "check the user, the password and the rights of the user in this database");
    if (state == "3D000")
        return unusable(fmt::format("there is no such database ({})", said), "make it with createdb, as UTF-8");
    // What is stored was checked; so it is a name that somebody asked for, and nothing has it.
    if (state == "22021")
        return Problem{ProblemCode::kNotFound, where, "there is nothing of a name that is no UTF-8 text",
                       "check the name"};
    if (state == kLockNotAvailable)
        return unusable("others have been changing the store for a long time; nothing of this change was stored",
                        "wait until their import or undo has ended and try again");
    if (state == "40001" || state == "40P01" || state == "57014")
        return unusable("the database gave up this change; nothing of it was stored", "try again");
    if (state == "25006")
        return unusable("the database may only be read: it is a copy of another, or is being looked after",
                        "name the database that can be written");
    if (state.starts_with("53") || state.starts_with("58") || state.starts_with("XX"))
        return unusable(fmt::format("the database cannot go on ({})", said),
                        "see the log of the database server; what was stored before is kept");
    if (state.starts_with("08") || state.starts_with("57") || (state.empty() && is_of_soci))
        return unusable(
            fmt::format("the database does not answer ({})", said),
            "check that it runs and can be reached; a change in progress was stored whole or not at all: "
            "look, and repeat it when it is not there");
    return Problem{ProblemCode::kOurFault, where,
                   fmt::format("the store failed unexpectedly ({}: {})", state, said),
                   "nothing of this change was stored; please report this sentence"};
}

class PostgresDialect final : public Dialect {
  public:
    PostgresDialect(std::string address, Hold hold)
        : address_(std::move(address)), name_(without_password(address_)), hold_(hold) {}

    void open(soci::session& sql, bool for_writing) const override {
        sql.open(soci::postgresql, with_patience(address_));
        sql << "SET client_encoding = 'UTF8'";
        sql << "SET client_min_messages = warning";  // notices would be printed
        sql << "SET application_name = 'footring'";
        sql << "SET synchronous_commit = on";  // what a call has returned survives the power going off
        // Who is cut off in the middle of a change does not hold the others up for longer.
        if (hold_ == Hold::kShared) sql << "SET idle_in_transaction_session_timeout = '30s'";
        if (for_writing) hold(sql);
        else sql << "SET default_transaction_read_only = on";
        sql << "SET lock_timeout = '15s'";
    }
    void begin(soci::session& sql, bool for_writing) const override {
        // Behind the lock each statement sees all that was committed, and nobody else commits anything.
        start(sql, for_writing ? "BEGIN ISOLATION LEVEL READ COMMITTED" : "BEGIN ISOLATION LEVEL REPEATABLE READ",
              for_writing);
        if (!for_writing) return;
        int one = 0;
        sql << "SELECT one FROM writer WHERE one = 1 FOR UPDATE", into(one);
        if (one != 1) throw soci::soci_error("the table writer lost its row");
    }
    void begin_aside(soci::session& sql, const std::string& name) const override {
        start(sql, "BEGIN ISOLATION LEVEL READ COMMITTED", true);
        std::string nothing;
        sql << "SELECT CAST(pg_advisory_xact_lock(hashtextextended(:name, 0)) AS TEXT)", use(name, "name"),
            into(nothing);
    }
    void rollback(soci::session& sql) const override {
        sql << "ROLLBACK";
        sql << "DEALLOCATE ALL";  // a failed transaction could not let go of its statements
    }
    void tell_others(soci::session& sql) const override { sql << fmt::format("NOTIFY {}", kChannel); }
    std::shared_ptr<void> listen(Bell& bell) const override {
        return std::make_shared<PostgresListener>(with_patience(address_), bell);
    }
    std::string sort_by(std::string_view text) const override { return fmt::format("left({}, 200)", text); }

    std::string position(std::string_view text, std::string_view what) const override {
        return fmt::format("strpos({}, {})", text, what);
    }
    std::string words_condition() const override {
        return "no IN (SELECT w.no FROM piece_words w WHERE w.words @@ CAST(:words AS tsquery))";
    }
    // Words are letters and digits, so that quoting them leaves nothing for PostgreSQL's own language.
    std::string words_argument(const std::vector<std::string>& words) const override {
        std::string out;
        for (const std::string& word : words) out += fmt::format("{}'{}':*", out.empty() ? "" : " & ", word);
        return out;
    }
    std::string unchanged_with_words(std::string_view narrowed) const override {
        return fmt::format(
            "SELECT p.no, array_to_string(tsvector_to_array(w.words), ' ') FROM piece_words w JOIN piece p ON "
            "p.no = w.no WHERE w.words @@ CAST(:words AS tsquery) AND p.revision = p.no {} ORDER BY w.no DESC "
            "LIMIT :most",
            narrowed);
    }
    std::string insert_words() const override {
        return "INSERT INTO piece_words (no, words) VALUES (:no, array_to_tsvector(string_to_array(:words, ' ')))";
    }
    std::string update_words() const override {
        return "UPDATE piece_words SET words = array_to_tsvector(string_to_array(:words, ' ')) WHERE no = :no";
    }
    std::string delete_words() const override { return "DELETE FROM piece_words WHERE no = :no"; }
    std::string seconds_now() const override {
        return "CAST(floor(extract(epoch FROM clock_timestamp())) AS BIGINT)";
    }
    std::string all_words() const override {
        return "(SELECT no, array_to_string(tsvector_to_array(words), ' ') AS words FROM piece_words)";
    }

    Problem problem_of(const std::exception& e) const override { return problem_in(name_, e); }

  private:
    void hold(soci::session& sql) const {
        sql << "SET lock_timeout = '3s'";  // a program that has just ended lets go within moments
        try {
            ask_text(sql, fmt::format("SELECT CAST(pg_advisory_lock{}({}) AS TEXT)",
                                      hold_ == Hold::kShared ? "_shared" : "", kOpen));
        } catch (const soci::postgresql_soci_error& e) {
            if (!e.sqlstate().starts_with(kLockNotAvailable)) throw;
            sql.close();
            throw Held(hold_ == Hold::kShared ? "this store is being moved"
                                              : "another Footring has this store open");
        }
    }
    void start(soci::session& sql, const char* begin, bool for_writing) const {
        try {
            sql << begin;
        } catch (const std::exception&) {
            if (!is_lost(sql)) throw;
            sql.close();
            open(sql, for_writing);
            sql << begin;
        }
    }
    std::string address_, name_;
    Hold hold_;
};

// A database is ours when it is empty, or when its table of versions says so.
Expected<void> check_whose(soci::session& sql, const std::string& where) {
    const auto unusable = [&](std::string what, std::string remedy) {
        return fail(ProblemCode::kStore, where, std::move(what), std::move(remedy));
    };
    if (const std::string encoding = ask_text(sql, "SHOW server_encoding"); encoding != "UTF8")
        return unusable(fmt::format("the database holds text as {}, not as UTF-8", encoding),
                        "make another one with: createdb --encoding UTF8 --template template0");
    const std::string mark =
        ask_text(sql,
                 "SELECT COALESCE(MAX(COALESCE(obj_description(c.oid, 'pg_class'), 'none')), '') FROM pg_class c "
                 "JOIN pg_namespace n ON n.oid = c.relnamespace "
                 "WHERE n.nspname = current_schema() AND c.relname = 'schema_version'");
    if (mark == "Footring") return {};
    std::int64_t tables = 0;
    sql << "SELECT COUNT(*) FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace "
           "WHERE n.nspname = current_schema() AND c.relkind IN ('r', 'p', 'v')",
        into(tables);
    if (!mark.empty() || tables > 0)
        return unusable("this database has tables of another program", "make a database for Footring alone");
    sql << "CREATE TABLE schema_version (version INTEGER NOT NULL PRIMARY KEY, what TEXT NOT NULL, "
           "applied TEXT NOT NULL)";
    sql << "COMMENT ON TABLE schema_version IS 'Footring'";
    return {};
}

}  // namespace

bool is_postgres_address(std::string_view text) {
    return text.starts_with("postgresql://") || text.starts_with("postgres://");
}

std::string without_password(std::string_view address) {
    std::string out(address);
    const std::size_t from = out.find("://"), at = out.find('@');
    if (from != std::string::npos && at != std::string::npos)
        if (const std::size_t colon = out.find(':', from + 3); colon < at) out.erase(colon, at - colon);
    // Parameters after ? may hold one too, and say nothing that a person needs to tell two stores apart but the
    // host.
    const std::size_t question = out.find('?');
    if (question == std::string::npos) return out;
    std::string kept;
    for (std::size_t begin = question + 1; begin <= out.size();) {
        const std::size_t end = std::min(out.find('&', begin), out.size());
        const std::string part = out.substr(begin, end - begin);
        if (part.starts_with("host=") || part.starts_with("port=")) kept += (kept.empty() ? "?" : "&") + part;
        begin = end + 1;
    }
    return out.substr(0, question) + kept;
}

std::string with_patience(std::string address) {
    for (const std::string_view part : {"connect_timeout=10", "keepalives_idle=10", "keepalives_interval=5",
                                        "keepalives_count=3", "tcp_user_timeout=20000"}) {  // the last in ms
        const std::string_view name = part.substr(0, part.find('=') + 1);
        if (address.find(name) != std::string::npos) continue;
        address += address.find('?') == std::string::npos ? '?' : '&';
        address += part;
    }
    return address;
}

Expected<void> prepare_postgres(const std::string& address, const Now& now) {
    const PostgresDialect dialect(address, Hold::kShared);
    const std::string where = without_password(address);
    try {
        soci::session sql;
        dialect.open(sql, true);
        // Of several programs that start at once one brings the tables forward; the lock ends with this session.
        std::string nothing;
        sql << fmt::format("SELECT CAST(pg_advisory_lock({}) AS TEXT)", kMigrating), into(nothing);
        if (auto ok = check_whose(sql, where); !ok) return ok;
        return migrate(sql, postgres_migrations(), where, now);
    } catch (const std::exception& e) {
        return std::unexpected(problem_in(where, e));
    }
}

std::unique_ptr<Dialect> make_postgres_dialect(std::string address, Hold hold) {
    return std::make_unique<PostgresDialect>(std::move(address), hold);
}

}  // namespace footring::store

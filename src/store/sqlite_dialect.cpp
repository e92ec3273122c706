// SPDX-License-Identifier: Apache-2.0
#include "store/sqlite_dialect.h"

#include <fmt/format.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include "store/sqlite_migrations.h"
#include "store/words.h"

namespace footring::store {

namespace {

using soci::into;

constexpr int kIndexedBeginning = 3;  // letters: the longest that piece_words has lists for
constexpr int kWordsBytes = 1 << 20,
              kManyWordsBytes = 64 << 20;  // gathered before they are written: FTS5's own, ours
constexpr int kBusySeconds = 5;            // another program, such as a backup, may hold the file for a moment
constexpr int kTidyMs = 500;               // for those who read at this moment
// Primary result codes (sqlite3.h), written out because SOCI keeps that header in a namespace of its own.
enum Code {
    kBusy = 5,
    kLocked = 6,
    kReadOnly = 8,
    kInputOutput = 10,
    kCorrupt = 11,
    kFull = 13,
    kCannotOpen = 14,
    kNoDatabase = 26
};

// SOCI splits its connection text at blanks and quotes; as a URI any path survives.
std::string uri_of(const std::filesystem::path& file) {
    std::string out = "file:";
    for (const char c : file.string()) {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '/' ||
                           c == '.' || c == '-' || c == '_';
        out += plain ? std::string(1, c) : fmt::format("%{:02X}", static_cast<unsigned char>(c));
    }
    return out;
}

std::string ask_text(soci::session& sql, const std::string& question) {
    std::string answer;
    sql << question, into(answer);
    return answer;
}
std::int64_t ask_number(soci::session& sql, const std::string& question) {
    std::int64_t answer = 0;
    sql << question, into(answer);
    return answer;
}

class SqliteDialect final : public Dialect {
  public:
    explicit SqliteDialect(std::filesystem::path file) : file_(std::move(file)) {}

    void open(soci::session& sql, bool for_writing) const override {
        sql.open(soci::sqlite3, fmt::format("dbname=\"{}\" timeout={}", uri_of(file_), kBusySeconds));
        ask_text(sql, "PRAGMA journal_mode = WAL");  // readers never wait for the writer
        sql << "PRAGMA synchronous = FULL";          // what was committed survives the power going off
        sql << "PRAGMA foreign_keys = ON";
        sql << "PRAGMA cache_size = -16000";  // kB per session
        sql << "PRAGMA temp_store = MEMORY";
        if (!for_writing) sql << "PRAGMA query_only = ON";
    }
    void begin(soci::session& sql, bool for_writing) const override {
        sql << (for_writing ? "BEGIN IMMEDIATE" : "BEGIN");
    }
    // An index that is made of sorted rows at the end takes a fraction of what a million rows in no order take it.
    // Readers see the database as it was before the transaction (WAL), with every index.
    std::vector<std::string> set_aside(soci::session& sql, bool all) const override {
        std::vector<std::string> names, back;
        std::string name, statement;
        {  // a table that is still being read cannot lose an index
            soci::statement asking =
                (sql.prepare << "SELECT name, sql FROM sqlite_master WHERE type = 'index' AND sql IS "
                                "NOT NULL AND tbl_name IN ('piece', 'change') ORDER BY rowid",
                 into(name), into(statement));
            asking.execute(false);
            while (asking.fetch()) {
                if (!all && name == "change_by_record") continue;  // asked for the state of each piece
                names.push_back(name);
                back.push_back(statement);
            }
        }
        for (const std::string& one : names) sql << "DROP INDEX " + one;
        sql << fmt::format("INSERT INTO piece_words (piece_words, rank) VALUES ('hashsize', {})", kManyWordsBytes);
        back.push_back(
            fmt::format("INSERT INTO piece_words (piece_words, rank) VALUES ('hashsize', {})", kWordsBytes));
        return back;
    }

    // SQLite moves the log into the database only as far as nobody reads what was before, and begins it anew only
    // when nobody reads it at all. Where somebody always reads, it would grow for as long as they do; so the next
    // ones are made to read the database itself, and whoever writes waits for those who read the log.
    void tidy(soci::session& sql) const override {
        std::filesystem::path log = file_;
        log += "-wal";
        std::error_code missing;
        const auto bytes = std::filesystem::file_size(log, missing);
        if (missing || bytes <= kMostLogBytes) return;
        try {
            ask_number(sql, fmt::format("PRAGMA busy_timeout = {}", kTidyMs));
            ask_number(sql, "PRAGMA wal_checkpoint(TRUNCATE)");
        } catch (const std::exception&) {  // the change is kept; the log stays as it is
        }
        try {
            ask_number(sql, fmt::format("PRAGMA busy_timeout = {}", 1000 * kBusySeconds));
        } catch (const std::exception&) {
        }
    }

    std::string position(std::string_view text, std::string_view what) const override {
        return fmt::format("instr({}, {})", text, what);
    }
    std::string words_condition() const override {
        return "no IN (SELECT rowid FROM piece_words WHERE piece_words MATCH :words)";
    }
    // Words are letters and digits, so that quoting them leaves nothing for FTS5's own language.
    std::string words_argument(const std::vector<std::string>& words) const override {
        std::string out;
        for (const std::string& word : words) out += fmt::format("{}\"{}\"*", out.empty() ? "" : " AND ", word);
        return out;
    }
    // Of a longer beginning the index gathers the pieces of each word that has it, before it gives the first. Words
    // with digits begin few others.
    std::string beginnings_argument(const std::vector<std::string>& words) const override {
        return words_argument(beginnings(words, kIndexedBeginning));
    }
    // The index of words gives its rows backwards without gathering them; CROSS JOIN keeps it in front.
    std::string unchanged_with_words(std::string_view narrowed) const override {
        return fmt::format(
            "SELECT p.no, w.words FROM piece_words w CROSS JOIN piece p ON p.no = w.rowid WHERE w.piece_words "
            "MATCH "
            ":words AND p.revision = p.no {} ORDER BY w.rowid DESC LIMIT :most",
            narrowed);
    }
    std::string insert_words() const override {
        return "INSERT INTO piece_words (rowid, words) VALUES (CAST(:no AS INTEGER), :words)";
    }
    std::string update_words() const override { return "UPDATE piece_words SET words = :words WHERE rowid = :no"; }
    std::string delete_words() const override { return "DELETE FROM piece_words WHERE rowid = :no"; }
    std::string seconds_now() const override { return "CAST(strftime('%s', 'now') AS INTEGER)"; }
    std::string all_words() const override { return "(SELECT rowid AS no, words FROM piece_words)"; }

    Problem problem_of(const std::exception& e) const override {
        const auto* refused = dynamic_cast<const soci::sqlite3_soci_error*>(&e);
        return sqlite_problem(file_, refused == nullptr ? 0 : refused->result(),
                              refused == nullptr ? e.what() : refused->get_error_message());
    }

  private:
    std::filesystem::path file_;
};

Problem unusable(const std::filesystem::path& file, std::string what, std::string remedy) {
    return {ProblemCode::kStore, file.string(), std::move(what), std::move(remedy)};
}

Expected<void> check_whose(soci::session& sql, const std::filesystem::path& file) {
    if (ask_number(sql, "SELECT COUNT(*) FROM sqlite_master") == 0) {  // new
        sql << fmt::format("PRAGMA application_id = {}", kApplicationId);
        return {};
    }
    if (ask_number(sql, "PRAGMA application_id") == kApplicationId) return {};
    return std::unexpected(unusable(file, "this file is a database of another program",
                                    "choose another folder with --data, or move this file away"));
}

Expected<void> check_integrity(soci::session& sql, const std::filesystem::path& file) {
    const std::string verdict = ask_text(sql, "PRAGMA quick_check(1)");
    if (verdict == "ok") return {};
    return std::unexpected(unusable(file, fmt::format("the store is damaged ({})", verdict),
                                    "keep this file aside and put the newest backup in its place"));
}

}  // namespace

Problem sqlite_problem(const std::filesystem::path& file, int code, std::string_view said) {
    switch (code & 0xFF) {
        case kFull:
            return unusable(file, "the disk is full; nothing of this change was stored",
                            "free some space on this disk and try again");
        case kReadOnly:
            return unusable(file, "the store may not be written",
                            "give yourself the right to write to this folder, or choose another with --data");
        case kBusy:
        case kLocked:
            return unusable(file, "another program holds the store",
                            "close what reads or backs up this file and try again");
        case kCorrupt:
        case kNoDatabase:
            return unusable(file, "the store is damaged",
                            "stop the program, keep this file aside and put the newest backup in its place");
        case kInputOutput:
            return unusable(file, "the disk does not answer as it should",
                            "check the disk and its cable, then start again; what was stored before is kept");
        case kCannotOpen:
            return unusable(file, "the store cannot be opened",
                            "see that the folder exists and that you may read and write in it");
        default:
            return Problem{ProblemCode::kOurFault, file.string(),
                           fmt::format("the store failed unexpectedly ({})", said),
                           "nothing of this change was stored; please report this sentence"};
    }
}

int newest_tables() { return sqlite_migrations().back().version; }

Expected<void> prepare_sqlite(const std::filesystem::path& file, const Now& now) {
    const SqliteDialect dialect(file);
    try {
        soci::session sql;
        dialect.open(sql, true);
        if (auto ok = check_whose(sql, file); !ok) return ok;
        if (auto ok = check_integrity(sql, file); !ok) return ok;
        return migrate(sql, sqlite_migrations(), file.string(), now);
    } catch (const std::exception& e) {
        return std::unexpected(dialect.problem_of(e));
    }
}

std::unique_ptr<Dialect> make_sqlite_dialect(std::filesystem::path file) {
    return std::make_unique<SqliteDialect>(std::move(file));
}

}  // namespace footring::store

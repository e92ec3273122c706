// SPDX-License-Identifier: Apache-2.0
#include "store/move.h"

#include <fmt/format.h>
#include <soci/soci.h>

#include <algorithm>
#include <list>
#include <optional>
#include <utility>

#include "store/act.h"
#include "store/disk.h"
#include "store/folder_lock.h"
#include "store/postgres_dialect.h"
#include "store/reading_pictures.h"
#include "store/sha256.h"
#include "store/sqlite_dialect.h"

namespace footring::store {

namespace {

using soci::into;
using soci::use;

constexpr int kRowsAtOnce = 2000;

// A table as it is copied: its key, which orders its rows, and the rest. Values travel as text; a database knows
// which of them are numbers.
struct Table {
    const char* name;
    std::vector<std::string> key, rest;
    bool by_number = false;  // its key is one number
    std::vector<std::string> columns() const {
        std::vector<std::string> all = key;
        all.insert(all.end(), rest.begin(), rest.end());
        return all;
    }
};
const Table kReadings{"reading", {"sha256"}, {"packs", "record"}, false};
// In an order in which each row finds what it refers to.
const std::vector<Table>& tables() {
    static const std::vector<Table> kTables = {
        {"counter", {"name"}, {"value"}},
        {"lot", {"id"}, {"revision", "record"}},
        {"piece",
         {"no"},
         {"id", "revision", "form", "shape", "lot", "place", "treatment", "grade", "decided", "is_private",
          "id_key", "number_key", "lot_key", "place_key"},
         true},
        {"piece_record", {"no"}, {"record"}, true},
        {"piece_words", {"no"}, {"words"}, true},
        {"facet", {"field", "value", "is_private"}, {"pieces"}},
        {"photo", {"piece", "sha256"}, {"revision", "record"}},
        {"kept", {"kind", "id"}, {"id_key", "revision", "record"}},
        {"batch", {"id"}, {"made_at", "undoes", "undone_by"}, true},
        {"change",
         {"id"},
         {"batch", "undoes", "state_before", "state", "made_at", "entity", "record_key", "piece", "what",
          "record_before", "record_after"},
         true},
        {"account", {"name"}, {"role", "secret", "created", "changed"}},
        {"session", {"digest"}, {"account", "begun", "seen", "ends", "origin"}},
        {"audit", {"id"}, {"made_at", "who", "what", "subject", "batch", "origin"}, true},
        kReadings,
        {"reading_task", {"sha256"}, {"no", "reader", "lease", "due", "tries", "dead", "said"}},
    };
    return kTables;
}

// SOCI binds addresses: they stay where they are.
struct Values {
    explicit Values(std::size_t count) : texts(count), are(count, soci::i_ok) {}
    std::vector<std::string> texts;
    std::vector<soci::indicator> are;
};

// One end of a move, with a transaction open.
class End {
  public:
    static Expected<std::unique_ptr<End>> open(const Place& place, bool to_write, const Now& now) {
        if (auto ok = check(place); !ok) return std::unexpected(ok.error());
        auto end = std::unique_ptr<End>(new End(place));
        if (auto ok = place.database.empty() ? end->take_folder(to_write, now) : end->take_database(now); !ok)
            return std::unexpected(ok.error());
        auto blobs = open_blobs(place);
        if (!blobs) return std::unexpected(blobs.error());
        end->blobs_ = std::move(*blobs);
        try {
            end->dialect_->open(end->sql_, true);
            end->dialect_->begin(end->sql_, to_write);
        } catch (const std::exception& e) {
            return std::unexpected(end->dialect_->problem_of(e));
        }
        return end;
    }
    Blobs& blobs() { return *blobs_; }
    soci::session& sql() { return sql_; }
    std::string name() const { return name_of(place_); }
    Problem problem_of(const std::exception& e) const { return dialect_->problem_of(e); }
    void keep() { sql_ << "COMMIT"; }

    std::string source_of(const Table& table) const {
        return std::string(table.name) == "piece_words" ? dialect_->all_words() : std::string(table.name);
    }
    std::string insertion_into(const Table& table) const {
        if (std::string(table.name) == "piece_words") return dialect_->insert_words();
        const auto columns = table.columns();
        return fmt::format("INSERT INTO {} ({}) VALUES (:{})", table.name, fmt::join(columns, ", "),
                           fmt::join(columns, ", :"));
    }

  private:
    explicit End(Place place) : place_(std::move(place)) {}
    Expected<void> take_folder(bool to_write, const Now& now) {
        const std::filesystem::path file = place_.folder / "footring.db";
        std::error_code error;
        if (!to_write && !std::filesystem::exists(file, error))
            return fail(ProblemCode::kNotFound, place_.folder.string(), "there is no store in this folder",
                        "name the folder that `footring serve --data` uses");
        if (auto ok = make_folder(place_.folder); !ok) return ok;
        auto lock = FolderLock::take(place_.folder);
        if (!lock) return std::unexpected(lock.error());
        lock_.emplace(std::move(*lock));
        if (auto ok = prepare_sqlite(file, now); !ok) return ok;
        dialect_ = make_sqlite_dialect(file);
        return {};
    }
    Expected<void> take_database(const Now& now) {
        if (auto ok = prepare_postgres(place_.database, now); !ok) return ok;
        dialect_ = make_postgres_dialect(place_.database, Hold::kAlone);
        return {};
    }

    Place place_;
    std::optional<FolderLock> lock_;
    std::unique_ptr<Dialect> dialect_;
    std::unique_ptr<Blobs> blobs_;
    soci::session sql_;  // last: without a commit its end is the end of what was done
};

// Rows of a table in the order of their keys, some thousands at a time: a database may hold more than fits here.
class Rows {
  public:
    Rows(End& end, const Table& table) : end_(end), table_(table), columns_(table.columns()) {}

    // Hands every row to `take`; what the rows of the table are as one number.
    template <class Take>
    MovedTable each(const Take& take) {
        MovedTable told{table_.name, 0, ""};
        Sha256 digest;
        std::vector<std::string> last;
        for (bool more = true; more;) {
            const auto page = next(last);
            more = page.size() == static_cast<std::size_t>(kRowsAtOnce);
            for (const Values& row : page) {
                for (std::size_t i = 0; i < row.texts.size(); ++i) {
                    const bool there = row.are[i] == soci::i_ok;
                    digest.add(there ? fmt::format("{}:", row.texts[i].size()) : std::string("-:"));
                    if (there) digest.add(row.texts[i]);
                }
                take(row);
                ++told.rows;
            }
            if (!page.empty()) last.assign(page.back().texts.begin(), key_end(page.back().texts));
        }
        told.digest = digest.name();
        return told;
    }

  private:
    std::vector<std::string>::const_iterator key_end(const std::vector<std::string>& row) const {
        return row.begin() + static_cast<std::ptrdiff_t>(table_.key.size());
    }
    std::vector<Values> next(const std::vector<std::string>& after) {
        const std::string key = fmt::format("{}", fmt::join(table_.key, ", "));
        std::string question =
            fmt::format("SELECT {} FROM {} t", fmt::join(columns_, ", "), end_.source_of(table_));
        Values row(columns_.size());
        soci::statement statement(end_.sql());
        std::vector<std::string> names;
        for (std::size_t i = 0; i < after.size(); ++i) {
            names.push_back(fmt::format("k{}", i));
            statement.exchange(use(after[i], names.back()));
        }
        if (!after.empty())
            question += table_.by_number ? fmt::format(" WHERE {} > CAST(:{} AS BIGINT)", key, names.front())
                                         : fmt::format(" WHERE ({}) > (:{})", key, fmt::join(names, ", :"));
        question += fmt::format(" ORDER BY {} LIMIT {}", key, kRowsAtOnce);
        for (std::size_t i = 0; i < columns_.size(); ++i) statement.exchange(into(row.texts[i], row.are[i]));
        statement.alloc();
        statement.prepare(question);
        statement.define_and_bind();
        statement.execute(false);
        std::vector<Values> out;
        while (statement.fetch()) out.push_back(row);
        return out;
    }

    End& end_;
    const Table& table_;
    std::vector<std::string> columns_;
};

class Inserting {
  public:
    Inserting(End& to, const Table& table) : row_(table.columns().size()), statement_(to.sql()) {
        const auto columns = table.columns();
        for (std::size_t i = 0; i < columns.size(); ++i) {
            statement_.exchange(use(row_.texts[i], row_.are[i], columns[i]));
        }
        statement_.alloc();
        statement_.prepare(to.insertion_into(table));
        statement_.define_and_bind();
    }
    void operator()(const Values& row) {
        std::ranges::copy(row.texts, row_.texts.begin());
        std::ranges::copy(row.are, row_.are.begin());
        statement_.execute(true);
    }

  private:
    Values row_;
    soci::statement statement_;
};

class Move {
  public:
    Move(End& from, End& to, const Telling& told) : from_(from), to_(to), told_(told) {}

    Expected<Moved> run() {
        if (auto ok = target_is_empty(); !ok) return std::unexpected(ok.error());
        if (auto ok = move_photographs(); !ok) return std::unexpected(ok.error());
        if (auto ok = move_pictures(); !ok) return std::unexpected(ok.error());
        for (const Table& table : tables()) move_table(table);
        for (std::size_t i = 0; i < tables().size(); ++i) {
            const MovedTable there = Rows(to_, tables()[i]).each([](const Values&) {});
            const MovedTable& here = moved_.tables[i];
            if (there.rows != here.rows || there.digest != here.digest)
                return fail(ProblemCode::kOurFault, to_.name(),
                            fmt::format("the table {} did not arrive as it left ({} rows of {})", here.name,
                                        there.rows, here.rows),
                            "nothing was moved, the old store is as it was; please report this sentence");
        }
        to_.keep();
        return std::move(moved_);
    }

  private:
    void tell(const std::string& what, std::int64_t done) const {
        if (told_) told_(what, done);
    }

    Expected<void> target_is_empty() {
        for (const Table& table : tables()) {
            std::int64_t rows = 0;
            to_.sql() << fmt::format("SELECT COUNT(*) FROM {}", table.name), into(rows);
            if (rows > 0)
                return fail(ProblemCode::kConflict, to_.name(),
                            fmt::format("something is in it already ({} rows in the table {})", rows, table.name),
                            "name an empty folder or an empty database");
        }
        return {};
    }

    Expected<void> move_photographs() {
        const auto files = from_.blobs().all();
        if (!files) return std::unexpected(files.error());
        for (const Blobs::File& file : *files) {
            auto bytes = from_.blobs().bytes(file.sha256);
            if (!bytes) return std::unexpected(bytes.error());
            if (sha256_of(*bytes) != file.sha256)
                return fail(ProblemCode::kStore, fmt::format("photograph {}", file.sha256),
                            "the file no longer holds what was stored",
                            "bring this file back from a backup, then move the store");
            ++moved_.photographs;
            moved_.photograph_bytes += static_cast<std::int64_t>(bytes->size());
            tell("photographs", moved_.photographs);
            if (to_.blobs().has(file.sha256)) {
                const auto there = to_.blobs().bytes(file.sha256);
                if (there && *there == *bytes && to_.blobs().thumbnail(file.sha256)) {
                    ++moved_.already_there;
                    continue;
                }
            }
            const auto small = from_.blobs().thumbnail(file.sha256);
            if (!small) return std::unexpected(small.error());
            if (auto ok = to_.blobs().keep(file.sha256, *bytes, *small); !ok) return ok;
        }
        return {};
    }

    // They have no list of their own: each reading names its pictures.
    Expected<void> move_pictures() {
        std::optional<Problem> wrong;
        Rows(from_, kReadings).each([&](const Values& row) {
            if (wrong) return;
            if (auto ok = move_pictures_of({row.texts[0], row.texts[1], row.texts[2]}); !ok) wrong = ok.error();
        });
        if (wrong) return std::unexpected(*wrong);
        return {};
    }
    Expected<void> move_pictures_of(const ReadingEntry& entry) {
        const auto reading = reading_of(entry);
        if (!reading) return std::unexpected(reading.error());
        for (const auto& [kind, digest] : reading->pictures) {
            const std::string name = picture_name(kind, digest);
            const auto bytes = from_.blobs().picture(entry.sha256, name);
            if (!bytes) {
                // A picture can be made again from its photograph; the old store does not have it either.
                if (bytes.error().code == ProblemCode::kNotFound) continue;
                return std::unexpected(bytes.error());
            }
            if (auto ok = to_.blobs().keep_picture(entry.sha256, name, *bytes); !ok) return ok;
            ++moved_.pictures;
        }
        return {};
    }

    void move_table(const Table& table) {
        Inserting insert(to_, table);
        std::int64_t done = 0;
        moved_.tables.push_back(Rows(from_, table).each([&](const Values& row) {
            insert(row);
            if (++done % kRowsAtOnce == 0) tell(table.name, done);
        }));
        tell(table.name, done);
    }

    End& from_;
    End& to_;
    const Telling& told_;
    Moved moved_;
};

}  // namespace

std::vector<std::string> moved_tables() {
    std::vector<std::string> out;
    for (const Table& table : tables()) out.emplace_back(table.name);
    return out;
}

Expected<Moved> move_store(const Place& from, const Place& to, Now now, const Telling& told) {
    auto old_home = End::open(from, false, now);
    if (!old_home) return std::unexpected(old_home.error());
    auto new_home = End::open(to, true, now);
    if (!new_home) return std::unexpected(new_home.error());
    try {
        return Move(**old_home, **new_home, told).run();
    } catch (const std::exception& e) {
        return std::unexpected((*new_home)->problem_of(e));
    }
}

}  // namespace footring::store

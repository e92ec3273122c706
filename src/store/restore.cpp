// SPDX-License-Identifier: Apache-2.0
#include "store/restore.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "store/disk.h"
#include "store/folder_lock.h"
#include "store/sha256.h"
#include "store/sqlite_dialect.h"
#include "store/sqlite_file.h"
#include "store/tar.h"

namespace footring::store {

namespace fs = std::filesystem;

namespace {

constexpr std::size_t kPart = 1 << 20;
constexpr const char* kNewestTables = "SELECT COALESCE(MAX(version), 0) FROM schema_version";

Expected<std::string> sum_of(const fs::path& path) {
    auto in = InFile::open(path);
    if (!in) return std::unexpected(in.error());
    Sha256 sum;
    for (;;) {
        const auto part = in->read(kPart);
        if (!part) return std::unexpected(part.error());
        if (part->empty()) return sum.name();
        sum.add(*part);
    }
}

// What was made on the way; a folder, so that a crash leaves one thing, which the next restoring takes away.
class Workshop {
  public:
    explicit Workshop(fs::path path) : path_(std::move(path)) {}
    ~Workshop() {
        std::error_code ignored;
        fs::remove_all(path_, ignored);
    }
    Workshop(const Workshop&) = delete;
    Workshop& operator=(const Workshop&) = delete;

  private:
    fs::path path_;
};

class Restoring {
  public:
    Restoring(const fs::path& file, const fs::path& folder, const Now& now)
        : file_(file),
          folder_(folder),
          now_(now),
          workplace_(folder / "restoring"),
          copy_(workplace_ / kDatabase) {}

    Expected<Restored> run() {
        auto backup = check_backup(file_);
        if (!backup) return std::unexpected(backup.error());
        done_.info = backup->info;
        auto ok = make_folder(workplace_);
        if (!ok) return std::unexpected(ok.error());
        const auto alone = FolderLock::try_take(workplace_);
        if (!alone) return std::unexpected(alone.error());
        if (!*alone)
            return fail(ProblemCode::kStore, folder_.string(),
                        "a backup is being restored into this folder already", "wait until that is done");
        const Workshop tidy(workplace_);
        auto lock = FolderLock::try_take(folder_);
        if (!lock) return std::unexpected(lock.error());
        served_ = !*lock;
        ok = extract(kDatabase, copy_);
        if (ok) ok = prepare_copy(backup->info);
        if (ok) ok = look_at_what_is_there();
        if (ok) ok = bring_files(backup->sums);
        if (ok) ok = replace_database();
        if (ok) ok = look_for_photographs();
        if (!ok) return std::unexpected(ok.error());
        return std::move(done_);
    }

  private:
    // Calls `take` for every file in the backup but the list of checksums.
    template <class F>
    Expected<void> each(const F& take) {
        auto tar = TarReader::open(file_);
        if (!tar) return std::unexpected(tar.error());
        for (;;) {
            const auto member = tar->next();
            if (!member) return std::unexpected(member.error());
            if (!*member) return {};
            if (auto ok = take((*member)->name, *tar); !ok) return ok;
        }
    }
    static Expected<void> write_out(TarReader& tar, const fs::path& to) {
        auto out = OutFile::make(to);
        if (!out) return std::unexpected(out.error());
        for (;;) {
            const auto part = tar.read(kPart);
            if (!part) return std::unexpected(part.error());
            if (part->empty()) break;
            if (auto ok = out->write(*part); !ok) return ok;
        }
        if (auto ok = out->sync(); !ok) return ok;
        out->keep();
        return {};
    }
    Expected<void> extract(std::string_view wanted, const fs::path& to) {
        return each([&](const std::string& name, TarReader& tar) -> Expected<void> {
            return name == wanted ? write_out(tar, to) : Expected<void>{};
        });
    }

    // Its tables come up to date here, while they are still a copy.
    Expected<void> prepare_copy(const BackupInfo& info) {
        const auto inside = [&](Problem problem) {
            problem.code = ProblemCode::kUnreadable;
            problem.where = file_.string();
            problem.what = fmt::format("its database cannot be used: {}", problem.what);
            problem.remedy = "take another backup";
            return std::unexpected(std::move(problem));
        };
        if (info.tables > newest_tables())
            return fail(
                ProblemCode::kUnreadable, file_.string(),
                fmt::format("a newer Footring made this backup (version {} of its tables; this program knows {})",
                            info.tables, newest_tables()),
                "restore it with that program");
        auto copy = SqliteFile::open(copy_);
        if (!copy) return inside(copy.error());
        if (auto ok = copy->check(); !ok) return inside(ok.error());
        if (auto ok = prepare_sqlite(copy_, now_); !ok) return inside(ok.error());
        // Everybody signs in anew: a token of that time may be in other hands by now.
        if (auto ok = copy->run("DELETE FROM session"); !ok) return inside(ok.error());
        return {};
    }

    Expected<void> look_at_what_is_there() {
        std::error_code error;
        if (!fs::exists(folder_ / kDatabase, error)) return {};
        auto there = SqliteFile::open(folder_ / kDatabase);
        auto ok = there ? there->check() : Expected<void>(std::unexpected(there.error()));
        const auto tables = ok ? there->number(kNewestTables) : Expected<std::int64_t>(0);
        if (ok && !tables) ok = std::unexpected(tables.error());
        if (!ok) {
            // An empty file is what some failures leave of ours; any other header is somebody's.
            if (there && fs::file_size(folder_ / kDatabase, error) > 0 &&
                there->number("PRAGMA application_id").value_or(kApplicationId) != kApplicationId)
                return std::unexpected(ok.error());
            if (served_)
                return fail(ProblemCode::kStore, folder_.string(),
                            "its database is damaged, and a Footring has it open",
                            "stop that Footring and restore again");
            return {};  // it will be put aside
        }
        if (*tables > newest_tables())
            return fail(ProblemCode::kStore, folder_.string(), "a newer Footring wrote what is in this folder",
                        "restore with that program, or into another folder");
        if (served_ && *tables != newest_tables())
            return fail(ProblemCode::kStore, folder_.string(), "a Footring of another version has this folder open",
                        "stop that Footring and restore again");
        healthy_ = true;
        if (auto going = go_on_above(*there); !going) return going;
        return keep_people(*there, *tables);
    }

    // Who may come in is not undone with the pieces: else somebody who was sent away could come back. What was
    // written down since the backup stays written down.
    Expected<void> keep_people(SqliteFile& there, std::int64_t tables) {
        constexpr std::int64_t kFirstWithPeople = 4;
        auto copy = SqliteFile::open(copy_);
        if (!copy) return std::unexpected(copy.error());
        std::string statements = "BEGIN;";
        const auto bring = [&](const std::string& table, const std::string& columns,
                               const std::string& which) -> Expected<std::size_t> {
            const auto rows = there.rows(fmt::format("SELECT {} FROM {}{}", columns, table, which));
            if (!rows) return std::unexpected(rows.error());
            for (const auto& row : *rows) {
                std::string values;
                for (const std::string& value : row)
                    values += fmt::format("{}{}", values.empty() ? "" : ", ", quoted(value));
                statements += fmt::format("INSERT INTO {} ({}) VALUES ({});", table, columns, values);
            }
            return rows->size();
        };
        if (tables >= kFirstWithPeople) {
            const auto last = copy->number("SELECT COALESCE(MAX(id), 0) FROM audit");
            if (!last) return std::unexpected(last.error());
            const auto known = there.number("SELECT COUNT(*) FROM account");
            if (!known) return std::unexpected(known.error());
            if (*known > 0) {
                statements += "DELETE FROM account;";
                if (auto done = bring("account", "name, role, secret, created, changed", ""); !done)
                    return std::unexpected(done.error());
            }
            if (auto done = bring("audit", "id, made_at, who, what, subject, batch, origin",
                                  fmt::format(" WHERE id > {}", *last));
                !done)
                return std::unexpected(done.error());
        }
        return copy->run(statements + "COMMIT");
    }
    static std::string quoted(const std::string& text) {
        std::string out = "'";
        for (const char c : text) out += c == '\'' ? "''" : std::string(1, c);
        return out + "'";
    }

    // Ids and revisions that were given since the backup are never given again to something else.
    Expected<void> go_on_above(SqliteFile& there) {
        auto copy = SqliteFile::open(copy_);
        if (!copy) return std::unexpected(copy.error());
        auto counters = there.rows("SELECT name, value FROM counter");
        if (!counters) return std::unexpected(counters.error());
        for (const char* table : {"change", "batch"}) {
            const auto highest = there.number(fmt::format("SELECT COALESCE(MAX(id), 0) FROM {}", table));
            if (!highest) return std::unexpected(highest.error());
            counters->push_back({table, std::to_string(*highest)});
        }
        std::string statements = "BEGIN;";
        for (const auto& row : *counters)
            statements += fmt::format(
                "INSERT INTO counter (name, value) VALUES ({0}, {1}) "
                "ON CONFLICT (name) DO UPDATE SET value = MAX(value, excluded.value);",
                quoted(row[0]), row[1]);
        return copy->run(statements + "COMMIT");
    }

    Expected<void> bring_files(const std::map<std::string, std::string>& sums) {
        int arrivals = 0;
        return each([&](const std::string& name, TarReader& tar) -> Expected<void> {
            if (name == kDatabase || name == kBackupInfo || name == kBackupSums) return {};
            const fs::path at = folder_ / name;
            if (const auto here = sum_of(at); here && *here == sums.at(name)) return {};
            if (auto ok = make_folder(at.parent_path()); !ok) return ok;
            const fs::path arriving = workplace_ / fmt::format("file-{}", ++arrivals);
            if (auto ok = write_out(tar, arriving); !ok) return ok;
            ++done_.files;
            return move_file(arriving, at);
        });
    }

    Expected<void> replace_database() {
        if (healthy_) {
            const fs::path kept = folder_ / "backups";
            if (auto ok = make_folder(kept); !ok) return ok;
            done_.kept = kept / fmt::format("before-{}", backup_name(now_()));
            std::error_code error;
            for (int again = 2; fs::exists(done_.kept, error); ++again)
                done_.kept = kept / fmt::format("before-{}-{}", again, backup_name(now_()));
            if (const auto made = make_backup(folder_, done_.kept, {.with_photographs = false}, now_); !made)
                return std::unexpected(made.error());
            auto copy = SqliteFile::open(copy_), there = SqliteFile::open(folder_ / kDatabase);
            if (!copy) return std::unexpected(copy.error());
            if (!there) return std::unexpected(there.error());
            auto ok = there->run("PRAGMA synchronous = FULL");
            return ok ? copy->copy_into(*there) : ok;
        }
        // What cannot be read is put aside, with its log: that belongs to it alone.
        const fs::path old = folder_ / kDatabase;
        const std::string aside = fmt::format("{}.before-{}", old.string(), backup_name(now_()).substr(9, 20));
        std::error_code error;
        for (const char* rest : {"-wal", "-shm", ""}) {
            if (!fs::exists(old.string() + rest, error)) continue;
            done_.kept = aside;
            // The database itself gets a second name, so that there is one at every moment.
            if (*rest == '\0') fs::create_hard_link(old, aside, error);
            if (*rest != '\0' || error)
                if (auto ok = move_file(old.string() + rest, aside + rest); !ok) return ok;
        }
        // A log that prepare_copy() left would be missed: the last to close it has folded it in.
        auto copy = SqliteFile::open(copy_);
        if (!copy) return std::unexpected(copy.error());
        if (auto ok = copy->run("PRAGMA journal_mode = DELETE"); !ok) return ok;
        return move_file(copy_, old);
    }

    Expected<void> look_for_photographs() {
        auto there = SqliteFile::open(folder_ / kDatabase);
        if (!there) return std::unexpected(there.error());
        const auto names = there->rows("SELECT DISTINCT sha256 FROM photo ORDER BY sha256");
        if (!names) return std::unexpected(names.error());
        std::error_code error;
        for (const auto& row : *names)
            if (!fs::exists(folder_ / "photos" / row.front().substr(0, 2) / row.front(), error))
                done_.notes.push_back(fmt::format(
                    "photograph {} is neither in the backup nor in the folder: add it again", row.front()));
        return {};
    }

    const fs::path& file_;
    const fs::path& folder_;
    const Now& now_;
    fs::path workplace_, copy_;
    bool served_ = false, healthy_ = false;
    Restored done_;
};

}  // namespace

Expected<Restored> restore_backup(const fs::path& file, const fs::path& folder, const Now& now) {
    return Restoring(file, folder, now).run();
}

}  // namespace footring::store

// The SQLite store as files on a disk: opened again, damaged, locked, out of space, stopped dead.
// SPDX-License-Identifier: Apache-2.0
#include <fcntl.h>
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <signal.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <fstream>
#include <thread>

#include "store/automatic_backups.h"
#include "store/backup_turn.h"
#include "store/disk.h"
#include "store/sha256.h"
#include "store/sqlite_dialect.h"
#include "store/sqlite_file.h"
#include "store/sqlite_migrations.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::IsEmpty;

class SqliteStore : public testing::Test {
  protected:
    std::unique_ptr<Store> open() { return must(open_sqlite(dir(), now_)); }
    Problem refused() {
        const auto store = open_sqlite(dir(), now_);
        return store ? Problem{ProblemCode::kOurFault, "", "it was opened", ""} : store.error();
    }
    fs::path dir() const { return scratch_.path() / "data"; }
    fs::path file() const { return dir() / "footring.db"; }
    // As any other program would: without our rules.
    void run_sql(const std::string& statement) {
        const fs::path link = scratch_.path().parent_path() / "footring-store-test-link.db";
        const std::string name = fmt::format("{}-{}", link.string(), ::getpid());
        fs::remove(name);
        fs::create_symlink(file(), name);
        {
            soci::session sql(soci::sqlite3, name);
            sql << statement;
        }
        fs::remove(name);
    }
    std::vector<std::string> indexes() {
        soci::session sql(soci::sqlite3, file().string());
        soci::rowset<std::string> names =
            (sql.prepare
             << "SELECT name || ': ' || sql FROM sqlite_master WHERE type = 'index' AND sql IS NOT NULL");
        std::vector<std::string> out(names.begin(), names.end());
        std::ranges::sort(out);
        return out;
    }
    PhotoMeta add_photo(Store& store, const std::string& bytes) {
        PhotoMeta meta;
        meta.piece = "p-0041";
        meta.name = "a.jpg";
        return must(store.add_photo(meta, bytes, "small"));
    }

    ScratchFolder scratch_;
    Now now_ = test_clock();
};

// SQLite by itself begins its log anew only at a moment when nobody reads.
TEST_F(SqliteStore, KeepsItsLogShortWhileSomebodyAlwaysReads) {
    const auto store = open();
    std::atomic<bool> over = false;
    std::vector<std::thread> people;
    for (int i = 0; i < 3; ++i)
        people.emplace_back([&] {
            SqliteFile line = must(SqliteFile::open(file()));
            while (!over) {
                EXPECT_TRUE(line.run("BEGIN"));
                must(line.number("SELECT COUNT(*) FROM piece"));
                std::this_thread::sleep_for(std::chrono::milliseconds(20));
                EXPECT_TRUE(line.run("COMMIT"));
            }
        });
    const fs::path log = dir() / "footring.db-wal";
    std::uintmax_t written = 0, longest = 0;
    while (written < 4 * kMostLogBytes) {
        std::vector<PieceRecord> many(20);
        for (PieceRecord& one : many) one.note = std::string(60'000, 'n');
        must(store->put_all(many, ""));
        written += 20 * 2 * 60'000;  // the piece and its change; its words besides
        longest = std::max(longest, fs::file_size(log));
    }
    over = true;
    for (std::thread& one : people) one.join();
    EXPECT_LT(longest, 2 * kMostLogBytes);
}

TEST_F(SqliteStore, KeepsEverythingAcrossAReopening) {
    PieceRecord piece;
    PhotoMeta photo;
    {
        const auto store = open();
        piece = must(store->put(plate(), ""));
        photo = add_photo(*store, "bytes");
    }
    const auto store = open();
    piece.photos = {photo.sha256};
    EXPECT_EQ(must(store->piece("p-0041")), piece);
    EXPECT_EQ(must(store->photo_bytes(photo.sha256)), "bytes");
    EXPECT_EQ(must(store->recent(10)).size(), 2u);
    must(store->undo(must(store->last_undoable()).value()));
    EXPECT_THAT(must(store->photos("p-0041")), IsEmpty());
    PieceRecord next;
    EXPECT_EQ(must(store->put(next, "")).piece.id, "p-0042");
    EXPECT_TRUE(fs::exists(dir() / "photos" / photo.sha256.substr(0, 2) / photo.sha256));
    EXPECT_TRUE(fs::exists(dir() / "thumbs" / photo.sha256.substr(0, 2) / photo.sha256));
}

TEST_F(SqliteStore, RefusesASecondOpenerAndLetsGoWhenClosed) {
    {
        const auto first = open();
        EXPECT_EQ(to_line(refused()), dir().string() +
                                          ": another Footring has this folder open: use the one that is "
                                          "running, or stop it first");
        EXPECT_EQ(refused().code, ProblemCode::kStore);
        must(first->put(plate(), ""));
    }
    EXPECT_EQ(must(open()->find({})).total, 1);
}

TEST_F(SqliteStore, LosesNothingThatItReturnedWhenItIsKilled) {
    int pipe_ends[2];
    ASSERT_EQ(::pipe(pipe_ends), 0);
    const pid_t child = ::fork();
    if (child == 0) {  // puts pieces until it is killed, and tells of each that was returned
        const auto store = open_sqlite(dir(), now_);
        for (int i = 1; store; ++i) {
            PieceRecord r;
            r.note = "killed while writing";
            const auto stored = (*store)->put(r, "");
            if (!stored || ::write(pipe_ends[1], &i, sizeof i) != sizeof i) ::_exit(1);
        }
        ::_exit(1);
    }
    int last = 0;
    while (last < 25) ASSERT_EQ(::read(pipe_ends[0], &last, sizeof last), static_cast<ssize_t>(sizeof last));
    ::kill(child, SIGKILL);
    int status = 0;
    ::waitpid(child, &status, 0);
    ASSERT_TRUE(WIFSIGNALED(status));
    ::close(pipe_ends[1]);
    for (int more = 0; ::read(pipe_ends[0], &more, sizeof more) == static_cast<ssize_t>(sizeof more);) last = more;
    ::close(pipe_ends[0]);
    const auto store = open();  // the lock died with its holder
    const std::int64_t total = must(store->find({})).total;
    EXPECT_GE(total, last);
    EXPECT_LE(total, last + 1);  // one may have been stored and not yet told
    EXPECT_EQ(static_cast<std::int64_t>(must(store->recent(1000)).size()), total);
    Query q;
    q.text = "killed";
    EXPECT_EQ(must(store->find(q)).total, total);
}

TEST_F(SqliteStore, SaysThatTheFileIsDamagedAndLeavesItAlone) {
    { must(open()->put(plate(), "")); }
    for (const char* rest : {"-wal", "-shm"}) fs::remove(file().string() + rest);
    const auto size = fs::file_size(file());
    {
        std::fstream f(file(), std::ios::in | std::ios::out | std::ios::binary);
        for (std::uintmax_t page = 1; page < size / 4096; ++page) {
            f.seekp(static_cast<std::streamoff>(page * 4096));
            f << std::string(64, '\xA5');
        }
    }
    const std::string before = must(read_file(file()));
    const Problem problem = refused();
    EXPECT_EQ(problem.code, ProblemCode::kStore);
    EXPECT_EQ(problem.where, file().string());
    EXPECT_THAT(problem.what, testing::StartsWith("the store is damaged"));
    EXPECT_THAT(problem.remedy, testing::HasSubstr("put the newest backup in its place"));
    EXPECT_EQ(must(read_file(file())), before);
}

TEST_F(SqliteStore, SaysThatAFileWithoutSenseIsDamaged) {
    fs::create_directories(dir());
    std::ofstream(file()) << std::string(20000, 'x');
    EXPECT_EQ(to_line(refused()), file().string() +
                                      ": the store is damaged: stop the program, keep this file aside and put the "
                                      "newest backup in its place");
}

TEST_F(SqliteStore, LeavesTheDatabaseOfAnotherProgramAlone) {
    fs::create_directories(dir());
    run_sql("CREATE TABLE recipes (name TEXT)");
    EXPECT_EQ(to_line(refused()), file().string() +
                                      ": this file is a database of another program: choose another "
                                      "folder with --data, or move this file away");
}

TEST_F(SqliteStore, RefusesTablesOfANewerProgram) {
    open();
    run_sql("INSERT INTO schema_version (version, what, applied) VALUES (99, 'tomorrow', '2030-01-01T00:00:00Z')");
    EXPECT_EQ(
        to_line(refused()),
        fmt::format("{}: a newer Footring wrote this store (version 99 of its tables; this program knows {}): use "
                    "that newer program, or a backup from before it",
                    file().string(), sqlite_migrations().back().version));
}

TEST_F(SqliteStore, NumbersItsMigrationsWithoutGaps) {
    int expected = 1;
    for (const Migration& migration : sqlite_migrations()) {
        EXPECT_EQ(migration.version, expected++);
        EXPECT_FALSE(migration.statements.empty());
    }
}

TEST_F(SqliteStore, KeepsAReadingAcrossAReopeningAndOnlyThePicturesOfTheNewestOne) {
    Reading reading;
    fs::path pictures;
    {
        const auto store = open();
        must(store->put(plate(), ""));
        reading.sha256 = add_photo(*store, "bytes").sha256;
        reading.found = {{"notes", {"read"}}};
        reading.packs = "demo@1";
        pictures = dir() / "readings" / reading.sha256.substr(0, 2) / reading.sha256;
        must(store->put_reading(reading, {{"strip", "first"}, {"mark", "words"}}));
        std::ofstream(pictures / "strip-left-by-a-crash") << "half";
        reading = must(store->put_reading(reading, {{"strip", "second"}}));
    }
    const auto store = open();
    EXPECT_EQ(must(store->reading(reading.sha256)), reading);
    EXPECT_EQ(must(store->reading_picture(reading.sha256, "strip")), "second");
    EXPECT_EQ(std::distance(fs::directory_iterator(pictures), fs::directory_iterator()), 1);
    fs::remove_all(pictures);
    EXPECT_EQ(to_line(store->reading_picture(reading.sha256, "strip").error()),
              "photograph " + reading.sha256 + ": there is no such picture of it: read the photograph again");
}

// As a user without rights; root would be let in everywhere.
class WithoutRights {
  public:
    WithoutRights() : was_(::geteuid()) {
        if (was_ == 0 && ::seteuid(65534) != 0) throw std::runtime_error("cannot become nobody");
    }
    ~WithoutRights() {
        if (::seteuid(was_) != 0) std::abort();
    }

  private:
    uid_t was_;
};

// They are taken away while a long list is written.
TEST_F(SqliteStore, HasEveryIndexAfterALongListAndAfterOneThatFails) {
    const auto store = open();
    const auto before = indexes();
    EXPECT_THAT(before, testing::Contains(testing::HasSubstr("change_by_record")));
    EXPECT_THAT(before, testing::Contains(testing::HasSubstr("piece_changed")));
    std::vector<PieceRecord> list(2500);
    for (PieceRecord& r : list) r.piece.form = "plate";
    list = must(store->put_all(std::move(list), ""));
    EXPECT_EQ(indexes(), before);
    for (PieceRecord& r : list) r.note = "again";
    list.back().revision = 1;  // not its newest
    EXPECT_FALSE(store->put_all(list, "").has_value());
    EXPECT_EQ(indexes(), before);
    EXPECT_EQ(must(store->find({})).total, 2500);
    list.pop_back();
    must(store->put_all(list, ""));
    EXPECT_EQ(indexes(), before);
    Query again;
    again.text = "again";
    EXPECT_EQ(must(store->find(again)).total, 2499);
    must(store->undo(must(store->last_undoable()).value()));
    EXPECT_EQ(must(store->find(again)).total, 0);
}

TEST_F(SqliteStore, SaysThatAFolderMayNotBeWritten) {
    fs::create_directories(dir());
    for (const fs::path& folder : {scratch_.path(), dir()}) ::chmod(folder.c_str(), 0555);
    {
        const WithoutRights nobody;
        EXPECT_EQ(to_line(refused()),
                  (dir() / "footring.lock").string() +
                      ": this may not be written here: give yourself the right to write to this "
                      "folder, or choose another with --data");
        const auto above = open_sqlite(dir() / "deeper", now_);
        ASSERT_FALSE(above);
        EXPECT_EQ(above.error().code, ProblemCode::kStore);
    }
    for (const fs::path& folder : {scratch_.path(), dir()}) ::chmod(folder.c_str(), 0755);
}

TEST_F(SqliteStore, SaysThatAFileStandsWhereItsFolderShouldBe) {
    std::ofstream(dir()) << "a file";
    EXPECT_EQ(to_line(refused()), dir().string() +
                                      ": a file stands where a folder is needed: move the file away, or "
                                      "choose another folder");
}

TEST_F(SqliteStore, SaysThatAnotherProgramHoldsTheFileAndStoresNothing) {
    const auto store = open();
    must(store->put(plate(), ""));
    soci::session other;
    const std::string link = fmt::format("{}/footring-held-{}.db", fs::temp_directory_path().string(), ::getpid());
    fs::remove(link);
    fs::create_symlink(file(), link);
    {
        other.open(soci::sqlite3, link);
        other << "BEGIN IMMEDIATE";
        PieceRecord r;
        EXPECT_EQ(to_line(store->put(r, "").error()), file().string() +
                                                          ": another program holds the store: close what "
                                                          "reads or backs up this file and try again");
        EXPECT_EQ(must(store->find({})).total, 1);  // reading goes on
        other << "ROLLBACK";
        must(store->put(r, ""));
    }
    fs::remove(link);
}

// Files may not grow over a limit, as on a full disk; SQLite reports it as an error of the disk.
class SmallDisk {
  public:
    explicit SmallDisk(rlim_t bytes) {
        ::getrlimit(RLIMIT_FSIZE, &was_);
        rlimit small{bytes, was_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &small);
        handler_ = ::signal(SIGXFSZ, SIG_IGN);
    }
    ~SmallDisk() {
        ::setrlimit(RLIMIT_FSIZE, &was_);
        ::signal(SIGXFSZ, handler_);
    }

  private:
    rlimit was_{};
    sighandler_t handler_;
};

TEST_F(SqliteStore, StoresNothingOfAChangeForWhichTheDiskHasNoRoom) {
    const auto store = open();
    must(store->put(plate(), ""));
    std::vector<PieceRecord> many(500);
    for (PieceRecord& r : many) r.note = std::string(2000, 'n');
    {
        const SmallDisk disk(1'500'000);
        const auto refused = store->put_all(many, "");
        ASSERT_FALSE(refused);
        EXPECT_EQ(refused.error().code, ProblemCode::kStore);
        PhotoMeta meta;
        meta.piece = "p-0041";
        EXPECT_EQ(store->add_photo(meta, std::string(2'000'000, 'p'), "small").error().code, ProblemCode::kStore);
    }
    EXPECT_EQ(must(store->find({})).total, 1);
    EXPECT_THAT(must(store->photos("p-0041")), IsEmpty());
    EXPECT_TRUE(fs::is_empty(dir() / "incoming"));
    EXPECT_EQ(must(store->put_all(many, "")).size(), many.size());
}

TEST_F(SqliteStore, SaysThatTheDiskIsFull) {
    EXPECT_EQ(to_line(disk_problem("a/b", ENOSPC)),
              "a/b: the disk is full: free some space on this disk and try again");
    const fs::path incoming = scratch_.path() / "incoming", file = scratch_.path() / "file";
    fs::create_symlink("/dev/full", incoming);  // a device on which every write finds no room
    EXPECT_EQ(to_line(write_file(file, incoming, "bytes").error()),
              file.string() + ": the disk is full: free some space on this disk and try again");
    EXPECT_FALSE(fs::exists(fs::symlink_status(incoming)));
    EXPECT_FALSE(fs::exists(file));
}

TEST_F(SqliteStore, CleansUpWhatACrashLeftOfAPhotograph) {
    const std::string name(64, 'a');
    {
        const auto store = open();
        must(store->put(plate(), ""));
        std::ofstream(dir() / "incoming" / "photos-7") << "half of a photogr";
        fs::create_directories(dir() / "photos" / "aa");
        std::ofstream(dir() / "photos" / "aa" / name) << "arrived, but no piece knows of it";
    }
    const auto store = open();
    EXPECT_TRUE(fs::is_empty(dir() / "incoming"));
    EXPECT_TRUE(fs::exists(dir() / "photos" / "aa" / name));  // only a sweep takes that away
    EXPECT_EQ(must(store->sweep(36500)), 0);
}

TEST_F(SqliteStore, SweepsFilesThatNoPieceEverHadByTheirAge) {
    const std::string name(64, 'a');
    const auto store = must(open_sqlite(dir(), [] { return std::string("2999-01-01T00:00:00Z"); }));
    must(store->put(plate(), ""));
    const PhotoMeta kept = add_photo(*store, "kept");
    fs::create_directories(dir() / "photos" / "aa");
    std::ofstream(dir() / "photos" / "aa" / name) << "arrived, but no piece knows of it";
    std::ofstream(dir() / "photos" / "aa" / "notes.txt") << "not ours";
    EXPECT_EQ(must(store->sweep(30)), 1);
    EXPECT_FALSE(fs::exists(dir() / "photos" / "aa" / name));
    EXPECT_TRUE(fs::exists(dir() / "photos" / "aa" / "notes.txt"));
    EXPECT_EQ(must(store->photo_bytes(kept.sha256)), "kept");
}

TEST_F(SqliteStore, NoticesAPhotographThatChangedOnDiskAndTakesItAnew) {
    const auto store = open();
    must(store->put(plate(), ""));
    const PhotoMeta photo = add_photo(*store, "bytes");
    const fs::path at = dir() / "photos" / photo.sha256.substr(0, 2) / photo.sha256;
    std::ofstream(at) << "rotte";
    EXPECT_EQ(to_line(store->photo_bytes(photo.sha256).error()),
              "photograph " + photo.sha256 +
                  ": the file no longer holds what was stored: bring this file back from a backup");
    std::ofstream(at) << "torn";
    add_photo(*store, "bytes");
    EXPECT_EQ(must(store->photo_bytes(photo.sha256)), "bytes");
}

TEST_F(SqliteStore, SaysThatARecordThatSomebodyEditedCannotBeRead) {
    {
        const auto store = open();
        must(store->put(plate(), ""));
    }
    run_sql("UPDATE piece_record SET record = '{\"piece\": 3}'");
    const auto store = open();
    const auto answer = store->piece("p-0041");
    ASSERT_FALSE(answer);
    EXPECT_EQ(answer.error().code, ProblemCode::kStore);
    EXPECT_EQ(answer.error().where, "record p-0041");
    EXPECT_THAT(answer.error().what, testing::StartsWith("the stored record cannot be read ("));
}

// --- backups made at the same moment

std::optional<Made> looked_for_backups(const fs::path& folder) {
    return must(backup_when_due(folder, KeepBackups{}, [] { return "2026-03-01T10:00:00Z"; }));
}

TEST_F(SqliteStore, LeavesAloneABackupThatIsBeingMade) {
    const auto store = open();
    fs::create_directories(dir() / "backups");
    const fs::path part = dir() / "backups" / "footring-2026-03-01T09-59-59Z.tar.part";
    std::ofstream(part) << "half";
    {
        const BackupTurn busy(dir() / "backups", Waiting::kUntilFree);
        EXPECT_TRUE(busy.ours());
        EXPECT_FALSE(BackupTurn(dir() / "backups", Waiting::kNotAtAll).ours());
        EXPECT_FALSE(looked_for_backups(dir()));
        EXPECT_TRUE(fs::exists(part));
    }
    EXPECT_FALSE(looked_for_backups(dir()));
    EXPECT_FALSE(fs::exists(part));
}

TEST_F(SqliteStore, MakesOneOfSeveralBackupsOfTheSameName) {
    const auto store = open();
    PieceRecord noted;
    noted.note = std::string(2000, 'n');
    must(store->put_all(std::vector<PieceRecord>(200, noted), ""));
    const fs::path out = scratch_.path() / "pieces.tar";
    std::vector<Expected<Made>> made(4, Expected<Made>(Made{}));
    {
        std::vector<std::jthread> threads;
        for (Expected<Made>& each : made)
            threads.emplace_back(
                [&] { each = make_backup(dir(), out, {}, [] { return "2026-03-01T10:00:00Z"; }); });
    }
    EXPECT_EQ(std::ranges::count_if(made, [](const auto& each) { return each.has_value(); }), 1);
    for (const auto& each : made)
        if (!each) {
            EXPECT_EQ(each.error().what, "there is a file of this name already");
        }
    EXPECT_EQ(must(check_backup(out)).info.pieces, 200);
}

}  // namespace
}  // namespace footring::store

// Backups of a folder in use, restored into it and elsewhere, and what is said of those that are damaged.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <fstream>
#include <thread>

#include "store/automatic_backups.h"
#include "store/disk.h"
#include "store/folder_lock.h"
#include "store/restore.h"
#include "store/sha256.h"
#include "store/sqlite_file.h"
#include "store/tar.h"
#include "store/test_fixtures.h"

namespace footring::store {
namespace {

namespace fs = std::filesystem;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class Backups : public testing::Test {
  protected:
    std::unique_ptr<Store> open(const fs::path& dir) { return must(open_sqlite(dir, now_)); }
    fs::path dir() const { return scratch_.path() / "data"; }
    fs::path other() const { return scratch_.path() / "other"; }
    fs::path out() const { return scratch_.path() / "pieces.tar"; }
    Made backup(const BackupOptions& options = {}) { return must(make_backup(dir(), out(), options, now_)); }
    static std::vector<std::string> pieces(Store& store) {
        Query all;
        all.sort = Query::Sort::kId;
        all.descending = false;
        all.limit = 10'000;
        std::vector<std::string> ids;
        for (const PieceRecord& r : must(store.find(all)).rows) ids.push_back(r.piece.id + " " + r.note);
        return ids;
    }
    static PieceRecord noted(const std::string& note) {
        PieceRecord r;
        r.note = note;
        return r;
    }
    std::string refused(const fs::path& file) {
        const auto checked = check_backup(file);
        const auto restored = restore_backup(file, other(), now_);
        EXPECT_FALSE(fs::exists(other() / "footring.db"));
        if (checked || restored) return "it was taken";
        EXPECT_EQ(checked.error(), restored.error());
        EXPECT_EQ(checked.error().code, ProblemCode::kUnreadable);
        return to_line(checked.error()).substr(file.string().size() + 2);
    }
    static void write(const fs::path& path, std::string_view bytes) {
        std::ofstream(path, std::ios::binary) << bytes;
    }

    ScratchFolder scratch_;
    Now now_ = test_clock();
};

TEST_F(Backups, BringBackWhatTheFolderHeld) {
    std::vector<Change> history;
    {
        const auto store = open(dir());
        for (const auto fill : kFixtureParts) fill(*store);
        history = must(store->recent(1000));
        write(dir() / "notes.txt", "mine");
        const Made made = backup();  // while it is open
        EXPECT_EQ(made.file, out());
        EXPECT_EQ(made.backup.info.pieces, 6);
        EXPECT_EQ(made.backup.info.photographs, 2);
        EXPECT_THAT(made.backup.notes, IsEmpty());
        EXPECT_EQ(made.backup.bytes, fs::file_size(out()));
        must(store->put(noted("after the backup"), ""));
    }
    EXPECT_EQ(must(check_backup(out())).info, must(check_backup(out())).info);
    const Restored restored = must(restore_backup(out(), other(), now_));
    EXPECT_EQ(restored.kept, "");
    EXPECT_THAT(restored.notes, IsEmpty());
    const auto store = open(other());
    const auto again = must(store->recent(1000));
    ASSERT_EQ(again.size(), history.size());
    for (std::size_t i = 0; i < again.size(); ++i) EXPECT_EQ(again[i].after, history[i].after);
    EXPECT_EQ(must(store->photo_bytes(sha256_of(kFixtureFront))), kFixtureFront);
    EXPECT_EQ(must(store->photo_bytes(sha256_of(kFixtureBack))), kFixtureBack);  // removed, and can be undone
    EXPECT_EQ(must(store->reading_picture(sha256_of(kFixtureSide), "strip")), "ribbon");
    EXPECT_EQ(must(read_file(other() / "notes.txt")), "mine");
    EXPECT_FALSE(fs::exists(other() / "restoring"));
    EXPECT_TRUE(must(store->last_undoable()));
}

TEST_F(Backups, GoBackInAFolderThatIsOpenAndNoNumberIsUsedTwice) {
    const auto store = open(dir());
    must(store->put(noted("one"), ""));
    backup();
    const PieceRecord later = must(store->put(noted("two"), ""));
    PieceRecord first = must(store->piece("p-0001"));
    first.note = "one, changed";
    first = must(store->put(first, ""));
    const Restored restored = must(restore_backup(out(), dir(), now_));
    EXPECT_THAT(pieces(*store), ElementsAre("p-0001 one"));
    EXPECT_EQ(must(store->piece("p-0001")).revision, 1);
    // Whoever still has the later state on the screen cannot overwrite this one, and the id of a label is not
    // reused.
    EXPECT_EQ(store->put(first, "").error().code, ProblemCode::kConflict);
    const PieceRecord next = must(store->put(noted("three"), ""));
    EXPECT_EQ(next.piece.id, "p-0003");
    EXPECT_GT(next.revision, first.revision);
    EXPECT_GT(must(store->last_undoable()).value(), 3);
    must(store->undo(must(store->last_undoable()).value()));
    // What was there before is kept, and goes back the same way.
    EXPECT_EQ(restored.kept.parent_path(), dir() / "backups");
    must(restore_backup(restored.kept, dir(), now_));
    EXPECT_THAT(pieces(*store), ElementsAre("p-0001 one, changed", "p-0002 two"));
    EXPECT_EQ(must(store->piece("p-0002")), later);
}

TEST_F(Backups, BringBackNeitherWhoWasSentAwayNorASessionNorForgetWhoDidWhat) {
    const auto store = open(dir());
    const auto ada = store->signed_by("ada");
    must(ada->people().add({"ada", Role::kKeeper, "digest", "", ""}));
    must(ada->people().add({"ben", Role::kKeeper, "digest", "", ""}));
    must(store->people().begin({"token", "ada", "", "", "2036-01-01T00:00:00Z", ""}));
    must(ada->put(noted("one"), ""));
    backup();
    must(ada->people().remove("ben"));
    must(ada->people().set_secret("ada", "another", "token"));
    must(ada->put(noted("two"), ""));
    const auto before = must(store->people().noted({}));
    must(restore_backup(out(), dir(), now_));
    EXPECT_THAT(pieces(*store), ElementsAre("p-0001 one"));
    ASSERT_EQ(must(store->people().accounts()).size(), 1u);
    EXPECT_EQ(must(store->people().account("ada")).secret, "another");
    EXPECT_FALSE(must(store->people().session("token")));
    EXPECT_EQ(must(store->people().noted({})), before);
    // In a folder where nobody has an account yet, those of the backup may come in.
    must(restore_backup(out(), other(), now_));
    const auto there = open(other());
    EXPECT_EQ(must(there->people().accounts()).size(), 2u);
    EXPECT_FALSE(must(there->people().session("token")));
}

TEST_F(Backups, LeaveTheKeyOfACertificateWhereItIs) {
    const auto store = open(dir());
    fs::create_directories(dir() / "tls");
    write(dir() / "tls" / "own.pem", "PRIVATE KEY");
    backup();
    EXPECT_EQ(must(read_file(out())).find("PRIVATE KEY"), std::string::npos);
}

TEST_F(Backups, HoldOneMomentWhileOthersWrite) {
    const auto store = open(dir());
    must(store->put_all(std::vector{noted("pair"), noted("pair")}, ""));
    std::atomic<bool> stop = false;
    std::atomic<int> faults = 0;
    std::thread writer([&] {
        while (!stop)
            if (!store->put_all(std::vector{noted("pair"), noted("pair")}, "")) ++faults;
    });
    for (int i = 0; i < 5; ++i) {
        const fs::path file = scratch_.path() / fmt::format("{}.tar", i),
                       to = scratch_.path() / fmt::format("{}", i);
        const Made made = must(make_backup(dir(), file, {}, now_));
        EXPECT_EQ(made.backup.info.pieces % 2, 0);
        EXPECT_EQ(made.backup.info.pieces, made.backup.info.changes);
        must(restore_backup(file, to, now_));
        EXPECT_EQ(must(open(to)->find({})).total, made.backup.info.pieces);
    }
    stop = true;
    writer.join();
    EXPECT_EQ(faults, 0);
}

TEST_F(Backups, NeverReplaceAFileAndNeverLieInTheirOwnFolder) {
    open(dir());
    backup();
    EXPECT_EQ(to_line(make_backup(dir(), out(), {}, now_).error()),
              out().string() +
                  ": there is a file of this name already: choose another name; a backup never replaces "
                  "another");
    EXPECT_EQ(to_line(make_backup(dir(), dir() / "in.tar", {}, now_).error()),
              (dir() / "in.tar").string() +
                  ": this lies in the folder that it would be a backup of: choose another "
                  "folder, best on another disk");
    EXPECT_EQ(to_line(make_backup(scratch_.path() / "none", scratch_.path() / "x.tar", {}, now_).error()),
              (scratch_.path() / "none").string() +
                  ": there is no store in this folder: name the folder that `footring serve --data` uses");
    const Made named = must(make_backup(dir(), scratch_.path(), {}, now_));
    EXPECT_THAT(named.file.filename().string(), testing::MatchesRegex("footring-2026-03-01T09-30-..Z.tar"));
    EXPECT_EQ(make_backup(dir(), "/proc/x.tar", {}, now_).error().code, ProblemCode::kStore);
    EXPECT_FALSE(fs::exists(scratch_.path() / "x.tar.part"));
}

TEST_F(Backups, TellOfPhotographsThatAreNotAsTheyShouldBe) {
    const auto store = open(dir());
    must(store->put(plate(), ""));
    const std::string front = fixture_photo(*store, "front.jpg", kFixtureFront).sha256,
                      back = fixture_photo(*store, "back.jpg", kFixtureBack).sha256;
    fs::remove(dir() / "photos" / front.substr(0, 2) / front);
    write(dir() / "photos" / back.substr(0, 2) / back, "rotten");
    std::vector<std::string> notes = {"photograph " + front + " is not in the folder",
                                      "photograph " + back + " no longer holds what was stored"};
    std::ranges::sort(notes);
    auto told = backup().backup.notes;
    std::ranges::sort(told);
    EXPECT_EQ(told, notes);
    EXPECT_THAT(must(restore_backup(out(), other(), now_)).notes,
                ElementsAre("photograph " + front + " is neither in the backup nor in the folder: add it again"));
}

TEST_F(Backups, AreRefusedWithTheReasonWhenOneByteIsWrong) {
    {
        const auto store = open(dir());
        must(store->put(plate(), ""));
        fixture_photo(*store, "front.jpg", kFixtureFront);
    }
    backup();
    const std::string whole = must(read_file(out()));
    const fs::path bad = scratch_.path() / "bad.tar";
    const auto with_byte_changed = [&](std::size_t at) {
        std::string bytes = whole;
        bytes[at] = static_cast<char>(bytes[at] ^ 0x10);
        write(bad, bytes);
        return refused(bad);
    };
    const std::size_t photo = whole.find(kFixtureFront), database = whole.find("SQLite format 3");
    EXPECT_EQ(
        with_byte_changed(photo),
        fmt::format("the backup is damaged: photos/{}/{} is not as it was (its checksum differs): take another "
                    "backup",
                    sha256_of(kFixtureFront).substr(0, 2), sha256_of(kFixtureFront)));
    EXPECT_EQ(with_byte_changed(database + 5000),
              "the backup is damaged: footring.db is not as it was (its checksum differs): take another backup");
    EXPECT_EQ(with_byte_changed(0), "this is no backup of Footring: take another backup");
    EXPECT_EQ(with_byte_changed(database - 512 + 3),
              "the backup is damaged after footring-backup.json: take another backup");
    // Every part of the file counts: wherever a byte is wrong that belongs to something, it is noticed.
    for (std::size_t at = 7; at < whole.size() - 2048; at += 977) {
        std::string bytes = whole;
        if (bytes[at] == '\0') continue;  // may be padding
        bytes[at] = static_cast<char>(bytes[at] ^ 0x10);
        write(bad, bytes);
        EXPECT_FALSE(check_backup(bad)) << at;
    }
}

TEST_F(Backups, AreRefusedWhenTheyEndTooSoon) {
    {
        const auto store = open(dir());
        must(store->put(plate(), ""));
    }
    backup();
    const std::string whole = must(read_file(out()));
    const fs::path bad = scratch_.path() / "bad.tar";
    const auto cut = [&](std::size_t bytes) {
        write(bad, whole.substr(0, bytes));
        return refused(bad);
    };
    EXPECT_EQ(cut(0), "this is no backup of Footring: take another backup");
    EXPECT_EQ(cut(300), "this is no backup of Footring: take another backup");
    EXPECT_EQ(cut(600), "the backup is incomplete: it ends in footring-backup.json: take another backup");
    EXPECT_EQ(cut(1024), "the backup is incomplete: its list of checksums is missing: take another backup");
    EXPECT_EQ(cut(whole.find("SQLite format 3") + 9000),
              "the backup is incomplete: it ends in footring.db: take another backup");
    EXPECT_EQ(cut(whole.rfind("SHA256SUMS") + 700),
              "the backup is incomplete: it ends in SHA256SUMS: take another "
              "backup");
    write(bad, whole.substr(0, whole.size() - 1024));  // only the closing blocks are gone: nothing is missing
    EXPECT_TRUE(check_backup(bad));
}

// A tar file with these members and a right list of checksums.
class Forged {
  public:
    explicit Forged(const fs::path& path) : out_(must(OutFile::make(path))), tar_(out_) {}
    void add(const std::string& name, const std::string& content) {
        must(tar_.begin(name, content.size(), 0));
        must(tar_.write(content));
        must(tar_.end());
        sums_ += sha256_of(content) + "  " + name + "\n";
    }
    void close(bool with_sums = true) {
        const std::string sums = sums_;
        if (with_sums) add("SHA256SUMS", sums);
        must(tar_.finish());
        must(out_.sync());
        out_.keep();
    }

  private:
    OutFile out_;
    TarWriter tar_;
    std::string sums_;
};

TEST_F(Backups, AreRefusedWhenTheyAreSomethingElse) {
    const fs::path file = scratch_.path() / "forged.tar";
    const std::string info =
        R"({"footring_backup": 1, "made": "2026-03-01T09:30:00Z", "tables": 3, "pieces": 0, "lots": 0,
            "photographs": 0, "changes": 0, "with_photographs": true})";
    write(file, std::string(5000, 'x'));
    EXPECT_EQ(refused(file), "this is no backup of Footring: take another backup");
    {
        Forged tar(file);
        tar.add("holiday.txt", "sun");
        tar.close(false);
    }
    EXPECT_EQ(refused(file), "this is no backup of Footring: take another backup");
    {
        Forged tar(file);
        tar.add("footring-backup.json", R"({"footring_backup": 2})");
        tar.close();
    }
    EXPECT_EQ(refused(file), "a newer Footring made this backup: restore it with that program");
    {
        Forged tar(file);
        tar.add("footring-backup.json", "{}");
        tar.close();
    }
    EXPECT_EQ(refused(file), "footring-backup.json in it says nothing that can be understood: take another backup");
    for (const std::string name : {"../outside", "/etc/outside", "photos/../../outside", "photos//x", "./"}) {
        Forged tar(file);
        tar.add("footring-backup.json", info);
        tar.add(name, "out");
        tar.close();
        EXPECT_THAT(refused(file), HasSubstr("in it is no name of a file in a folder of Footring")) << name;
    }
    {
        Forged tar(file);
        tar.add("footring-backup.json", info);
        tar.add("footring.db", "no database");
        tar.close();
    }
    EXPECT_TRUE(check_backup(file));
    EXPECT_EQ(to_line(restore_backup(file, other(), now_).error()),
              file.string() + ": its database cannot be used: the store is damaged: take another backup");
    EXPECT_EQ(to_line(check_backup(scratch_.path()).error()),
              scratch_.path().string() + ": this is a folder: name the file of the backup");
    EXPECT_EQ(check_backup(scratch_.path() / "none.tar").error().code, ProblemCode::kNotFound);
}

TEST_F(Backups, CarryNamesOfAnyLength) {
    open(dir());
    const std::string deep = std::string(90, 'a') + "/" + std::string(200, 'b') + "/" + std::string(120, 'c');
    fs::create_directories((dir() / deep).parent_path());
    write(dir() / deep, "deep");
    const std::string longer = std::string(120, 'd') + "/" + std::string(80, 'e');
    fs::create_directories((dir() / longer).parent_path());
    write(dir() / longer, "");
    fs::create_symlink("/etc/passwd", dir() / "link");
    backup();
    must(restore_backup(out(), other(), now_));
    EXPECT_EQ(must(read_file(other() / deep)), "deep");
    EXPECT_EQ(must(read_file(other() / longer)), "");
    EXPECT_FALSE(fs::exists(fs::symlink_status(other() / "link")));
}

TEST_F(Backups, PutADamagedDatabaseAsideAndRestore) {
    {
        const auto store = open(dir());
        must(store->put(noted("one"), ""));
    }
    backup();
    write(dir() / "footring.db", std::string(20'000, 'x'));
    EXPECT_FALSE(open_sqlite(dir(), now_));
    const Restored restored = must(restore_backup(out(), dir(), now_));
    EXPECT_THAT(pieces(*open(dir())), ElementsAre("p-0001 one"));
    EXPECT_EQ(must(read_file(restored.kept)), std::string(20'000, 'x'));
    write(dir() / "footring.db", "");
    must(restore_backup(out(), dir(), now_));
    EXPECT_THAT(pieces(*open(dir())), ElementsAre("p-0001 one"));
}

TEST_F(Backups, OfADamagedStoreAreNotMade) {
    { must(open(dir())->put(plate(), "")); }
    const auto size = fs::file_size(dir() / "footring.db");
    {
        std::fstream f(dir() / "footring.db", std::ios::in | std::ios::out | std::ios::binary);
        for (std::uintmax_t page = 1; page < size / 4096; ++page) {
            f.seekp(static_cast<std::streamoff>(page * 4096));
            f << std::string(64, '\xA5');
        }
    }
    const auto made = make_backup(dir(), out(), {}, now_);
    ASSERT_FALSE(made);
    EXPECT_EQ(made.error().code, ProblemCode::kStore);
    EXPECT_EQ(made.error().where, (dir() / "footring.db").string());
    EXPECT_THAT(made.error().what, testing::StartsWith("the store is damaged"));
    EXPECT_FALSE(fs::exists(out()));
}

TEST_F(Backups, LeaveTheDatabaseOfAnotherProgramAlone) {
    { must(open(dir())->put(plate(), "")); }
    backup();
    fs::create_directories(other());
    { must(must(SqliteFile::make(other() / "footring.db")).run("CREATE TABLE recipes (name TEXT)")); }
    EXPECT_EQ(
        to_line(restore_backup(out(), other(), now_).error()),
        (other() / "footring.db").string() +
            ": this file is a database of another program: choose another folder with --data, or move this file "
            "away");
    EXPECT_FALSE(fs::exists(other() / "restoring"));
}

TEST_F(Backups, OfAnOlderVersionComeUpToDateWhileTheyAreRestored) {
    {
        auto db = must(SqliteFile::make(scratch_.path() / "old.db"));
        must(db.run(must(read_file(fs::path(FOOTRING_ROOT) / "src/store/test_data/schema_1.sql"))));
    }
    const fs::path file = scratch_.path() / "old.tar";
    Forged tar(file);
    tar.add("footring-backup.json",
            R"({"footring_backup": 1, "made": "2026-03-01T09:30:00Z", "tables": 1, "pieces": 2, "lots": 1,
                "photographs": 1, "changes": 12, "with_photographs": false})");
    tar.add("footring.db", must(read_file(scratch_.path() / "old.db")));
    tar.close();
    const auto store = open(dir());  // of today, and open
    const Restored restored = must(restore_backup(file, dir(), now_));
    EXPECT_EQ(restored.info.tables, 1);
    EXPECT_EQ(must(store->find({})).total, 2);
    EXPECT_THAT(must(store->records("sale")), IsEmpty());
    must(store->put(Record{"sale", "", {{"price", 1}}, "", "", 0}, ""));
}

TEST_F(Backups, AreMadeOfADiskThatMayOnlyBeRead) {
    { must(open(dir())->put(noted("one"), "")); }
    const uid_t was = ::geteuid();
    ::chmod(dir().c_str(), 0555);
    for (const auto& file : fs::directory_iterator(dir()))
        ::chmod(file.path().c_str(), file.is_directory() ? 0555 : 0444);
    ::chmod(scratch_.path().c_str(), 0777);
    if (was == 0) {
        ASSERT_EQ(::seteuid(65534), 0);
    }  // root would be let in everywhere
    const auto made = make_backup(dir(), out(), {}, now_);
    if (was == 0) {
        ASSERT_EQ(::seteuid(0), 0);
    }
    for (const auto& file : fs::directory_iterator(dir())) ::chmod(file.path().c_str(), 0755);
    ::chmod(dir().c_str(), 0755);
    ASSERT_TRUE(made) << to_line(made.error());
    must(restore_backup(out(), other(), now_));
    EXPECT_THAT(pieces(*open(other())), ElementsAre("p-0001 one"));
}

TEST_F(Backups, OfTwoRestoringsIntoOneFolderTheSecondWaitsForItsTurn) {
    { must(open(dir())->put(plate(), "")); }
    backup();
    fs::create_directories(dir() / "restoring");
    const auto first = must(FolderLock::take(dir() / "restoring"));
    write(dir() / "restoring" / "file-1", "of the first");
    EXPECT_EQ(to_line(restore_backup(out(), dir(), now_).error()),
              dir().string() + ": a backup is being restored into this folder already: wait until that is done");
    EXPECT_TRUE(fs::exists(dir() / "restoring" / "file-1"));
}

TEST_F(Backups, RestoreOverWhatACrashOfAnotherRestoringLeft) {
    { must(open(dir())->put(noted("one"), "")); }
    backup();
    fs::create_directories(dir() / "restoring");
    write(dir() / "restoring" / "footring.db", "half");
    write(dir() / "restoring" / "footring.db-wal", "half");
    { EXPECT_THAT(pieces(*open(dir())), ElementsAre("p-0001 one")); }
    must(restore_backup(out(), dir(), now_));
    EXPECT_THAT(pieces(*open(dir())), ElementsAre("p-0001 one"));
    EXPECT_FALSE(fs::exists(dir() / "restoring"));
}

// --- by themselves

class AutomaticBackups : public Backups {
  protected:
    std::vector<std::string> kept() {
        std::vector<std::string> out;
        std::error_code error;
        for (fs::directory_iterator at(dir() / "backups", error), end; !error && at != end; at.increment(error))
            out.push_back(at->path().filename().string());
        std::ranges::sort(out);
        return out;
    }
    bool tick(const std::string& moment) {
        return must(backup_when_due(dir(), KeepBackups{}, [moment] { return moment; })).has_value();
    }
};

TEST_F(AutomaticBackups, AreMadeOnceADayWhenSomethingChanged) {
    const auto store = open(dir());
    EXPECT_FALSE(tick("2026-03-01T10:00:00Z"));  // there is nothing yet
    must(store->put(noted("one"), ""));
    EXPECT_TRUE(tick("2026-03-01T10:00:00Z"));
    must(store->put(noted("two"), ""));
    EXPECT_FALSE(tick("2026-03-02T09:59:59Z"));
    EXPECT_TRUE(tick("2026-03-02T10:00:00Z"));
    EXPECT_FALSE(tick("2026-03-09T10:00:00Z"));  // nothing changed
    EXPECT_THAT(kept(), ElementsAre("footring-2026-03-01T10-00-00Z.tar", "footring-2026-03-02T10-00-00Z.tar"));
    const Backup first = must(check_backup(dir() / "backups" / kept()[0]));
    EXPECT_EQ(first.info.pieces, 1);
    EXPECT_FALSE(first.info.with_photographs);
}

TEST_F(AutomaticBackups, GoBackWithThePhotographsThatTheFolderStillHas) {
    const auto store = open(dir());
    must(store->put(plate(), ""));
    const std::string photo = fixture_photo(*store, "front.jpg", kFixtureFront).sha256;
    EXPECT_TRUE(tick("2026-03-01T10:00:00Z"));
    must(store->remove({"p-0041"}, ""));
    EXPECT_THAT(must(restore_backup(dir() / "backups" / kept()[0], dir(), now_)).notes, IsEmpty());
    EXPECT_EQ(must(store->piece("p-0041")).photos, std::vector{photo});
    EXPECT_EQ(must(store->photo_bytes(photo)), kFixtureFront);
}

TEST_F(AutomaticBackups, AreMadeAlthoughTheClockWasSetBack) {
    const auto store = open(dir());
    must(store->put(noted("one"), ""));
    EXPECT_TRUE(tick("2031-01-01T00:00:00Z"));  // the clock was years ahead
    must(store->put(noted("two"), ""));
    EXPECT_TRUE(tick("2026-03-01T10:00:00Z"));
    must(store->put(noted("three"), ""));
    EXPECT_FALSE(tick("2026-03-01T11:00:00Z"));
    EXPECT_TRUE(tick("2026-03-02T11:00:00Z"));
    EXPECT_EQ(kept().size(), 3u);
    EXPECT_EQ(to_line(backup_when_due(dir(), {}, [] { return std::string("noon"); }).error()),
              "clock: the clock gave 'noon': report this as a mistake");
}

TEST_F(AutomaticBackups, ClearAwayWhatACrashLeftOfOne) {
    const auto store = open(dir());
    must(store->put(noted("one"), ""));
    fs::create_directories(dir() / "backups");
    for (const char* left : {"footring-2026-02-01T10-00-00Z.tar.part", "footring-2026-02-01T10-00-00Z.tar.database",
                             "footring-2026-02-01T10-00-00Z.tar.database-journal", "mine.txt"})
        write(dir() / "backups" / left, "half");
    EXPECT_TRUE(tick("2026-03-01T10:00:00Z"));
    EXPECT_THAT(kept(), ElementsAre("footring-2026-03-01T10-00-00Z.tar", "mine.txt"));
}

std::string named(std::chrono::sys_days day, int hour) {
    const std::chrono::year_month_day date{day};
    return backup_name(fmt::format("{:04}-{:02}-{:02}T{:02}:00:00Z", static_cast<int>(date.year()),
                                   static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()), hour));
}

TEST(WhichBackupsAreKept, AreTheNewestOfSevenDaysFourWeeksAndTwelveMonths) {
    using namespace std::chrono;
    std::vector<std::string> there;
    const sys_days last = year{2026} / November / 25;  // a Wednesday
    for (sys_days day = year{2024} / January / 1; day <= last; day += days{1}) {
        // As a program that runs every day leaves them: what is no longer kept goes at once.
        there.push_back(named(day, 9));
        there.push_back(named(day, 18));
        for (const std::string& gone : no_longer_kept(there, {})) std::erase(there, gone);
    }
    std::ranges::sort(there);
    std::vector<std::string> expected;
    for (int i = 0; i < 7; ++i) expected.push_back(named(last - days{i}, 18));
    for (const sys_days sunday : {sys_days{year{2026} / November / 15}, sys_days{year{2026} / November / 8}})
        expected.push_back(
            named(sunday, 18));  // of the week of 16 to 22 November it is the 22nd, a day of the seven
    for (int month = 1; month <= 10; ++month)
        expected.push_back(
            named(year{2026} / std::chrono::month{static_cast<unsigned>(month)} / std::chrono::last, 18));
    expected.push_back(named(year{2025} / December / 31, 18));
    std::ranges::sort(expected);
    EXPECT_EQ(there, expected);
}

TEST(WhichBackupsAreKept, NeverIncludeWhatHasAnotherName) {
    const std::vector<std::string> names = {
        "footring-2026-03-01T10-00-00Z.tar", "footring-2026-13-01T10-00-00Z.tar",
        "footring-2026-03-01.tar",           "holiday.tar",
        "footring-2026-03-01T10-00-00Z.zip", "before-anything.tar"};
    EXPECT_THAT(no_longer_kept(names, {1, 1, 1, 0, 24}), IsEmpty());
}

TEST(WhichBackupsAreKept, IncludeTheNewestOfThoseThatRestoringMade) {
    const std::vector<std::string> names = {
        "before-footring-2026-03-01T10-00-00Z.tar", "before-2-footring-2026-03-01T10-00-01Z.tar",
        "before-footring-2026-03-02T10-00-00Z.tar", "before-footring-2026-02-01T10-00-00Z.tar"};
    EXPECT_THAT(no_longer_kept(names, {}), ElementsAre("before-footring-2026-02-01T10-00-00Z.tar"));
}

}  // namespace
}  // namespace footring::store

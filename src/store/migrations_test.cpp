// Stores that earlier programs wrote, opened by this one: test_fixtures.h says how the stored databases came to be.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sqlite3.h>

#include <cstdlib>

#include "store/disk.h"
#include "store/folder_blobs.h"
#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/sha256.h"
#include "store/sqlite_migrations.h"
#include "store/test_fixtures.h"

namespace footring::store {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;

// Opening asks the clock once when it has to migrate; the story starts after that.
Now story_clock(int questions_before) {
    return [clock = test_clock(), questions_before]() mutable {
        return questions_before-- > 0 ? std::string("2026-03-01T09:00:00Z") : clock();
    };
}

void write_fixture(int version, const fs::path& dir) {
    fs::create_directories(dir);
    const std::string sql =
        must(read_file(fs::path(FOOTRING_ROOT) / "src/store/test_data" / fmt::format("schema_{}.sql", version)));
    sqlite3* db = nullptr;
    ASSERT_EQ(sqlite3_open((dir / "footring.db").c_str(), &db), SQLITE_OK);
    char* complaint = nullptr;
    EXPECT_EQ(sqlite3_exec(db, ("BEGIN;" + sql + "COMMIT;").c_str(), nullptr, nullptr, &complaint), SQLITE_OK)
        << complaint;
    sqlite3_free(complaint);
    sqlite3_close(db);
    const auto blobs = must(open_folder_blobs(dir));
    for (const std::string_view bytes : {kFixtureFront, kFixtureBack, kFixtureSide})
        must(blobs->keep(sha256_of(bytes), bytes, "small"));
    must(blobs->keep_picture(sha256_of(kFixtureSide), "strip-" + sha256_of("ribbon").substr(0, 16), "ribbon"));
}

// All that can be asked of a store, as one text.
std::string story_of(Store& store) {
    json out = json::object();
    Query all;
    all.sort = Query::Sort::kId;
    all.descending = false;
    for (const std::string text : {"", "creme", "barn", "1?7", "saucer"}) {
        all.text = text;
        for (const PieceRecord& piece : must(store.find(all)).rows) out["found"][text].push_back(to_json(piece));
    }
    for (const Lot& lot : must(store.lots())) out["lots"].push_back(to_json(lot));
    for (const PhotoMeta& photo : must(store.photos("p-0041"))) {
        out["photos"].push_back(to_json(photo));
        out["bytes"].push_back(must(store.photo_bytes(photo.sha256)));
        if (const auto reading = store.reading(photo.sha256)) {
            out["readings"].push_back(to_json(*reading));
            out["readings"].push_back(must(store.reading_picture(photo.sha256, "strip")));
        }
    }
    out["unread"] = must(store.unread("demo@1 abc"));
    for (const Facet& facet : must(store.facets()))
        out["facets"].push_back({facet.field, facet.value, facet.count});
    out["counts"] = must(store.counts());
    all.text = "";
    all.sight = Sight::kReaders;
    out["for readers"] = must(store.find(all)).total;
    for (const RecordKind& kind : kRecordKinds)
        for (const Record& record : must(store.records(std::string(kind.name))))
            out["records"].push_back(to_json(record));
    const auto tell = [](const std::vector<Change>& changes) {
        json told = json::array();
        for (const Change& c : changes)
            told.push_back(
                {c.id, c.when, c.who, c.entity, c.key, c.what, c.before, c.after, c.undoes.value_or(0), c.batch});
        return told;
    };
    out["recent"] = tell(must(store.recent(1000)));
    out["history"] = tell(must(store.history("piece", "p-0041")));
    for (const Account& a : must(store.people().accounts())) {
        out["accounts"].push_back({a.name, name_of(a.role), a.secret, a.created, a.changed});
        for (const Session& s : must(store.people().sessions(a.name)))
            out["sessions"].push_back({s.digest, s.account, s.begun, s.seen, s.ends, s.origin});
    }
    for (const Noted& n : must(store.people().noted({})))
        out["noted"].push_back({n.id, n.when, n.who, n.what, n.subject, n.batch, n.origin});
    for (const Task& task : must(store.reading_queue().dead()))
        out["dead"].push_back({task.sha256, task.reader, task.tries, task.said});
    out["waiting"] = must(store.reading_queue().counts()).waiting;
    out["undoable"] = must(store.last_undoable()).value_or(0);
    return out.dump(1);
}

int newest() { return sqlite_migrations().back().version; }

class EveryVersion : public testing::TestWithParam<int> {
  protected:
    fs::path dir() const { return scratch_.path() / "data"; }
    std::unique_ptr<Store> open_fixture() {
        write_fixture(GetParam(), dir());
        return must(open_sqlite(dir(), story_clock(GetParam() == newest() ? 0 : 1)));
    }
    // The same, written by this program.
    std::unique_ptr<Store> written_now(const fs::path& where) {
        auto store = must(open_sqlite(where, story_clock(1)));
        for (int part = 0; part < GetParam(); ++part) kFixtureParts[part](*store);
        return store;
    }
    ScratchFolder scratch_;
};

TEST_P(EveryVersion, TellsTheSameStoryAsIfThisProgramHadWrittenIt) {
    const std::string told = story_of(*open_fixture());
    EXPECT_EQ(told, story_of(*written_now(scratch_.path() / "now")));
    EXPECT_EQ(told, story_of(*must(open_sqlite(dir(), story_clock(0)))));  // and again, when it has been migrated
}

TEST_P(EveryVersion, GoesOnWithEveryPart) {
    const auto store = open_fixture();
    for (int part = GetParam(); part < newest(); ++part) kFixtureParts[part](*store);
    PieceRecord next;
    EXPECT_EQ(must(store->put(next, "")).piece.id, "p-0048");
    Record sale;
    sale.kind = "sale";
    EXPECT_EQ(must(store->put(sale, "")).id, "sale-0003");
}

TEST_P(EveryVersion, CanBeUndoneToTheVeryBeginning) {
    const auto store = open_fixture();
    int steps = 0;
    for (auto batch = must(store->last_undoable()); batch; batch = must(store->last_undoable())) {
        must(store->undo(*batch));
        ++steps;
    }
    EXPECT_GT(steps, 8);
    EXPECT_EQ(must(store->find({})).total, 0);
    EXPECT_THAT(must(store->lots()), testing::IsEmpty());
    EXPECT_THAT(must(store->records("sale")), testing::IsEmpty());
}

// What a step left behind shows here: a store that came all the way has the tables that a new one has.
TEST_P(EveryVersion, EndsWithTheTablesOfANewStore) {
    const auto tables = [](const fs::path& file) {
        sqlite3* db = nullptr;
        EXPECT_EQ(sqlite3_open_v2(file.c_str(), &db, SQLITE_OPEN_READONLY, nullptr), SQLITE_OK);
        std::string out;
        const auto add = [](void* all, int, char** values, char**) {
            *static_cast<std::string*>(all) += std::string(values[0] == nullptr ? "" : values[0]) + "\n";
            return 0;
        };
        for (const char* question :
             {"SELECT sql FROM sqlite_master ORDER BY name", "PRAGMA integrity_check", "PRAGMA foreign_key_check",
              "PRAGMA application_id", "SELECT version || what FROM schema_version"})
            EXPECT_EQ(sqlite3_exec(db, question, add, &out, nullptr), SQLITE_OK);
        sqlite3_close(db);
        return out;
    };
    open_fixture();
    written_now(scratch_.path() / "now");
    EXPECT_EQ(tables(dir() / "footring.db"), tables(scratch_.path() / "now" / "footring.db"));
}

INSTANTIATE_TEST_SUITE_P(Stored, EveryVersion, testing::Range(1, newest() + 1));

TEST(Migrations, HaveAFixtureForEachVersionAndTheNewestToo) {
    EXPECT_EQ(std::size(kFixtureParts), static_cast<std::size_t>(newest()));
    ScratchFolder scratch;
    const char* kept = std::getenv("FOOTRING_KEEP_STORE");  // where tools/store_fixture.py then finds it
    const auto store = must(open_sqlite(kept != nullptr ? kept : scratch.path(), story_clock(1)));
    for (const auto fill : kFixtureParts) fill(*store);
    EXPECT_GT(must(store->recent(1000)).size(), 15u);
}

TEST(Migrations, StopWholeWhenOneStepFails) {
    ScratchFolder scratch;
    const fs::path dir = scratch.path() / "data";
    write_fixture(1, dir);
    sqlite3* db = nullptr;
    ASSERT_EQ(sqlite3_open((dir / "footring.db").c_str(), &db), SQLITE_OK);
    // Somebody has made a table of the name that the third step needs.
    ASSERT_EQ(sqlite3_exec(db, "CREATE TABLE kept (mine TEXT)", nullptr, nullptr, nullptr), SQLITE_OK);
    sqlite3_close(db);
    const auto refused = open_sqlite(dir, story_clock(1));
    ASSERT_FALSE(refused);
    EXPECT_THAT(to_line(refused.error()), testing::HasSubstr("table kept already exists"));
    ASSERT_EQ(sqlite3_open((dir / "footring.db").c_str(), &db), SQLITE_OK);
    ASSERT_EQ(sqlite3_exec(db, "DROP TABLE kept", nullptr, nullptr, nullptr), SQLITE_OK);
    sqlite3_close(db);
    EXPECT_EQ(must(must(open_sqlite(dir, story_clock(1)))->find({})).total, 2);  // from where it stood
}

}  // namespace
}  // namespace footring::store

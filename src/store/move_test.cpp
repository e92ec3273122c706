// A store moved from one database to another: everything arrives, or nothing does.
// SPDX-License-Identifier: Apache-2.0
#include "store/move.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <soci/postgresql/soci-postgresql.h>
#include <soci/soci.h>

#include <fstream>

#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/sqlite_file.h"
#include "store/test_fixtures.h"

namespace footring::store {
namespace {

namespace fs = std::filesystem;
using nlohmann::json;
using testing::HasSubstr;

Now clock_from(int second) {
    return [second]() mutable { return fmt::format("2026-04-01T10:{:02}:{:02}Z", second / 60 % 60, second % 60); };
}

// All that can be asked of a store, as one text.
std::string whole_story_of(Store& store) {
    json out = json::object();
    Query all;
    all.sort = Query::Sort::kId;
    all.descending = false;
    for (const std::string text : {"", "creme", "barn", "1?7", "saucer", "plate", "zebra"}) {
        all.text = text;
        for (const PieceRecord& piece : must(store.find(all)).rows) out["found"][text].push_back(to_json(piece));
    }
    for (const Lot& lot : must(store.lots())) out["lots"].push_back(to_json(lot));
    for (const PieceRecord& piece : must(store.find({})).rows)
        for (const PhotoMeta& photo : must(store.photos(piece.piece.id))) {
            out["photos"].push_back(to_json(photo));
            out["bytes"].push_back(must(store.photo_bytes(photo.sha256)));
            out["small"].push_back(must(store.thumbnail(photo.sha256)));
            if (const auto reading = store.reading(photo.sha256)) {
                out["readings"].push_back(to_json(*reading));
                for (const auto& [kind, digest] : reading->pictures)
                    out["pictures"].push_back(must(store.reading_picture(photo.sha256, kind)));
            }
        }
    for (const Facet& facet : must(store.facets()))
        out["facets"].push_back({facet.field, facet.value, facet.count});
    out["counts"] = must(store.counts());
    for (const RecordKind& kind : kRecordKinds)
        for (const Record& record : must(store.records(std::string(kind.name))))
            out["records"].push_back(to_json(record));
    for (const Change& c : must(store.recent(1000)))
        out["recent"].push_back(
            {c.id, c.when, c.entity, c.key, c.what, c.before, c.after, c.undoes.value_or(0), c.batch, c.who});
    for (const Task& task : must(store.reading_queue().dead()))
        out["dead"].push_back({task.sha256, task.reader, task.tries, task.said});
    out["waiting"] = must(store.reading_queue().counts()).waiting;
    for (const Account& a : must(store.people().accounts())) {
        out["accounts"].push_back({a.name, name_of(a.role), a.secret, a.created, a.changed});
        for (const Session& s : must(store.people().sessions(a.name)))
            out["sessions"].push_back({s.digest, s.account, s.begun, s.seen, s.ends, s.origin});
    }
    for (const Noted& n : must(store.people().noted({})))
        out["noted"].push_back({n.id, n.when, n.who, n.what, n.subject, n.batch, n.origin});
    for (const Facet& facet : must(store.facets(Sight::kReaders)))
        out["seen by readers"].push_back({facet.field, facet.value, facet.count});
    out["undoable"] = must(store.last_undoable()).value_or(0);
    return out.dump(1);
}

class Moving : public testing::Test {
  protected:
    Place folder(const std::string& name) const { return {scratch_.path() / name, "", "", "", ""}; }
    Place database(const std::string& photos) const {
        return {"", new_database(), (scratch_.path() / photos).string(), "", ""};
    }
    // A store with pieces, lots, photographs, readings, records and a history of undone things.
    void fill(const Place& place) const {
        const auto store = must(open_store(place, test_clock()));
        for (const auto part : kFixtureParts) part(*store);
    }
    static std::string story(const Place& place) { return whole_story_of(*must(open_store(place, clock_from(0)))); }
    ScratchFolder scratch_;
};

TEST_F(Moving, TakesEverythingToADatabaseAndBackAgain) {
    const Place first = folder("first"), middle = database("middle"), last = folder("last");
    fill(first);
    const std::string told = story(first);
    const Moved there = must(move_store(first, middle, clock_from(0)));
    EXPECT_EQ(story(middle), told);
    EXPECT_EQ(story(first), told);  // it stayed as it was
    const Moved back = must(move_store(middle, last, clock_from(0)));
    EXPECT_EQ(story(last), told);
    ASSERT_EQ(there.tables.size(), back.tables.size());
    for (std::size_t i = 0; i < there.tables.size(); ++i) {
        EXPECT_EQ(there.tables[i].rows, back.tables[i].rows) << there.tables[i].name;
        EXPECT_EQ(there.tables[i].digest, back.tables[i].digest) << there.tables[i].name;
        EXPECT_GT(there.tables[i].rows, 0) << there.tables[i].name << " is not tried by this test";
    }
    EXPECT_EQ(there.photographs, 3);
    EXPECT_EQ(there.pictures, 1);
}

// More rows than are fetched at a time.
TEST_F(Moving, TakesTablesOfThousandsOfRows) {
    const Place first = folder("first"), second = database("second"), third = folder("third");
    {
        const auto store = must(open_store(first, test_clock()));
        std::vector<PieceRecord> many(2100);
        for (std::size_t i = 0; i < many.size(); ++i) many[i].note = fmt::format("note {}", i);
        must(store->put_all(many, ""));
        const Record sale{"sale", "", {{"price", 1}}, "", "", 0};
        std::vector<Record> sales(2050, sale);
        must(store->put_all(sales, ""));
    }
    const Moved there = must(move_store(first, second, clock_from(0)));
    for (const MovedTable& table : there.tables) {
        if (table.name == "piece" || table.name == "piece_words") {
            EXPECT_EQ(table.rows, 2100) << table.name;
        } else if (table.name == "kept") {
            EXPECT_EQ(table.rows, 2050);
        } else if (table.name == "change") {
            EXPECT_EQ(table.rows, 4150);
        }
    }
    must(move_store(second, third, clock_from(0)));
    const auto store = must(open_store(third, clock_from(0)));
    Query q;
    q.text = "note 2099";
    EXPECT_EQ(must(store->find(q)).total, 2);  // the last one, and p-2099
}

TEST_F(Moving, LeavesEverythingToBeUndoneToTheVeryBeginning) {
    const Place first = folder("first"), second = database("second");
    fill(first);
    must(move_store(first, second, clock_from(0)));
    const auto store = must(open_store(second, clock_from(0)));
    for (auto batch = must(store->last_undoable()); batch; batch = must(store->last_undoable()))
        must(store->undo(*batch));
    EXPECT_EQ(must(store->find({})).total, 0);
    EXPECT_TRUE(must(store->lots()).empty());
    EXPECT_EQ(must(store->put(plate(), "")).piece.id, "p-0041");
    PieceRecord next;
    EXPECT_EQ(must(store->put(next, "")).piece.id, "p-0048");  // the counters came along
}

TEST_F(Moving, RefusesATargetThatHoldsSomething) {
    const Place first = folder("first"), second = database("second");
    fill(first);
    must(must(open_store(second, clock_from(0)))->put(plate(), ""));
    const auto refused = move_store(first, second, clock_from(0));
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::kConflict);
    EXPECT_THAT(to_line(refused.error()), HasSubstr("something is in it already"));
    EXPECT_EQ(must(must(open_store(second, clock_from(0)))->find({})).total, 1);
}

TEST_F(Moving, RefusesWhatIsNotThereOrInUse) {
    EXPECT_EQ(move_store(folder("nowhere"), folder("to"), clock_from(0)).error().code, ProblemCode::kNotFound);
    EXPECT_FALSE(fs::exists(scratch_.path() / "to"));
    const Place first = folder("first"), second = database("second");
    fill(first);
    {
        const auto open = must(open_store(second, clock_from(0)));
        EXPECT_THAT(to_line(move_store(first, second, clock_from(0)).error()),
                    HasSubstr("another Footring has this store open"));
    }
    const auto open = must(open_store(first, clock_from(0)));
    EXPECT_THAT(to_line(move_store(first, second, clock_from(0)).error()),
                HasSubstr("another Footring has this folder open"));
}

// Thrown out of the middle of it, as a kill would end it: without a word to the databases.
TEST_F(Moving, StartsOverAfterAnEndAtAnyMoment) {
    const Place first = folder("first"), second = database("second");
    fill(first);
    const std::string told = story(first);
    int steps = 0;
    must(move_store(first, folder("count"), clock_from(0), [&](const std::string&, std::int64_t) { ++steps; }));
    ASSERT_GT(steps, 10);
    struct Killed : std::exception {};
    for (int end = 1; end <= steps; end += 3) {
        int step = 0;
        const auto ended = move_store(first, second, clock_from(0), [&](const std::string&, std::int64_t) {
            if (++step == end) throw Killed();
        });
        EXPECT_FALSE(ended);
        EXPECT_EQ(must(must(open_store(second, clock_from(0)))->recent(10)).size(), 0u) << end;
    }
    const Moved moved = must(move_store(first, second, clock_from(0)));
    EXPECT_EQ(moved.already_there, moved.photographs);
    EXPECT_EQ(story(second), told);
}

TEST_F(Moving, RefusesAPhotographThatIsNotWhatItsNameSays) {
    const Place first = folder("first"), second = database("second");
    fill(first);
    for (const auto& file : fs::recursive_directory_iterator(first.folder / "photos"))
        if (file.is_regular_file()) {
            std::ofstream(file.path(), std::ios::in | std::ios::out) << 'X';
            break;
        }
    EXPECT_THAT(to_line(move_store(first, second, clock_from(0)).error()),
                HasSubstr("the file no longer holds what was stored"));
}

// A table that a migration adds is moved too, or this fails.
TEST_F(Moving, ForgetsNoTable) {
    auto known = moved_tables();
    known.insert(known.end(), {"schema_version", "writer"});
    std::ranges::sort(known);
    const Place second = database("second"), first = folder("first");
    must(open_store(second, clock_from(0)));
    soci::session postgres(soci::postgresql, second.database);
    std::string name;
    std::vector<std::string> there;
    soci::statement asked =
        (postgres.prepare << "SELECT tablename FROM pg_tables WHERE schemaname = 'public'", soci::into(name));
    asked.execute(false);
    while (asked.fetch()) there.push_back(name);
    std::ranges::sort(there);
    EXPECT_EQ(there, known);
    must(open_store(first, clock_from(0)));
    std::erase(known, "writer");  // one program has a folder open, and needs no row to wait for
    there.clear();
    auto sqlite = must(SqliteFile::open(first.folder / "footring.db"));
    for (const auto& row : must(sqlite.rows("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")))
        if (!row.front().starts_with("piece_words_")) there.push_back(row.front());
    EXPECT_EQ(there, known);
}

}  // namespace
}  // namespace footring::store

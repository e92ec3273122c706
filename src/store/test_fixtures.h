// store/test_fixtures.h - what the stored databases in test_data/ hold: schema_N.sql was filled by parts 1 to N, by
// the
//   program that knew N versions of the tables.
//   To add one: a part for what the new tables can hold, a line in kFixtureParts, then
//     FOOTRING_KEEP_STORE=DIR build/test/bin/store_test --gtest_filter='Migrations.HaveAFixture*'
//     tools/store_fixture.py DIR/footring.db >src/store/test_data/schema_N.sql
//   Never change one that was released: no program could have written it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/people.h"
#include "store/reading_queue.h"
#include "store/sha256.h"
#include "store/test_stores.h"

namespace footring::store {

inline constexpr std::string_view kFixtureFront = "front bytes", kFixtureBack = "back bytes",
                                  kFixtureSide = "side bytes";

inline PhotoMeta fixture_photo(Store& store, const std::string& name, std::string_view bytes) {
    PhotoMeta meta;
    meta.piece = "p-0041";
    meta.name = name;
    meta.type = "image/jpeg";
    meta.width = 4;
    meta.height = 3;
    return must(store.add_photo(meta, bytes, "small"));
}

// Pieces, lots and photographs; removed, undone and done again.
inline void fill_part_1(Store& store) {
    Lot barn;
    barn.id = "lot-barn";
    barn.name = "Barn sale";
    barn.date = "2026-02~";
    barn.cost = 40;
    barn.currency = "GBP";
    barn = must(store.put(barn, ""));
    PieceRecord r = plate();
    r.lot = "lot-barn";
    r.place = "top shelf";
    r.cost = 12.5;
    r.currency = "GBP";
    r.note = "Crème glaze; 'quoted' \"twice\"";
    r = must(store.put(r, "Found at the bottom of the box."));
    r.piece.wear = looks::Wear::kModerate;
    r.decision = Decision{"demo:t-117", "first", "1931/1934", "rim agrees"};
    r.attribution = Attribution{{{"piece", "p-0041"}, {"open", {{"unlisted", 0.02}}}}, "demo@1 abc", "2026-02-01"};
    r.search_words = "117 Oat Fern";
    must(store.put(r, ""));
    fixture_photo(store, "front.jpg", kFixtureFront);
    const std::string back = fixture_photo(store, "back.jpg", kFixtureBack).sha256;
    must(store.remove_photo("p-0041", back));
    std::vector<PieceRecord> both(2);
    both[0].piece.form = "cup";
    both[1].piece.form = "saucer";
    must(store.put_all(both, ""));
    must(store.remove({"p-0042"}, "Broken."));
    const std::int64_t undone = must(store.undo(must(store.last_undoable()).value()));
    must(store.undo(undone));  // broken after all
    barn.note = "Two boxes";
    must(store.put(barn, ""));
}

// Readings, and what a person mended of one.
inline void fill_part_2(Store& store) {
    const PhotoMeta side = fixture_photo(store, "side.jpg", kFixtureSide);
    Reading reading;
    reading.sha256 = side.sha256;
    reading.asked = {{"side", "front"}};
    reading.found = {{"notes", {"read"}}};
    reading.packs = "demo@1 abc";
    must(store.put_reading(reading, {{"strip", "ribbon"}}));
    must(store.correct_photo("p-0041", side.sha256, {{"repeats", 9}}, ""));
}

// Records of other kinds.
inline void fill_part_3(Store& store) {
    Record sale;
    sale.kind = "sale";
    sale.body = {{"treatment", "demo:t-117"}, {"price", 24.5}, {"currency", "GBP"}, {"sold", "2026-02-14"}};
    sale = must(store.put(sale, ""));
    sale.body["house"] = "Harbour auction";
    must(store.put(sale, ""));
    Record letter;
    letter.kind = "letter";
    letter.id = "letter-from-the-harbour";
    letter.body = {{"pieces", {"p-0041"}}, {"asked", "What is it?"}};
    must(store.put_all(std::vector<Record>{letter, {"sale", "", {{"price", 3}}, "", "", 0}}, "Two at once."));
    must(store.remove_records("sale", {"sale-0002"}, ""));
}

// Private pieces, people, and who did what.
inline void fill_part_4(Store& store) {
    const auto ada = store.signed_by("ada");
    must(store.people().add({"ada", Role::kKeeper, "digest of a password", "", ""}));
    must(ada->people().add({"ben", Role::kReader, "another", "", ""}));
    must(store.people().begin(
        {"0a1b", "ada", "2026-03-01T10:00:00Z", "2026-03-01T10:00:00Z", "2036-03-01T10:00:00Z", "192.168.0.7"}));
    PieceRecord hidden;
    hidden.piece.form = "cup";
    hidden.is_private = true;
    hidden.note = "a present";
    must(ada->put(hidden, ""));
    must(ada->undo(must(ada->last_undoable()).value()));
    must(ada->undo(must(store.recent(1)).front().batch));
}

// Photographs that wait to be read: one that waits, one that failed too often.
inline void fill_part_5(Store& store) {
    ReadingQueue& queue = store.reading_queue();
    must(queue.add({sha256_of(kFixtureFront), sha256_of(kFixtureBack)}));
    std::vector<Task> leased;
    for (int i = 0; i < ReadingQueue::kMostTries; ++i)
        leased = must(queue.lease("reader-1", 1, std::chrono::seconds(0)));
    must(queue.fail(leased.at(0), {ProblemCode::kUnreadable, "front.jpg", "it is torn", "photograph it again"}));
}

// Pieces that are counted together, among them one that nobody else sees, and one that was changed since.
inline void fill_part_6(Store& store) {
    for (const char* note : {"first", "second", "third"}) {
        PieceRecord jug;
        jug.piece.form = "jug";
        jug.place = "Shelf 6";
        jug.note = note;
        jug.is_private = std::string(note) == "third";
        jug = must(store.put(jug, ""));
        if (std::string(note) != "first") continue;
        jug.place = "Shelf 7";
        must(store.put(jug, ""));
    }
}

inline constexpr void (*kFixtureParts[])(Store&) = {&fill_part_1, &fill_part_2, &fill_part_3,
                                                    &fill_part_4, &fill_part_5, &fill_part_6};

}  // namespace footring::store

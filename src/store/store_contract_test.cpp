// What every store must do, whatever database is below; find_contract_test.cpp goes on with finding.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <atomic>
#include <thread>

#include "store/record_json.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using looks::Sure;
using testing::ElementsAre;
using testing::IsEmpty;

class StoreContract : public OnEveryStore {};

TEST_P(StoreContract, ReturnsAPieceAsItWasPut) {
    lot("lot-a", "Harbour auction");
    PieceRecord r = plate();
    r.lot = "lot-a";
    r.place = "top shelf";
    r.cost = 12.5;
    r.currency = "GBP";
    r.note = "Chip at the foot; <b>\"quoted\"</b> 'and' -- so on";
    r.decision = Decision{"demo:t-117", "first", "1931/1934", "rim agrees"};
    r.attribution = Attribution{{{"piece", "p-0041"}, {"open", {{"unlisted", 0.02}}}}, "demo@1 abc", "2026-02-01"};
    r.search_words = "117 Oat Fern";
    const PieceRecord put = must(store().put(r, ""));
    EXPECT_EQ(put.created, "2026-03-01T09:30:02Z");
    EXPECT_EQ(put.changed, put.created);
    EXPECT_GT(put.revision, 0);
    EXPECT_EQ(must(store().piece("p-0041")), put);
    r.created = put.created, r.changed = put.changed, r.revision = put.revision;
    EXPECT_EQ(put, r);
}

TEST_P(StoreContract, GivesEmptyIdsTheNextFreeNumber) {
    PieceRecord r = plate();
    r.piece.id = "p-0007";
    must(store().put(r, ""));
    r.piece.id = "";
    EXPECT_EQ(must(store().put(r, "")).piece.id, "p-0008");
    must(store().remove({"p-0008"}, ""));
    EXPECT_EQ(must(store().put(r, "")).piece.id, "p-0009");  // the number of a removed piece stays its own
    PieceRecord given = r;
    given.piece.id = "p-0010";
    const auto both = must(store().put_all({r, given}, ""));
    EXPECT_EQ(both[0].piece.id, "p-0011");
    Lot l;
    l.name = "Barn sale";
    EXPECT_EQ(must(store().put(l, "")).id, "lot-0001");
}

TEST_P(StoreContract, RefusesAnIdThatIsTaken) {
    must(store().put(plate(), ""));
    EXPECT_EQ(to_line(store().put(plate(), "").error()),
              "piece p-0041: there is a piece of this id already: open that one, or leave the id empty to get the "
              "next free one");
}

TEST_P(StoreContract, RefusesWhatWasChangedOrRemovedInBetween) {
    const PieceRecord first = must(store().put(plate(), ""));
    PieceRecord mine = first, yours = first;
    mine.note = "mine";
    yours.note = "yours";
    must(store().put(yours, ""));
    const auto refused = store().put(mine, "");
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::kConflict);
    EXPECT_EQ(to_line(refused.error()),
              "piece p-0041: it was changed since you opened it: look at it again and repeat your change");
    EXPECT_EQ(must(store().piece("p-0041")).note, "yours");
    must(store().remove({"p-0041"}, ""));
    EXPECT_EQ(to_line(store().put(mine, "").error()),
              "piece p-0041: it was removed since you opened it: undo the removal, or add it anew");
}

TEST_P(StoreContract, NeverGivesARevisionTwice) {
    PieceRecord r = must(store().put(plate(), ""));
    const std::int64_t first = r.revision;
    must(store().remove({"p-0041"}, ""));
    EXPECT_GT(must(store().put(plate(), "")).revision, first + 1);
}

TEST_P(StoreContract, StoresAllOrNone) {
    PieceRecord good = plate(), bad = plate();
    good.piece.id = "a-1";
    bad.piece.id = "a-2";
    bad.lot = "nowhere";
    const auto refused = store().put_all({good, bad}, "");
    ASSERT_FALSE(refused);
    EXPECT_EQ(to_line(refused.error()),
              "piece a-2: lot: there is no lot 'nowhere': add the lot first, or leave the lot out");
    EXPECT_EQ(store().piece("a-1").error().code, ProblemCode::kNotFound);
    EXPECT_THAT(must(store().recent(10)), IsEmpty());
    EXPECT_EQ(must(store().last_undoable()), std::nullopt);
    EXPECT_FALSE(store().put_all({good, good}, ""));
    EXPECT_THAT(found(""), IsEmpty());
}

TEST_P(StoreContract, NamesAPieceWithoutIdByItsPositionWhenItIsRefused) {
    PieceRecord bad;
    bad.cost = -1;
    EXPECT_EQ(to_line(store().put_all({PieceRecord{}, bad}, "").error()),
              "piece 2 of 2: cost: this is no amount of money: give a number that is 0 or more, or leave it out");
}

TEST_P(StoreContract, RefusesTextThatIsTooLongOrHoldsNul) {
    PieceRecord r = plate();
    r.note = std::string(64 * 1024, 'n');
    must(store().put(r, ""));
    r.piece.id = "p-2";
    r.note += 'n';
    const auto too_long = store().put(r, "");
    ASSERT_FALSE(too_long);
    EXPECT_EQ(too_long.error().code, ProblemCode::kTooLarge);
    EXPECT_EQ(to_line(too_long.error()),
              "piece p-2: note: the text is 65537 bytes long, the most is 65536: "
              "shorten it, or keep the long text in a file of its own");
    r.note = std::string("a\0b", 3);
    EXPECT_EQ(to_line(store().put(r, "").error()),
              "piece p-2: note: the text is not UTF-8, or holds a NUL character: "
              "save it as UTF-8 and send it again");
    r.note = "caf\xE9";
    EXPECT_EQ(store().put(r, "").error().code, ProblemCode::kBadInput);
    r.note = "";
    r.piece.id = "p\n2";
    EXPECT_EQ(store().put(r, "").error().code, ProblemCode::kBadInput);
    r.piece.id = std::string(201, 'i');
    EXPECT_EQ(store().put(r, "").error().code, ProblemCode::kTooLarge);
    r.piece.id = "p-2";
    r.attribution = Attribution{{{"text", "\xFF"}}, "", ""};
    EXPECT_EQ(store().put(r, "").error().code, ProblemCode::kBadInput);
    r.attribution = Attribution{std::string(1024 * 1024, 'a'), "", ""};
    EXPECT_EQ(store().put(r, "").error().code, ProblemCode::kTooLarge);
    r.attribution.reset();
    r.decision = Decision{"demo:t-1", "third", "", ""};
    EXPECT_EQ(to_line(store().put(r, "").error()),
              "piece p-2: decision: grade: the grade is neither first nor "
              "second: choose one of them, or leave it out");
    EXPECT_EQ(found("").size(), 1u);
}

TEST_P(StoreContract, KeepsIdsAndNamesThatLookLikeMarkupOrSql) {
    const std::string name = "<script>alert('x')</script> \"); DROP TABLE piece; -- %s :id ? \xF0\x9F\x8D\xBD";
    const Lot l = lot(name, name);
    PieceRecord r = plate();
    r.piece.id = name;
    r.lot = name;
    r.place = name;
    must(store().put(r, name));
    EXPECT_EQ(must(store().piece(name)).place, name);
    EXPECT_THAT(must(store().lots()), ElementsAre(l));
    EXPECT_THAT(sentences("piece", name), ElementsAre(name));
    Query q;
    q.place = name;
    EXPECT_THAT(found(q), ElementsAre(name));
}

TEST_P(StoreContract, DoesNotRecordAPutThatChangesNothing) {
    const PieceRecord r = must(store().put(plate(), ""));
    EXPECT_EQ(must(store().put(r, "")), r);
    EXPECT_EQ(must(store().recent(10)).size(), 1u);
    const Lot l = lot("lot-a", "Barn");
    EXPECT_EQ(must(store().put(l, "")), l);
    EXPECT_EQ(must(store().history("lot", "lot-a")).size(), 1u);
}

// --- the history and its sentences

TEST_P(StoreContract, SaysInASentenceWhatChanged) {
    PieceRecord r;
    r.piece.id = "p-0041";
    r = must(store().put(r, ""));
    r.piece.looks = {{book::Place::kRim, {"fern-pair", Sure::kSure}}};
    r.piece.wear = looks::Wear::kModerate;
    r = must(store().put(r, ""));
    r.piece.looks[0].seen.sure = Sure::kGuess;
    r.piece.length_mm = 121;
    r.piece.wear.reset();
    r.decision = Decision{"demo:t-117", "first", "1931/1934", ""};
    r = must(store().put(r, ""));
    r.decision.reset();
    r.cost = 4;
    r.currency = "GBP";
    r.piece.looks.clear();
    r.piece.looks.push_back({book::Place::kEdge, {"none", Sure::kLikely}});
    r = must(store().put(r, ""));
    r.note = "own words";
    must(store().put(r, "As told at the fair."));
    EXPECT_THAT(
        sentences("piece", "p-0041"),
        ElementsAre("As told at the fair.",
                    "Rim: not looked at. Edge: none (likely). Cost: 4 GBP. Decision withdrawn.",
                    "Rim: fern-pair (guess). Wear: not looked at. Length: 121 mm. Decided: demo:t-117, first, "
                    "1931/1934.",
                    "Rim: fern-pair (sure). Wear: moderate.", "Added."));
}

TEST_P(StoreContract, KeepsBeforeAndAfterOfEachChange) {
    const PieceRecord first = must(store().put(plate(), ""));
    PieceRecord second = first;
    second.note = "chipped";
    second = must(store().put(second, ""));
    must(store().remove({"p-0041"}, "Sold."));
    const auto changes = must(store().history("piece", "p-0041"));
    ASSERT_EQ(changes.size(), 3u);
    EXPECT_EQ(changes[2].before, nullptr);
    EXPECT_EQ(changes[2].after, to_json(first));
    EXPECT_EQ(changes[1].before, to_json(first));
    EXPECT_EQ(changes[1].after, to_json(second));
    EXPECT_EQ(changes[0].before, to_json(second));
    EXPECT_EQ(changes[0].after, nullptr);
    EXPECT_EQ(changes[0].what, "Sold.");
    EXPECT_EQ(changes[0].when, "2026-03-01T09:30:03Z");
    EXPECT_EQ(must(piece_record_from_json(changes[1].after, "x")), second);
}

TEST_P(StoreContract, GivesTheChangesOfOneCallOneBatch) {
    std::vector<PieceRecord> three(3);
    for (PieceRecord& r : three) r.piece.form = "plate";
    const auto stored = must(store().put_all(three, "From the sheet."));
    auto edited = stored;
    for (PieceRecord& r : edited) r.place = "box 4";
    must(store().put_all(edited, ""));
    const auto changes = must(store().recent(10));
    ASSERT_EQ(changes.size(), 6u);
    EXPECT_EQ(changes[0].batch, changes[2].batch);
    EXPECT_NE(changes[2].batch, changes[3].batch);
    EXPECT_EQ(changes[3].batch, changes[5].batch);
    EXPECT_EQ(changes[0].what, "Kept at: box 4.");
    EXPECT_EQ(must(store().recent(2)).size(), 2u);
    must(store().undo(changes[0].batch));
    for (const PieceRecord& r : stored) EXPECT_EQ(must(store().piece(r.piece.id)).place, "");
}

// --- undo

TEST_P(StoreContract, UndoesAndDoesAgain) {
    const PieceRecord first = must(store().put(plate(), ""));
    PieceRecord second = first;
    second.note = "chipped";
    second = must(store().put(second, ""));
    const auto edit = must(store().last_undoable()).value();
    const auto undone = must(store().undo(edit));
    EXPECT_EQ(must(store().piece("p-0041")).note, "");
    EXPECT_THAT(found("chipped"), IsEmpty());
    EXPECT_GT(must(store().piece("p-0041")).revision, second.revision);
    EXPECT_EQ(must(store().piece("p-0041")).created, first.created);
    EXPECT_NE(must(store().last_undoable()), edit);
    const auto redone = must(store().undo(undone));
    EXPECT_EQ(must(store().piece("p-0041")).note, "chipped");
    EXPECT_THAT(found("chipped"), ElementsAre("p-0041"));
    EXPECT_EQ(must(store().last_undoable()), edit);  // it holds again
    must(store().undo(edit));
    EXPECT_EQ(must(store().piece("p-0041")).note, "");
    EXPECT_EQ(to_line(store().undo(redone).error()),
              "change 4: piece p-0041 was changed since: Undone: Note: chipped.: undo the later change first, or "
              "correct the record by hand");
    EXPECT_THAT(sentences("piece", "p-0041"),
                ElementsAre("Undone: Note: chipped.", "Done again: Note: chipped.", "Undone: Note: chipped.",
                            "Note: chipped.", testing::StartsWith("Added.")));
}

TEST_P(StoreContract, RefusesToUndoTwiceOrWhatWasChangedSinceAndThenDoesNothing) {
    PieceRecord a = plate(), b = plate();
    a.piece.id = "a";
    b.piece.id = "b";
    auto both = must(store().put_all({a, b}, ""));
    const auto batch = must(store().last_undoable()).value();
    both[0].note = "later";
    must(store().put(both[0], ""));
    EXPECT_EQ(
        to_line(store().undo(batch).error()),
        "change 1: piece a was changed since: Note: later.: undo the later change first, or correct the record "
        "by hand");
    EXPECT_THAT(found(""), ElementsAre("a", "b"));
    must(store().undo(must(store().last_undoable()).value()));
    EXPECT_EQ(to_line(store().undo(2).error()),
              "change 2: this was undone already: to have it again, undo its undoing");
    EXPECT_EQ(store().undo(99).error().code, ProblemCode::kNotFound);
}

TEST_P(StoreContract, WalksBackToTheBeginningAndForthAgain) {
    PieceRecord r = must(store().put(plate(), ""));
    for (const char* note : {"one", "two", "three"}) {
        r.note = note;
        r = must(store().put(r, ""));
    }
    std::vector<std::int64_t> undone;
    while (const auto last = must(store().last_undoable())) undone.push_back(must(store().undo(*last)));
    EXPECT_EQ(undone.size(), 4u);
    EXPECT_THAT(found(""), IsEmpty());
    for (auto at = undone.rbegin(); at != undone.rend(); ++at) must(store().undo(*at));
    EXPECT_EQ(must(store().piece("p-0041")).note, "three");
    while (const auto last = must(store().last_undoable())) must(store().undo(*last));
    EXPECT_THAT(found(""), IsEmpty());
}

TEST_P(StoreContract, BringsRemovedPiecesBackWithTheirPhotographs) {
    must(store().put(plate(), ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front"), back = photo("p-0041", "back.jpg", "back");
    must(store().remove({"p-0041", "p-0041"}, ""));
    EXPECT_EQ(store().piece("p-0041").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(to_line(store().remove({"p-0041"}, "").error()),
              "piece p-0041: there is no piece of this id: check the id; the history shows what was removed");
    must(store().undo(must(store().last_undoable()).value()));
    EXPECT_THAT(must(store().photos("p-0041")), ElementsAre(front, back));
    EXPECT_THAT(must(store().piece("p-0041")).photos, ElementsAre(front.sha256, back.sha256));
    EXPECT_EQ(must(store().photo_bytes(back.sha256)), "back");
}

TEST_P(StoreContract, RefusesAnUndoThatWouldLeaveSomethingWithoutItsPlace) {
    const Lot l = lot("lot-a", "Barn");
    const auto lot_added = must(store().last_undoable()).value();
    PieceRecord r = plate();
    r.lot = "lot-a";
    r = must(store().put(r, ""));
    EXPECT_EQ(to_line(store().undo(lot_added).error()), "change 1: lot lot-a has pieces in it: move them first");
    const auto piece_added = must(store().last_undoable()).value();
    photo("p-0041", "front.jpg", "front");
    EXPECT_EQ(to_line(store().undo(piece_added).error()),
              "change 2: piece p-0041 has photographs that were added since: remove them first");
    must(store().remove({"p-0041"}, ""));
    const auto removed = must(store().last_undoable()).value();
    must(store().remove_lot("lot-a", ""));
    EXPECT_EQ(to_line(store().undo(removed).error()),
              "change 4: piece p-0041 was in the lot 'lot-a', which was removed since: undo the removal of the lot "
              "first");
    must(store().undo(must(store().last_undoable()).value()));
    must(store().undo(removed));
    EXPECT_EQ(must(store().piece("p-0041")).lot, "lot-a");
    EXPECT_EQ(must(store().lots()).front().name, l.name);
}

// --- lots

TEST_P(StoreContract, KeepsLotsAndRefusesToRemoveOneInUse) {
    Lot l;
    l.id = "lot-a";
    l.name = "Barn sale";
    l.date = "1998~";
    l.place = "Millbrook";
    l.cost = 30;
    l.currency = "GBP";
    l = must(store().put(l, ""));
    EXPECT_THAT(must(store().lots()), ElementsAre(l));
    EXPECT_THAT(sentences("lot", "lot-a"),
                ElementsAre("Lot added. Name: Barn sale. Date: 1998~. Bought at: Millbrook. Cost: 30 GBP."));
    PieceRecord r = plate();
    r.lot = "lot-a";
    r = must(store().put(r, ""));
    EXPECT_EQ(to_line(store().remove_lot("lot-a", "").error()),
              "lot lot-a: piece p-0041 is in this lot: move them to another lot first");
    r.lot = "";
    must(store().put(r, ""));
    must(store().remove_lot("lot-a", ""));
    EXPECT_THAT(must(store().lots()), IsEmpty());
    EXPECT_EQ(store().remove_lot("lot-a", "").error().code, ProblemCode::kNotFound);
    l.name = "  ";
    EXPECT_EQ(
        to_line(store().put(l, "").error()),
        "lot lot-a: name: the lot has no name: name it as you speak of it, such as where and when it was bought");
    l.name = "Barn";
    EXPECT_EQ(store().put(l, "").error().code, ProblemCode::kConflict);
}

// --- photographs

TEST_P(StoreContract, KeepsTheBytesOfAPhotographOnce) {
    must(store().put(plate(), ""));
    PieceRecord other = plate();
    other.piece.id = "p-0042";
    must(store().put(other, ""));
    const std::string bytes("a\0b", 3);
    const PhotoMeta first = photo("p-0041", "a.jpg", bytes);
    EXPECT_EQ(first.sha256, "59b271ae1bbcb1d31d41929817f4b16fb439eb4f31520b5ad1d5ce98920a7138");
    EXPECT_EQ(first.bytes, 3);
    EXPECT_EQ(first.added, "2026-03-01T09:30:03Z");
    EXPECT_EQ(photo("p-0041", "again.jpg", bytes), first);
    const PhotoMeta shared = photo("p-0042", "b.jpg", bytes);
    EXPECT_EQ(shared.sha256, first.sha256);
    EXPECT_EQ(must(store().photo_bytes(first.sha256)), bytes);
    EXPECT_EQ(must(store().thumbnail(first.sha256)), "small " + bytes);
    must(store().remove_photo("p-0041", first.sha256));
    EXPECT_THAT(must(store().photos("p-0041")), IsEmpty());
    EXPECT_THAT(must(store().photos("p-0042")), ElementsAre(shared));
    EXPECT_THAT(sentences("piece", "p-0041"),
                ElementsAre("Photograph a.jpg removed.", "Photograph a.jpg added.", testing::StartsWith("Added.")));
    EXPECT_EQ(must(store().history("photo", "p-0041/" + first.sha256)).size(), 2u);
}

TEST_P(StoreContract, RefusesPhotographsThatBelongNowhere) {
    PhotoMeta meta;
    meta.piece = "p-9";
    EXPECT_EQ(store().add_photo(meta, "bytes", "small").error().code, ProblemCode::kNotFound);
    must(store().put(plate(), ""));
    meta.piece = "p-0041";
    EXPECT_EQ(to_line(store().add_photo(meta, "", "small").error()),
              "piece p-0041: photograph: the file is empty: send the photograph itself");
    for (const char* name : {"", "../../etc/passwd", "ABCDEF", "\xFF"}) {
        EXPECT_EQ(store().photo_bytes(name).error().code, ProblemCode::kNotFound);
        EXPECT_EQ(store().thumbnail(name).error().code, ProblemCode::kNotFound);
        EXPECT_EQ(store().remove_photo("p-0041", name).error().code, ProblemCode::kNotFound);
    }
    EXPECT_EQ(store().photo_bytes(std::string(64, '0')).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(store().photos("p-9").error().code, ProblemCode::kNotFound);
}

TEST_P(StoreContract, BringsARemovedPhotographBackUntilItIsSwept) {
    must(store().put(plate(), ""));
    const PhotoMeta kept = photo("p-0041", "kept.jpg", "kept"), gone = photo("p-0041", "gone.jpg", "gone");
    must(store().remove_photo("p-0041", gone.sha256));
    const auto removal = must(store().last_undoable()).value();
    EXPECT_EQ(must(store().sweep(1)), 0);  // removed less than a day ago
    must(store().undo(removal));
    EXPECT_THAT(must(store().photos("p-0041")), ElementsAre(kept, gone));
    must(store().remove_photo("p-0041", gone.sha256));
    EXPECT_EQ(must(store().sweep(0)), 1);
    EXPECT_EQ(store().photo_bytes(gone.sha256).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(must(store().photo_bytes(kept.sha256)), "kept");
    EXPECT_EQ(to_line(store().undo(must(store().last_undoable()).value()).error()),
              "change 6: the file of the photograph 'gone.jpg' was swept away: add the photograph again from the "
              "camera or a backup");
    EXPECT_EQ(to_line(store().sweep(-1).error()),
              "days: the number of days is not between 0 and 36500: give the days that a removed photograph shall "
              "still be kept");
}

// --- readings

Reading reading_of(const std::string& sha256, const std::string& packs) {
    Reading r;
    r.sha256 = sha256;
    r.asked = {{"rim_height_mm", 22}};
    r.found = {{"border", {{"repeats", 8}}}};
    r.packs = packs;
    return r;
}

TEST_P(StoreContract, KeepsTheNewestReadingOfAPhotographWithItsPictures) {
    must(store().put(plate(), ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front");
    EXPECT_EQ(to_line(store().reading(front.sha256).error()),
              "photograph " + front.sha256 + ": it has not been read yet: read it first");
    Reading first = reading_of(front.sha256, "demo@1 abc");
    const Reading kept = must(store().put_reading(first, {{"strip", "ribbon"}, {"mark", "words"}}));
    EXPECT_EQ(kept.found, first.found);
    EXPECT_EQ(kept.asked, first.asked);
    EXPECT_EQ(kept.when, "2026-03-01T09:30:03Z");
    EXPECT_EQ(must(store().reading(front.sha256)), kept);
    EXPECT_EQ(must(store().reading_picture(front.sha256, "strip")), "ribbon");
    EXPECT_EQ(must(store().recent(10)).size(), 2u);  // what can be read again is no change

    first.found = {{"border", {{"repeats", 9}}}};
    const Reading second = must(store().put_reading(first, {{"strip", "another"}}));
    EXPECT_NE(second.pictures.at("strip"), kept.pictures.at("strip"));
    EXPECT_EQ(must(store().reading(front.sha256)), second);
    EXPECT_EQ(must(store().reading_picture(front.sha256, "strip")), "another");
    EXPECT_EQ(to_line(store().reading_picture(front.sha256, "mark").error()),
              "photograph " + front.sha256 +
                  ": its reading has no picture 'mark': it is made where the photograph shows what it needs");
}

TEST_P(StoreContract, RefusesReadingsThatBelongNowhere) {
    must(store().put(plate(), ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front");
    for (const std::string& name : {std::string(64, '0'), std::string("../x"), std::string()}) {
        EXPECT_EQ(store().put_reading(reading_of(name, ""), {}).error().code, ProblemCode::kNotFound);
        EXPECT_EQ(store().reading(name).error().code, ProblemCode::kNotFound);
    }
    EXPECT_EQ(store().put_reading(reading_of(front.sha256, ""), {{"../strip", "x"}}).error().code,
              ProblemCode::kBadInput);
    Reading nothing = reading_of(front.sha256, "");
    nothing.found = nullptr;
    EXPECT_EQ(store().put_reading(nothing, {}).error().code, ProblemCode::kBadInput);
    Reading large = reading_of(front.sha256, "");
    large.found["notes"] = std::string(1024 * 1024, 'x');
    EXPECT_EQ(store().put_reading(large, {}).error().code, ProblemCode::kTooLarge);
    EXPECT_EQ(store().reading(front.sha256).error().code, ProblemCode::kNotFound);
}

TEST_P(StoreContract, NamesThePhotographsOfWhichAPictureWasMade) {
    PieceRecord open = plate(), hidden = plate();
    hidden.piece.id = "p-0042";
    hidden.is_private = true;
    must(store().put(open, ""));
    must(store().put(hidden, ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front"), back = photo("p-0041", "back.jpg", "back"),
                    other = photo("p-0042", "other.jpg", "other");
    EXPECT_THAT(must(store().pictures_made("tile", Sight::kAll)), IsEmpty());
    must(store().put_reading(reading_of(front.sha256, "demo@1 abc"), {{"tile", "dots"}}));
    must(store().put_reading(reading_of(back.sha256, "demo@1 abc"), {{"mark", "words"}}));
    must(store().put_reading(reading_of(other.sha256, "demo@1 abc"), {{"tile", "leaves"}, {"mark", "words"}}));
    const auto made = [&](const std::string& piece, const std::string& sha256) {
        return PictureMade{piece, sha256, must(store().reading(sha256)).pictures.at("tile")};
    };
    const PictureMade seen = made("p-0041", front.sha256), unseen = made("p-0042", other.sha256);
    EXPECT_THAT(must(store().pictures_made("tile", Sight::kAll)), ElementsAre(seen, unseen));
    EXPECT_THAT(must(store().pictures_made("tile", Sight::kReaders)), ElementsAre(seen));
    must(store().put_reading(reading_of(front.sha256, "demo@1 abc"), {}));
    EXPECT_THAT(must(store().pictures_made("tile", Sight::kAll)), ElementsAre(unseen));
}

TEST_P(StoreContract, NamesThePhotographsThatNobodyReadWithThesePacks) {
    must(store().put(plate(), ""));
    PieceRecord other = plate();
    other.piece.id = "p-0042";
    must(store().put(other, ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front"), back = photo("p-0041", "back.jpg", "back");
    photo("p-0042", "front.jpg", "front");
    EXPECT_THAT(must(store().unread("demo@1 abc")), ElementsAre(front.sha256, back.sha256));
    must(store().put_reading(reading_of(front.sha256, "demo@1 abc"), {}));
    EXPECT_THAT(must(store().unread("demo@1 abc")), ElementsAre(back.sha256));
    EXPECT_THAT(must(store().unread("demo@1 other")), ElementsAre(front.sha256, back.sha256));
    must(store().remove_photo("p-0041", back.sha256));
    EXPECT_THAT(must(store().unread("demo@1 abc")), IsEmpty());
}

TEST_P(StoreContract, KeepsWhatAPersonMendedOfAReadingInTheHistory) {
    must(store().put(plate(), ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front"), back = photo("p-0041", "back.jpg", "back");
    const nlohmann::json mended = {{"repeats", 9}};
    const PhotoMeta corrected = must(store().correct_photo("p-0041", front.sha256, mended, ""));
    EXPECT_EQ(corrected.corrections, mended);
    EXPECT_EQ(corrected.added, front.added);
    EXPECT_THAT(must(store().photos("p-0041")), ElementsAre(corrected, back));
    EXPECT_EQ(sentences("piece", "p-0041").front(), "Reading of front.jpg corrected.");
    must(store().correct_photo("p-0041", front.sha256, mended, "again"));  // nothing changed
    EXPECT_EQ(sentences("piece", "p-0041").front(), "Reading of front.jpg corrected.");
    must(store().undo(must(store().last_undoable()).value()));
    EXPECT_THAT(must(store().photos("p-0041")), ElementsAre(front, back));
    EXPECT_EQ(store().correct_photo("p-0042", front.sha256, mended, "").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(to_line(store().correct_photo("p-0041", front.sha256, 3, "").error()),
              "photograph front.jpg: corrections: they are no object: send an object in braces, or null for none");
    EXPECT_EQ(store().correct_photo("p-0041", front.sha256, {{"words", std::string(70'000, 'x')}}, "").error().code,
              ProblemCode::kTooLarge);
}

TEST_P(StoreContract, SweepsAReadingWithItsPhotograph) {
    must(store().put(plate(), ""));
    const PhotoMeta front = photo("p-0041", "front.jpg", "front");
    must(store().put_reading(reading_of(front.sha256, "demo@1"), {{"strip", "ribbon"}}));
    must(store().remove_photo("p-0041", front.sha256));
    EXPECT_EQ(must(store().reading_picture(front.sha256, "strip")), "ribbon");  // the removal may be undone
    EXPECT_EQ(must(store().sweep(0)), 1);
    EXPECT_EQ(store().reading(front.sha256).error().code, ProblemCode::kNotFound);
}

TEST_P(StoreContract, RefusesAHistoryOfUnknownKind) {
    EXPECT_EQ(to_line(store().history("plates", "x").error()),
              "history: 'plates' is no kind of record: use piece, lot, photo, sale, service, composition, letter, "
              "mapping or haul");
    EXPECT_THAT(must(store().history("piece", "never")), IsEmpty());
}

// --- threads

TEST_P(StoreContract, IsReadAndWrittenByManyThreads) {
    constexpr int kWriters = 3, kReaders = 5, kEach = 40;
    std::atomic<int> finished{0}, faults{0};
    std::vector<std::thread> threads;
    for (int w = 0; w < kWriters; ++w)
        threads.emplace_back([&, w] {
            for (int i = 0; i < kEach; ++i) {
                PieceRecord two[2];
                for (PieceRecord& r : two) r.place = "writer " + std::to_string(w);
                const auto stored = store().put_all({two[0], two[1]}, "");
                if (!stored || (i % 4 == 0 && !store().remove({(*stored)[0].piece.id}, ""))) ++faults;
                if (i % 4 == 0 && !store().undo(must(store().history("piece", (*stored)[0].piece.id))[0].batch))
                    ++faults;
            }
            ++finished;
        });
    for (int r = 0; r < kReaders; ++r)
        threads.emplace_back([&, r] {
            while (finished < kWriters) {
                Query q;
                q.text = "writer";
                q.limit = 1000;
                const auto page = store().find(q);
                // One moment of the data: as many rows as it says.
                if (!page || page->total != static_cast<std::int64_t>(page->rows.size())) ++faults;
                if (r == 0 && (!store().facets() || !store().recent(5) || !store().last_undoable())) ++faults;
            }
        });
    for (std::thread& t : threads) t.join();
    EXPECT_EQ(faults, 0);
    EXPECT_EQ(must(store().find({})).total, 2 * kWriters * kEach);
}

INSTANTIATE_TEST_SUITE_P(EveryStore, StoreContract, testing::ValuesIn(every_store()), name_of_store);

}  // namespace
}  // namespace footring::store

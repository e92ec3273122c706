// What a reader sees of every store. SPDX-License-Identifier: Apache-2.0
#include "store/readers_view.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/people.h"
#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class ReadersViewContract : public OnEveryStore {
  protected:
    void SetUp() override {
        OnEveryStore::SetUp();
        view = for_readers(store());
        Lot barn;
        barn.id = "lot-barn";
        barn.name = "Barn";
        barn.place = "SECRET yard";
        barn.note = "SECRET note";
        barn.date = "1998-12";
        barn.cost = 987.5;
        barn.currency = "ZZZ";
        must(store().put(barn, ""));
        PieceRecord open = plate();
        open.lot = "lot-barn";
        open.cost = 123.75;
        open.currency = "ZZZ";
        must(store().put(open, "Bought: SECRET."));
        PieceRecord hidden = plate();
        hidden.piece.id = "p-0042";
        hidden.is_private = true;
        hidden.note = "SECRET";
        hidden.decision = Decision{"demo:t-117", "first", "", ""};
        must(store().put(hidden, ""));
    }
    static Query words(const std::string& text) {
        Query query;
        query.text = text;
        return query;
    }
    std::unique_ptr<Store> view;
};
INSTANTIATE_TEST_SUITE_P(EveryStore, ReadersViewContract, testing::ValuesIn(every_store()), name_of_store);

TEST_P(ReadersViewContract, LeavesOutPrivatePieces) {
    EXPECT_EQ(must(store().find({})).total, 2);
    const Page page = must(view->find({}));
    EXPECT_EQ(page.total, 1);
    ASSERT_EQ(page.rows.size(), 1u);
    EXPECT_EQ(page.rows.front().piece.id, "p-0041");
    EXPECT_EQ(must(view->find(words("secret"))).total, 0);
    EXPECT_EQ(view->piece("p-0042").error(), view->piece("p-0042").error());
    EXPECT_EQ(view->piece("p-0042").error().code, ProblemCode::kNotFound);
    // As if it were not there: the words are those of an id that never was.
    EXPECT_EQ(view->piece("p-0042").error().what, view->piece("p-7777").error().what);
    for (const Facet& facet : must(view->facets())) EXPECT_EQ(facet.count, 1) << facet.field;
    EXPECT_THAT(must(view->counts()), IsEmpty());
    EXPECT_EQ(must(store().counts()).size(), 1u);
}

TEST_P(ReadersViewContract, LeavesOutWhatThingsCost) {
    const PieceRecord piece = must(view->piece("p-0041"));
    EXPECT_FALSE(piece.cost);
    EXPECT_EQ(piece.currency, "");
    EXPECT_EQ(must(view->find({})).rows.front(), piece);
    const Lot lot = must(view->lots()).front();
    EXPECT_EQ(lot.name, "Barn");
    EXPECT_FALSE(lot.cost);
    EXPECT_EQ(lot.currency + lot.place + lot.note + lot.date, "");
}

TEST_P(ReadersViewContract, ShowsAPhotographOnlyWithAPieceThatIsShown) {
    const PhotoMeta shown = photo("p-0041", "a.jpg", "one"), hidden = photo("p-0042", "b.jpg", "two"),
                    both = photo("p-0041", "c.jpg", "three");
    photo("p-0042", "c.jpg", "three");
    Reading reading;
    for (const std::string& sha256 : {shown.sha256, hidden.sha256}) {
        reading.sha256 = sha256;
        reading.found = {{"wording", "x"}};
        must(store().put_reading(reading, {{"mark", "picture"}}));
    }
    EXPECT_EQ(must(view->photo_bytes(shown.sha256)), "one");
    EXPECT_EQ(must(view->thumbnail(both.sha256)), "small three");
    EXPECT_EQ(must(view->reading_picture(shown.sha256, "mark")), "picture");
    EXPECT_EQ(view->photo_bytes(hidden.sha256).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(view->thumbnail(hidden.sha256).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(view->reading(hidden.sha256).error().code, ProblemCode::kNotFound);
    EXPECT_EQ(view->reading_picture(hidden.sha256, "mark").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(view->photos("p-0042").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(must(view->photos("p-0041")).size(), 2u);
    EXPECT_THAT(must(view->pieces_with(both.sha256)), ElementsAre("p-0041"));
    EXPECT_THAT(must(store().pieces_with(both.sha256)), ElementsAre("p-0041", "p-0042"));
}

TEST_P(ReadersViewContract, ShowsOfALetterWhosePiecesItHasAndNothingElse) {
    Record letter{
        "letter", "", {{"name", "SECRET"}, {"text", "SECRET"}, {"reply", "SECRET"}, {"pieces", {"p-0042"}}},
        "",       "", 0};
    letter = must(store().put(letter, "SECRET"));
    EXPECT_EQ(must(view->record("letter", letter.id)).body,
              (nlohmann::json{{"text", "A letter."}, {"pieces", {"p-0042"}}}));
    EXPECT_EQ(must(view->records("letter")).front().body, must(view->record("letter", letter.id)).body);
}

TEST_P(ReadersViewContract, ShowsNoKindThatItWasNotToldToShow) {
    for (const RecordKind& kind : kRecordKinds) {
        const Record kept =
            must(store().put(Record{std::string(kind.name), "", {{"note", "SECRET"}}, "", "", 0}, ""));
        if (kind.readers != ReadersSee::kNothing) continue;
        EXPECT_EQ(view->record(kept.kind, kept.id).error().code, ProblemCode::kNotFound) << kind.name;
        EXPECT_THAT(must(view->records(kept.kind)), IsEmpty()) << kind.name;
    }
}

TEST_P(ReadersViewContract, TellsThatSomethingChangedAndNotWhat) {
    EXPECT_EQ(view->history("piece", "p-0041").error().code, ProblemCode::kNotAllowed);
    const auto changes = must(view->recent(10));
    EXPECT_EQ(changes.size(), 3u);
    for (const Change& change : changes) {
        EXPECT_GT(change.id, 0);
        EXPECT_EQ(change.key + change.what + change.who, "");
        EXPECT_TRUE(change.before.is_null() && change.after.is_null());
    }
}

TEST_P(ReadersViewContract, ChangesNothing) {
    const auto before = must(store().recent(1)).front().id;
    const auto no = [](const auto& answer) {
        return !answer.has_value() && answer.error().code == ProblemCode::kNotAllowed;
    };
    EXPECT_TRUE(no(view->put(plate(), "")));
    EXPECT_TRUE(no(view->put_all(std::vector<PieceRecord>(2), "")));
    EXPECT_TRUE(no(view->remove({"p-0041"}, "")));
    EXPECT_TRUE(no(view->put(Lot(), "")));
    EXPECT_TRUE(no(view->remove_lot("lot-barn", "")));
    EXPECT_TRUE(no(view->add_photo(PhotoMeta(), "x", "y")));
    EXPECT_TRUE(no(view->remove_photo("p-0041", "x")));
    EXPECT_TRUE(no(view->correct_photo("p-0041", "x", {}, "")));
    EXPECT_TRUE(no(view->put(Record(), "")));
    EXPECT_TRUE(no(view->put_all(std::vector<Record>(1), "")));
    EXPECT_TRUE(no(view->remove_records("sale", {"sale-0001"}, "")));
    EXPECT_TRUE(no(view->put_reading({}, {})));
    EXPECT_TRUE(no(view->sweep(1)));
    EXPECT_TRUE(no(view->undo(1)));
    EXPECT_TRUE(no(view->signed_by("ada")->put(plate(), "")));
    EXPECT_TRUE(no(view->people().accounts()));
    EXPECT_TRUE(no(view->people().add({})));
    EXPECT_TRUE(no(view->people().noted({})));
    EXPECT_EQ(must(store().recent(1)).front().id, before);
}

}  // namespace
}  // namespace footring::store

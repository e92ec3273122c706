// Records of every kind, whatever database is below: store_contract_test.cpp goes on with pieces, lots,
// photographs. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <chrono>
#include <set>

#include "store/record_json.h"
#include "store/record_kinds.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using nlohmann::json;
using testing::ElementsAre;
using testing::IsEmpty;

class RecordContract : public OnEveryStore {
  protected:
    static Record sale(const std::string& id, json body) { return {"sale", id, std::move(body), "", "", 0}; }
    std::vector<std::string> ids_of(const std::string& kind) {
        std::vector<std::string> out;
        for (const Record& r : must(store().records(kind))) out.push_back(r.id);
        return out;
    }
    std::int64_t newest() { return must(store().last_undoable()).value(); }
};

TEST_P(RecordContract, ReturnsARecordAsItWasPut) {
    Record r = sale("s/1 \"odd\"", {{"price", 24.5}, {"lines", {{{"form", "plate"}}}}, {"note", "Chêne"}});
    const Record put = must(store().put(r, ""));
    EXPECT_EQ(put.created, "2026-03-01T09:30:01Z");
    EXPECT_EQ(put.changed, put.created);
    EXPECT_GT(put.revision, 0);
    r.created = put.created, r.changed = put.changed, r.revision = put.revision;
    EXPECT_EQ(put, r);
    EXPECT_EQ(must(store().record("sale", "s/1 \"odd\"")), r);
    EXPECT_EQ(to_line(store().record("sale", "s").error()),
              "sale s: there is no sale of this id: check the id; the history shows what was removed");
    EXPECT_EQ(store().record("letter", "s/1 \"odd\"").error().code, ProblemCode::kNotFound);
}

TEST_P(RecordContract, KeepsEveryKindApartAndGivesEachItsOwnNumbers) {
    for (const RecordKind& kind : kRecordKinds) {
        Record r;
        r.kind = kind.name;
        r.body = {{"of", kind.name}};
        EXPECT_EQ(must(store().put(r, "")).id, fmt::format("{}0001", kind.prefix));
        EXPECT_EQ(must(store().records(std::string(kind.name))).size(), 1u);
    }
    must(store().put(sale("sale-0007", json::object()), ""));
    const auto two =
        must(store().put_all(std::vector{sale("", json::object()), sale("sale-0008", json::object())}, ""));
    EXPECT_EQ(two[0].id, "sale-0009");  // numbers of ids given by hand are stepped over
    must(store().remove_records("sale", {"sale-0009"}, ""));
    EXPECT_EQ(must(store().put(sale("", json::object()), "")).id, "sale-0010");
}

TEST_P(RecordContract, ListsThemAsAPersonSortsThem) {
    EXPECT_THAT(must(store().records("sale")), IsEmpty());
    for (const char* id : {"sale-10000", "sale-2", "Sale-2", "sale-9999", "b", "A"})
        must(store().put(sale(id, json::object()), ""));
    must(store().put(Record{"letter", "sale-3", json::object(), "", "", 0}, ""));
    EXPECT_THAT(ids_of("sale"), ElementsAre("A", "b", "Sale-2", "sale-2", "sale-9999", "sale-10000"));
}

TEST_P(RecordContract, RefusesWhatIsTakenOrWasChangedOrRemovedInBetween) {
    const Record first = must(store().put(sale("", {{"price", 1}}), ""));
    EXPECT_EQ(to_line(store().put(sale("sale-0001", {{"price", 2}}), "").error()),
              "sale sale-0001: there is a sale of this id already: open that one, or leave the id empty to get the "
              "next free one");
    Record mine = first, yours = first;
    mine.body["price"] = 2;
    yours.body["price"] = 3;
    yours = must(store().put(yours, ""));
    EXPECT_EQ(yours.created, first.created);
    EXPECT_GT(yours.changed, first.changed);
    const auto refused = store().put(mine, "");
    ASSERT_FALSE(refused);
    EXPECT_EQ(refused.error().code, ProblemCode::kConflict);
    EXPECT_EQ(to_line(refused.error()),
              "sale sale-0001: it was changed since you opened it: look at it again and repeat your change");
    must(store().remove_records("sale", {"sale-0001"}, ""));
    EXPECT_EQ(to_line(store().put(yours, "").error()),
              "sale sale-0001: it was removed since you opened it: undo the removal, or add it anew");
    const Record again = must(store().put(sale("sale-0001", {{"price", 4}}), ""));
    EXPECT_GT(again.revision, yours.revision);
}

TEST_P(RecordContract, PutsAllOfThemOrNone) {
    const Record known = must(store().put(sale("", {{"price", 1}}), ""));
    Record stale = known;
    stale.revision += 7;
    stale.body["price"] = 2;
    EXPECT_EQ(store().put_all(std::vector{sale("", {{"price", 9}}), stale}, "").error().code,
              ProblemCode::kConflict);
    EXPECT_THAT(must(store().records("sale")), ElementsAre(known));
    EXPECT_EQ(store().remove_records("sale", {"sale-0001", "sale-0002"}, "").error().code, ProblemCode::kNotFound);
    EXPECT_THAT(must(store().records("sale")), ElementsAre(known));
}

TEST_P(RecordContract, DoesNotCountAPutThatChangesNothing) {
    const Record put = must(store().put(sale("", {{"price", 1}}), ""));
    EXPECT_EQ(must(store().put(put, "again")), put);
    EXPECT_EQ(must(store().recent(10)).size(), 1u);
}

TEST_P(RecordContract, TellsTheHistoryInSentencesMadeFromTheBody) {
    Record r = must(store().put(sale("", {{"hammer_price", 24.5},
                                          {"house", "Harbour"},
                                          {"lines", {{{"form", "cup"}}}},
                                          {"note", ""},
                                          {"seen", true}}),
                                ""));
    r.body["hammer_price"] = 25;
    r.body["lines"].push_back({{"form", "saucer"}});
    r.body["pieces"] = {"p-1", "p-2"};
    r.body["buyer"] = {{"name", "nobody"}};
    r.body["note"] = nullptr;
    r.body.erase("house");
    r = must(store().put(r, ""));
    r.body["pieces"] = json::array();
    r = must(store().put(r, ""));
    r.body["note"] = "";
    r = must(store().put(r, ""));
    must(store().put(r, ""));
    must(store().remove_records("sale", {r.id}, ""));
    EXPECT_THAT(sentences("sale", r.id),
                ElementsAre("Sale removed.", "Changed.", "Pieces: removed.",
                            "Buyer: changed. Hammer price: 25. Lines: 2 entries. Pieces: p-1, p-2. House: removed.",
                            "Sale added. Hammer price: 24.5. House: Harbour. Lines: 1 entry. Seen: yes."));
    const Change added = must(store().history("sale", r.id)).back();
    EXPECT_EQ(added.entity, "sale");
    EXPECT_EQ(added.key, r.id);
    EXPECT_EQ(added.before, nullptr);
    EXPECT_EQ(added.after["body"]["house"], "Harbour");
    EXPECT_EQ(must(store().recent(1))[0].what, "Sale removed.");
    EXPECT_THAT(must(store().history("piece", r.id)), IsEmpty());
    EXPECT_THAT(must(store().history("letter", r.id)), IsEmpty());
}

TEST_P(RecordContract, UndoesAndDoesAgain) {
    const Record first = must(store().put(sale("", {{"price", 1}}), ""));
    Record second = first;
    second.body["price"] = 2;
    second = must(store().put(second, ""));
    must(store().undo(newest()));
    EXPECT_EQ(must(store().record("sale", first.id)).body, first.body);
    const std::int64_t undone = must(store().undo(newest()));
    EXPECT_THAT(ids_of("sale"), IsEmpty());
    must(store().undo(undone));
    EXPECT_EQ(must(store().record("sale", first.id)).body, first.body);
    EXPECT_THAT(sentences("sale", first.id).front(), "Done again: Sale added. Price: 1.");
}

TEST_P(RecordContract, UndoesACallThatTouchedSeveralKindsWhole) {
    must(store().put_all(std::vector<Record>{sale("", {{"price", 1}}), {"letter", "", {{"asked", "?"}}, "", "", 0}},
                         "A letter with its sale."));
    EXPECT_EQ(must(store().recent(10)).size(), 2u);
    must(store().undo(newest()));
    EXPECT_THAT(ids_of("sale"), IsEmpty());
    EXPECT_THAT(ids_of("letter"), IsEmpty());
}

TEST_P(RecordContract, RefusesToUndoOverALaterChange) {
    Record r = must(store().put(sale("", {{"price", 1}}), ""));
    const std::int64_t first = newest();
    r.body["price"] = 2;
    must(store().put(r, ""));
    EXPECT_EQ(to_line(store().undo(first).error()),
              fmt::format("change {}: sale sale-0001 was changed since: Price: 2.: undo the later change first, or "
                          "correct the record by hand",
                          first));
}

TEST_P(RecordContract, SaysWhatIsWrongWithARecordAndStoresNothing) {
    Record r;
    r.kind = "recipe";
    EXPECT_EQ(to_line(store().put(r, "").error()),
              "kind: 'recipe' is no kind of record: use sale, service, composition, letter, mapping or haul");
    EXPECT_EQ(store().records("").error().code, ProblemCode::kBadInput);
    EXPECT_EQ(store().record("piece", "p-1").error().code, ProblemCode::kBadInput);
    EXPECT_EQ(store().remove_records("lot", {"x"}, "").error().code, ProblemCode::kBadInput);
    EXPECT_EQ(to_line(store().put(sale("", json::array()), "").error()),
              "sale: body: it is no JSON object: send an object in braces");
    EXPECT_EQ(store().put(sale("", {{"note", std::string(1024 * 1024, 'x')}}), "").error().code,
              ProblemCode::kTooLarge);
    EXPECT_EQ(
        to_line(store().put_all(std::vector{sale("", json::object()), sale("", {{"note", "\xFF"}})}, "").error()),
        "sale 2 of 2: body: the body holds text that is not UTF-8: send the body as the program gave it");
    json deep = 1;
    for (int i = 0; i < 64; ++i) deep = json{{"in", deep}};
    EXPECT_EQ(must(store().put(sale("deep", deep), "")).body, deep);
    EXPECT_EQ(to_line(store().put(sale("deeper", {{"in", deep}}), "").error()),
              "sale deeper: body: it is nested more than 64 levels deep: make it flatter");
    EXPECT_EQ(store().put(sale(std::string(201, 'x'), json::object()), "").error().code, ProblemCode::kTooLarge);
    EXPECT_THAT(ids_of("sale"), ElementsAre("deep"));
}

TEST_P(RecordContract, NamesNoKindLikeAnotherOrLikeWhatHasTablesOfItsOwn) {
    std::set<std::string_view> names = {"piece", "lot", "photo"}, prefixes = {"p-", "lot-"};
    for (const RecordKind& kind : kRecordKinds) {
        EXPECT_TRUE(names.insert(kind.name).second) << kind.name;
        EXPECT_TRUE(prefixes.insert(kind.prefix).second) << kind.prefix;
        EXPECT_EQ(kind.name.find('/'), std::string_view::npos);
    }
}

INSTANTIATE_TEST_SUITE_P(EveryStore, RecordContract, testing::ValuesIn(every_store()), name_of_store);

}  // namespace
}  // namespace footring::store

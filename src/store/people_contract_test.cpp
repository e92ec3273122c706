// Accounts, sessions and the audit trail, on every store. SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/people.h"
#include "store/test_stores.h"

namespace footring::store {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class PeopleContract : public OnEveryStore {
  protected:
    People& people() { return store().people(); }
    Account add(const std::string& name, Role role) {
        return must(people().add({name, role, "secret of " + name, "", ""}));
    }
    void sign_in(const std::string& digest, const std::string& account,
                 const std::string& ends = "2036-01-01T00:00:00Z") {
        must(people().begin({digest, account, "2026-03-01T09:00:00Z", "2026-03-01T09:00:00Z", ends, "10.0.0.9"}));
    }
    static NotedQuery only(const std::string& who, const std::string& subject = "", int limit = 100,
                           std::int64_t before = 0) {
        NotedQuery query;
        query.who = who;
        query.subject = subject;
        query.limit = limit;
        query.before = before;
        return query;
    }
    std::vector<std::string> told(const NotedQuery& query = NotedQuery()) {
        std::vector<std::string> out;
        for (const Noted& row : must(people().noted(query)))
            out.push_back(row.who + " | " + row.what + " | " + row.subject);
        return out;
    }
};
INSTANTIATE_TEST_SUITE_P(EveryStore, PeopleContract, testing::ValuesIn(every_store()), name_of_store);

TEST_P(PeopleContract, KeepsAccountsByName) {
    add("mia", Role::kReader);
    const Account ada = add("ada", Role::kKeeper);
    EXPECT_FALSE(ada.created.empty());
    EXPECT_EQ(must(people().account("ada")), ada);
    std::vector<std::string> names;
    for (const Account& each : must(people().accounts())) names.push_back(each.name);
    EXPECT_THAT(names, ElementsAre("ada", "mia"));
    EXPECT_EQ(people().account("eve").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(people().add({"ada", Role::kReader, "x", "", ""}).error().code, ProblemCode::kConflict);
}

TEST_P(PeopleContract, TakesOnlyPlainNames) {
    for (const char* name : {"", "Ada", "ada lovelace", "-ada", "../ada", "ada'--", "zo\xC3\xAB"})
        EXPECT_EQ(people().add({name, Role::kReader, "x", "", ""}).error().code, ProblemCode::kBadInput) << name;
    EXPECT_EQ(people().add({std::string(65, 'a'), Role::kReader, "x", "", ""}).error().code,
              ProblemCode::kBadInput);
    EXPECT_TRUE(people().add({"ada.b-c_2", Role::kReader, "x", "", ""}).has_value());
}

TEST_P(PeopleContract, NeverLosesItsLastKeeper) {
    add("ada", Role::kKeeper);
    add("ben", Role::kContributor);
    EXPECT_EQ(people().remove("ada").error().what, "this is the only keeper");
    EXPECT_EQ(people().set_role("ada", Role::kReader).error().code, ProblemCode::kConflict);
    must(people().set_role("ben", Role::kKeeper));
    must(people().remove("ada"));
    EXPECT_EQ(people().remove("ben").error().code, ProblemCode::kConflict);
}

TEST_P(PeopleContract, EndsSessionsWithTheirTimeTheirPasswordAndTheirAccount) {
    add("ada", Role::kKeeper);
    add("ben", Role::kReader);
    sign_in("a1", "ada");
    sign_in("a2", "ada");
    sign_in("b1", "ben");
    EXPECT_EQ(must(people().session("a1"))->account, "ada");
    EXPECT_EQ(must(people().session("a1"))->origin, "10.0.0.9");
    EXPECT_FALSE(must(people().session("a3")));

    must(people().keep_alive("b1", "2026-01-01T00:00:00Z"));  // that is over
    EXPECT_FALSE(must(people().session("b1")));
    EXPECT_THAT(must(people().sessions("ben")), IsEmpty());

    must(people().set_secret("ada", "another", "a2"));
    EXPECT_FALSE(must(people().session("a1")));
    EXPECT_TRUE(must(people().session("a2")));
    EXPECT_EQ(must(people().account("ada")).secret, "another");

    sign_in("b2", "ben");
    must(people().end("b2"));
    must(people().end("b2"));  // twice is harmless
    EXPECT_FALSE(must(people().session("b2")));
    sign_in("b3", "ben");
    sign_in("b4", "ben");
    EXPECT_EQ(must(people().end_all("ben")), 2);
    EXPECT_FALSE(must(people().session("b4")));
    sign_in("b5", "ben");
    must(people().remove("ben"));
    EXPECT_FALSE(must(people().session("b5")));
    EXPECT_EQ(people().begin({"b6", "ben", "", "", "2036-01-01T00:00:00Z", ""}).error().code,
              ProblemCode::kNotFound);
}

TEST_P(PeopleContract, TellsWhoDidWhatToWhichPiece) {
    const auto ada = store().signed_by("ada");
    PieceRecord piece = must(ada->put(plate(), ""));
    piece.note = "from the fair";
    piece = must(ada->put(piece, ""));
    PieceRecord unsigned_one;
    unsigned_one.piece.id = "p-0099";
    must(store().put(unsigned_one, ""));  // by nobody who is known
    must(store().signed_by("ben")->undo(must(store().history("piece", "p-0041")).front().batch));
    std::vector<PieceRecord> both(2);
    must(ada->put_all(both, "Two at once."));

    EXPECT_THAT(told(),
                ElementsAre("ada | Two at once. (and 1 more change) | piece p-0100",
                            "ben | Undone: Note: from the fair. | piece p-0041",
                            "ada | Note: from the fair. | piece p-0041", testing::StartsWith("ada | Added.")));
    EXPECT_THAT(told(only("ben")), ElementsAre("ben | Undone: Note: from the fair. | piece p-0041"));
    EXPECT_EQ(told(only("", "piece p-0041")).size(), 3u);
    EXPECT_EQ(told(only("", "", 2)).size(), 2u);
    const auto second = must(people().noted(only("", "", 2))).back();
    EXPECT_EQ(must(people().noted(only("", "", 100, second.id))).size(), 2u);

    std::vector<std::string> authors;
    for (const Change& change : must(store().history("piece", "p-0041"))) authors.push_back(change.who);
    EXPECT_THAT(authors, ElementsAre("ben", "ada", "ada"));
    EXPECT_EQ(must(store().history("piece", "p-0099")).front().who, "");
    EXPECT_EQ(must(store().recent(1)).front().who, "ada");
}

TEST_P(PeopleContract, WritesNothingDownForAChangeThatDidNotHappen) {
    const auto ada = store().signed_by("ada");
    PieceRecord nowhere = plate();
    nowhere.lot = "lot-none";
    EXPECT_FALSE(ada->put(nowhere, ""));
    const PieceRecord piece = must(ada->put(plate(), ""));
    must(ada->put(piece, ""));  // changes nothing
    EXPECT_EQ(told().size(), 1u);
}

TEST_P(PeopleContract, TellsWhatHappensAtTheDoor) {
    const auto keeper = store().signed_by("ada");
    must(keeper->people().add({"ada", Role::kKeeper, "x", "", ""}));
    must(keeper->people().add({"ben", Role::kReader, "x", "", ""}));
    must(keeper->people().set_role("ben", Role::kContributor));
    must(keeper->people().set_role("ben", Role::kContributor));  // is so already
    sign_in("b1", "ben");
    Noted failed;
    failed.what = "A sign-in failed.";
    failed.subject = "account ben";
    failed.origin = "10.0.0.1";
    must(people().note(failed));
    must(keeper->people().end_all("ben"));
    must(keeper->people().remove("ben"));
    EXPECT_THAT(told(),
                ElementsAre("ada | Account removed. | account ben", "ada | Signed out everywhere. | account ben",
                            " | A sign-in failed. | account ben", "ben | Signed in. | account ben",
                            "ada | Now contributor, before reader. | account ben",
                            "ada | Account added, as reader. | account ben",
                            "ada | Account added, as keeper. | account ada"));
}

}  // namespace
}  // namespace footring::store

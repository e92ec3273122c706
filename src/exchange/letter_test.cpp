// SPDX-License-Identifier: Apache-2.0
#include "exchange/letter.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "store/memory_store.h"
#include "store/test_stores.h"

namespace footring::exchange {
namespace {

using nlohmann::json;
using ::testing::ElementsAre;

TEST(Letter, ComesBackAsItWasWritten) {
    Letter letter{"Carr",         "carr@plates.example", "2026-03",    "a plate", "What is it?", "answered",
                  {"p-1", "p-2"}, "It is ...",           "2026-04-01", true,      "kind"};
    EXPECT_EQ(letter_from_json(to_json(letter), "letter"), letter);
}

TEST(Letter, TellsEveryFaultAtOnce) {
    const auto read = letter_from_json(
        json{{"text", 3}, {"received", "yesterday"}, {"state", "lost"}, {"pieces", {1}}, {"sighting", "yes"}},
        "letter");
    ASSERT_FALSE(read);
    std::vector<std::string> where;
    for (const Problem& problem : read.error()) where.push_back(problem.where);
    EXPECT_THAT(where, ElementsAre("letter: /received", "letter: /text", "letter: /state", "letter: /pieces",
                                   "letter: /sighting", "letter: /text"));
}

TEST(Letter, NamesAPieceOnce) {
    EXPECT_THAT(letter_from_json(json{{"text", "?"}, {"pieces", {"p-1", "p-1"}}}, "letter")->pieces,
                ElementsAre("p-1"));
}

class LettersTest : public ::testing::Test {
  protected:
    void piece(const std::string& id, const std::string& treatment) {
        store::PieceRecord record;
        record.piece.id = id;
        if (!treatment.empty()) record.decision = store::Decision{treatment, "", "", ""};
        store::must(store->put(record, ""));
    }
    void letter(const std::vector<std::string>& pieces, const std::string& state, bool sighting) {
        Letter one;
        one.name = "Carr";
        one.received = "2026-03";
        one.state = state;
        one.sighting = sighting;
        one.pieces = pieces;
        store::Record record;
        record.kind = "letter";
        record.body = to_json(one);
        store::must(store->put(record, ""));
    }
    std::unique_ptr<store::Store> store = store::open_in_memory([] { return "2026-03-01T09:30:00Z"; });
};

TEST_F(LettersTest, TheirPiecesAreNotOnesOwn) {
    piece("p-1", "");
    piece("p-2", "");
    letter({"p-2"}, "new", false);
    EXPECT_THAT(store::must(borrowed(*store)), ElementsAre("p-2"));
    const auto own = store::must(own_pieces(*store));
    ASSERT_EQ(own.size(), 1U);
    EXPECT_EQ(own[0].piece.id, "p-1");
}

TEST_F(LettersTest, BecomeSightingsOnlyWhenAnsweredAgreedToAndDecided) {
    piece("p-1", "demo:t-117");
    piece("p-2", "unlisted");
    piece("p-3", "demo:t-162");
    letter({"p-1", "p-2"}, "answered", true);
    letter({"p-3"}, "new", true);
    letter({"p-3"}, "answered", false);
    const auto found = store::must(sightings(*store));
    ASSERT_EQ(found.size(), 1U);
    EXPECT_EQ(found[0].treatment, "demo:t-117");
    EXPECT_EQ(found[0].seen, "2026-03");
}

}  // namespace
}  // namespace footring::exchange

// SPDX-License-Identifier: Apache-2.0
#include "exchange/reexamine.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "exchange/test_cupboard.h"
#include "store/memory_store.h"

namespace footring::exchange {
namespace {

using nlohmann::json;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

json answer(std::vector<std::pair<std::string, double>> candidates, int median = 1930, double second = 0.2) {
    json out = {{"candidates", json::array()},
                {"open", {{"unlisted", 0.01}, {"elsewhere", 0.01}}},
                {"grade", {{"first", 1 - second}, {"second", second}}},
                {"date", {{"median", median}, {"hpd95", {median - 4, median + 4}}}},
                {"reasons", json::array()},
                {"conflicts", json::array()}};
    for (const auto& [id, p] : candidates)
        out["candidates"].push_back({{"treatment", id}, {"probability", p}, {"twins", json::array()}});
    return out;
}

TEST(CompareAnswers, SaysNothingOfAnswersThatSayTheSame) {
    EXPECT_TRUE(compare_answers(answer({{"t-117", 0.6}, {"t-162", 0.38}}),
                                answer({{"t-117", 0.58}, {"t-162", 0.4}}), "demo:t-117", testing::small_book())
                    .same());
}

TEST(CompareAnswers, TellsWhatChangedInSentences) {
    const Shifted shifted =
        compare_answers(answer({{"t-117", 0.6}, {"t-162", 0.38}}),
                        answer({{"t-117", 0.2}, {"t-162", 0.78}}, 1934, 0.8), "demo:t-117", testing::small_book());
    EXPECT_THAT(shifted.what,
                ElementsAre("The likeliest was 117 (t-117) (60 %) and is 162 (t-162) (78 %).",
                            "What was decided, 117 (demo:t-117), had 60 % and has 20 %.",
                            "The chance of a second was 20 % and is 80 %.",
                            "It was dated about 1930 (1926 to 1934) and is about 1934 (1930 to 1938)."));
}

TEST(CompareAnswers, DoesNotTellTwinsApart) {
    json before = answer({{"t-117", 0.49}, {"t-162", 0.49}}), after = answer({{"t-162", 0.49}, {"t-117", 0.49}});
    after["candidates"][0]["twins"] = {"t-117"};
    EXPECT_TRUE(compare_answers(before, after, "t-117", testing::small_book()).same());
}

TEST(CompareAnswers, GivesTheLooksWhoseWeightMovedWithWhatTheyLeanOn) {
    json before = answer({{"t-117", 0.9}}), after = answer({{"t-117", 0.4}, {"t-999", 0.5}});
    before["reasons"] = {{{"look", "rim"}, {"value", "fern-pair"}, {"decibans", 12.4}, {"sources", {"s-1"}}},
                         {{"look", "glaze"}, {"value", "oat"}, {"decibans", 3.0}}};
    after["reasons"] = {{{"look", "rim"},
                         {"value", "fern-pair"},
                         {"decibans", 2.0},
                         {"sources", {"s-2"}},
                         {"rows", {"treatment_ornaments.csv:31"}}},
                        {{"look", "glaze"}, {"value", "oat"}, {"decibans", 3.4}}};
    const Shifted shifted = compare_answers(before, after, "t-117", testing::small_book());
    ASSERT_EQ(shifted.why.size(), 1u);
    EXPECT_EQ(shifted.why[0].look, "rim");
    EXPECT_EQ(shifted.why[0].before, 12.4);
    EXPECT_EQ(shifted.why[0].after, 2.0);
    EXPECT_THAT(shifted.why[0].rows, ElementsAre("treatment_ornaments.csv:31"));
    EXPECT_THAT(shifted.why[0].sources, ElementsAre("s-2"));
    EXPECT_THAT(shifted.notes, ElementsAre("t-999 was not among the candidates."));
}

TEST(CompareAnswers, SurvivesAnAnswerOfAnotherShape) {
    EXPECT_NO_THROW(compare_answers(json::array(), json{{"candidates", 7}}, "t-117", testing::small_book()));
}

struct Decided : ::testing::Test {
    std::unique_ptr<store::Store> store = store::open_in_memory([] { return std::string("2026-03-01T09:30:00Z"); });
    book::Book book = testing::small_book();
    void keep(const std::string& id, const std::string& packs, json said) {
        store::PieceRecord record;
        record.piece.id = id;
        record.decision = store::Decision{"demo:t-117", "", "", ""};
        record.attribution = store::Attribution{std::move(said), packs, "2026-01-01T00:00:00Z"};
        ASSERT_TRUE(store->put(record, ""));
    }
};

TEST_F(Decided, ListsThePiecesWhoseAnswersChangedAndNoOther) {
    keep("p-1", "old", answer({{"t-117", 0.9}}));
    keep("p-2", "old", answer({{"t-117", 0.3}, {"t-162", 0.6}}));
    keep("p-3", "new", answer({{"t-162", 0.9}}));
    store::PieceRecord undecided;
    undecided.piece.id = "p-4";
    ASSERT_TRUE(store->put(undecided, ""));
    const auto done = reexamine(
        *store, book, "new",
        [](const looks::Piece&) {
            return answer({{"t-117", 0.9}});
        },
        {}, [](int, int, const Reexamined*) { return true; });
    ASSERT_TRUE(done);
    EXPECT_EQ(done->seen, 4);
    EXPECT_EQ(done->unknown, 1) << "of p-4 nothing was said before";
    EXPECT_EQ(done->up_to_date, 1);
    EXPECT_EQ(done->same, 1);
    ASSERT_EQ(done->changed.size(), 1u);
    EXPECT_EQ(done->changed[0].record.piece.id, "p-2");
}

TEST_F(Decided, ComparesUndecidedPiecesWithThePacksAsTheyWere) {
    for (const char* id : {"p-1", "p-2"}) {
        store::PieceRecord record;
        record.piece.id = id;
        record.piece.form = id == std::string("p-1") ? "plate" : "sugar";
        ASSERT_TRUE(store->put(record, ""));
    }
    const auto done = reexamine(
        *store, book, "new",
        [](const looks::Piece& piece) {
            return answer({{"t-117", piece.form == "plate" ? 0.9 : 0.5}, {"t-162", 0.05}});
        },
        [](const looks::Piece&) {
            return answer({{"t-117", 0.5}, {"t-162", 0.45}});
        },
        [](int, int, const Reexamined*) { return true; });
    ASSERT_TRUE(done);
    EXPECT_EQ(done->same, 1);
    ASSERT_EQ(done->changed.size(), 1u);
    EXPECT_EQ(done->changed[0].record.piece.id, "p-1");
    EXPECT_THAT(done->changed[0].shifted.what, ElementsAre("The likeliest, 117 (t-117), had 50 % and has 90 %."));
    const auto told = reexamined_json(done->changed[0]);
    EXPECT_TRUE(told["decision"].is_null());
    EXPECT_EQ(told["before"]["candidates"][0]["probability"], 0.5);
}

TEST(CompareAnswers, DoesNotCallAShiftOfAFewHundredthsAnother) {
    EXPECT_TRUE(compare_answers(answer({{"t-117", 0.49}, {"t-162", 0.48}}),
                                answer({{"t-117", 0.48}, {"t-162", 0.49}}), "", testing::small_book())
                    .same());
}

TEST_F(Decided, ListsAPieceThatCannotBeExaminedAnyMore) {
    keep("p-1", "old", answer({{"t-117", 0.9}}));
    const auto done = reexamine(
        *store, book, "new",
        [](const looks::Piece&) -> std::expected<json, std::vector<Problem>> {
            return std::unexpected(std::vector<Problem>{{ProblemCode::kBadInput, "piece", "no shape 'x'", "y"}});
        },
        {}, [](int, int, const Reexamined*) { return true; });
    ASSERT_EQ(done->changed.size(), 1u);
    EXPECT_THAT(done->changed[0].shifted.what, ElementsAre("It cannot be examined with the packs that are open."));
    EXPECT_EQ(done->changed[0].problems[0].what, "no shape 'x'");
}

TEST_F(Decided, StopsWhenItIsTold) {
    for (const char* id : {"p-1", "p-2", "p-3"}) keep(id, "old", answer({{"t-162", 0.9}}));
    const auto done = reexamine(
        *store, book, "new",
        [](const looks::Piece&) {
            return answer({{"t-117", 0.9}});
        },
        {}, [](int seen, int, const Reexamined*) { return seen < 2; });
    EXPECT_TRUE(done->stopped);
    EXPECT_EQ(done->seen, 2);
    EXPECT_EQ(done->changed.size(), 2u);
}

}  // namespace
}  // namespace footring::exchange

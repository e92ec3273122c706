// What every store must find, count and sort, whatever database is below.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <set>

#include "store/test_stores.h"

namespace footring::store {
namespace {

using looks::Seen;
using looks::Sure;
using testing::ElementsAre;
using testing::IsEmpty;

class FindContract : public OnEveryStore {};

TEST_P(FindContract, FindsByEveryWordThatItPromises) {
    lot("lot-a", "Harbour auction");
    PieceRecord r = plate();
    r.piece.mark = Seen{"m-3", Sure::kSure};
    r.lot = "lot-a";
    r.place = "Top shelf, left";
    r.note =
        "Cr\xC3\xA8me br\xC3\xBBl\xC3\xA9"
        "e \xC3\x86neas STRASSE Stra\xC3\x9F"
        "enbahn";
    r.decision = Decision{"demo:t-117", "first", "", "asked at the museum"};
    r.search_words = "H-1020 Oat Fern Special";
    must(store().put(r, ""));
    PieceRecord other;
    other.piece.form = "bowl";
    must(store().put(other, ""));
    for (const char* text : {"p-0041",
                             "P0041",
                             "plate",
                             "harrow",
                             "oat",
                             "fern-pair",
                             "fern",
                             "pair",
                             "FERN-P",
                             "1?7",
                             "m-3",
                             "lot-a",
                             "harbour",
                             "auct",
                             "shelf",
                             "top left",
                             "creme",
                             "CR\xC3\x88ME",
                             "cr\xC3\xA8me brulee",
                             "aeneas",
                             "strassenb",
                             "t-117",
                             "demo:t-117",
                             "demo",
                             "117",
                             "h-1020",
                             "1020",
                             "special",
                             "museum",
                             "fern harbour plate",
                             "",
                             "  plate  ",
                             "plate,",
                             "'plate'",
                             "*"})
        EXPECT_THAT(found(text), testing::Contains("p-0041")) << text;
    for (const char* text : {"41", "fern bowl", "airs", "something", "none", "plate zzz", "lates", "020"})
        EXPECT_THAT(found(text), testing::Not(testing::Contains("p-0041"))) << text;
}

// As one types: the same rows, however they were found, and never more of them counted than there are.
TEST_P(FindContract, GivesTheSameRowsWithoutCountingAll) {
    constexpr int kMany = 4500;  // more than are looked at one after another
    std::vector<PieceRecord> records(kMany);
    for (int i = 0; i < kMany; ++i) {
        PieceRecord& r = records[static_cast<std::size_t>(i)];
        r.piece.form = i % 3 == 0 ? "plate" : "saucer";
        r.is_private = i % 5 == 0;
        r.note = fmt::format("all{}{}{}", i % 2 == 0 ? " even" : " evening", i < 12 ? " old" : "",
                             i % 900 == 7 ? " seldom"
                             : i < 30     ? " event"
                                          : "");
    }
    records = must(store().put_all(std::move(records), ""));
    const auto compare = [&](const std::string& when) {
        for (const char* text : {"a", "all", "even", "old", "seldom", "plate", "even plate", "old even", "absent",
                                 "p", "evening", "event", "event plate", "evening saucer", "evenly"}) {
            for (const Query::Sort sort : {Query::Sort::kChanged, Query::Sort::kForm}) {
                for (const int offset : {0, 5, 40}) {
                    Query query;
                    query.text = text;
                    query.sort = sort;
                    query.descending = sort == Query::Sort::kChanged;
                    query.limit = 20;
                    query.offset = offset;
                    query.sight = offset == 5 ? Sight::kReaders : Sight::kAll;
                    const Page whole = must(store().find(query));
                    query.counted = false;
                    const Page quick = must(store().find(query));
                    EXPECT_EQ(quick.rows, whole.rows) << when << ": " << text << " from " << offset;
                    if (quick.more) EXPECT_LT(quick.total, whole.total) << when << ": " << text;
                    else EXPECT_EQ(quick.total, whole.total) << when << ": " << text;
                }
            }
        }
    };
    compare("as they were added");
    for (const std::size_t i : {3u, 7u, 1807u, 4400u}) {
        records[i].note += " touched";
        records[i] = must(store().put(records[i], ""));
    }
    compare("after some were changed");
    for (std::size_t i = 0; i < 3400; ++i) records[i].note += " again";
    must(store().put_all(records, ""));
    compare("after most were changed");
}

TEST_P(FindContract, TakesHostileSearchTextAsWords) {
    must(store().put(plate(), ""));
    for (const char* text : {"\"",
                             "plate\"",
                             "\"plate",
                             "plate\" OR \"bowl",
                             "plate*",
                             "*",
                             "NEAR(plate oat)",
                             "plate AND",
                             "NOT plate",
                             "OR",
                             "words:plate",
                             "{words}:plate",
                             "^plate",
                             "plate - oat",
                             "(plate",
                             "plate)",
                             "'; DROP TABLE piece; --",
                             "\\",
                             "%",
                             "_",
                             "plate\xF0\x9F\x8D\xBD",
                             "\xE2\x80\x9Cplate\xE2\x80\x9D",
                             ":words",
                             "?1"}) {
        Query q;
        q.text = text;
        EXPECT_TRUE(store().find(q).has_value()) << text;
    }
    EXPECT_THAT(found("plate\" OR \"bowl"), IsEmpty());  // three words, and 'or' does not occur
    EXPECT_THAT(found("(plate"), ElementsAre("p-0041"));
    Query q;
    q.text = "plate\xFF";
    EXPECT_EQ(store().find(q).error().code, ProblemCode::kBadInput);
    q.text.clear();
    for (int i = 0; i < 5000; ++i) q.text += "word" + std::to_string(i) + " ";
    EXPECT_TRUE(store().find(q).has_value());
}

TEST_P(FindContract, FindsAPieceByItsNewWordsOnly) {
    PieceRecord r = plate();
    r.note = "speckled";
    r = must(store().put(r, ""));
    r.note = "crazed";
    must(store().put(r, ""));
    EXPECT_THAT(found("speckled"), IsEmpty());
    EXPECT_THAT(found("crazed"), ElementsAre("p-0041"));
    must(store().remove({"p-0041"}, ""));
    EXPECT_THAT(found("crazed"), IsEmpty());
}

TEST_P(FindContract, FindsAndSortsByTheNewNameOfALot) {
    Lot a = lot("lot-a", "Zebra fair");
    lot("lot-b", "Meadow sale");
    PieceRecord r = plate();
    r.lot = "lot-a";
    must(store().put(r, ""));
    r.piece.id = "p-0042";
    r.lot = "lot-b";
    must(store().put(r, ""));
    Query q;
    q.sort = Query::Sort::kLot;
    q.descending = false;
    EXPECT_THAT(found(q), ElementsAre("p-0042", "p-0041"));
    a.name = "Autumn fair";
    a = must(store().put(a, ""));
    EXPECT_THAT(found(q), ElementsAre("p-0041", "p-0042"));
    EXPECT_THAT(found("zebra"), IsEmpty());
    EXPECT_THAT(found("autumn"), ElementsAre("p-0041"));
    must(store().undo(must(store().last_undoable()).value()));
    EXPECT_THAT(found("zebra"), ElementsAre("p-0041"));
    EXPECT_EQ(must(store().history("piece", "p-0041")).size(), 1u);  // the piece itself did not change
}

TEST_P(FindContract, FiltersByEachField) {
    lot("lot-a", "Barn");
    PieceRecord a = plate(), b;
    a.piece.id = "a";
    a.lot = "lot-a";
    a.place = "shelf";
    a.decision = Decision{"demo:t-117", "first", "", ""};
    b.piece.id = "b";
    b.piece.form = "bowl";
    must(store().put_all({a, b}, ""));
    const auto only_a = [&](auto set) {
        Query q;
        set(q);
        EXPECT_THAT(found(q), ElementsAre("a"));
    };
    only_a([](Query& q) { q.form = "plate"; });
    only_a([](Query& q) { q.shape = "harrow"; });
    only_a([](Query& q) { q.lot = "lot-a"; });
    only_a([](Query& q) { q.place = "shelf"; });
    only_a([](Query& q) { q.treatment = "demo:t-117"; });
    only_a([](Query& q) { q.grade = "first"; });
    only_a([](Query& q) { q.decided = true; });
    only_a([](Query& q) { q.text = "fern", q.form = "plate", q.decided = true; });
    Query q;
    q.decided = false;
    EXPECT_THAT(found(q), ElementsAre("b"));
    q.form = "plate";
    EXPECT_THAT(found(q), IsEmpty());
}

TEST_P(FindContract, SortsNumbersAsAPersonDoesAndNothingLast) {
    std::vector<PieceRecord> all;
    for (const char* number : {"117", "", "9", "H-20", "H-3", "none"}) {
        PieceRecord r;
        r.piece.id = std::string("n") + number;
        if (*number != '\0') r.piece.number = Seen{number, Sure::kSure};
        all.push_back(r);
    }
    must(store().put_all(all, ""));
    Query q;
    q.sort = Query::Sort::kNumber;
    q.descending = false;
    EXPECT_THAT(ids(q), ElementsAre("n9", "n117", "nH-3", "nH-20", "n", "nnone"));
    q.descending = true;
    EXPECT_THAT(ids(q), ElementsAre("nnone", "n", "nH-20", "nH-3", "n117", "n9"));
}

TEST_P(FindContract, ShowsTheNewestChangeFirstAndPagesWithoutGapsOrRepeats) {
    std::vector<PieceRecord> all(25);
    must(store().put_all(all, ""));
    PieceRecord third = must(store().piece("p-0003"));
    third.note = "touched";
    must(store().put(third, ""));
    EXPECT_EQ(ids({}).front(), "p-0003");
    for (const auto sort : {Query::Sort::kChanged, Query::Sort::kForm, Query::Sort::kId, Query::Sort::kPlace}) {
        std::set<std::string> seen;
        Query q;
        q.sort = sort;
        q.limit = 10;
        for (; q.offset < 30; q.offset += 10)
            for (const std::string& id : ids(q)) EXPECT_TRUE(seen.insert(id).second) << id;
        EXPECT_EQ(seen.size(), 25u);
    }
    Query q;
    q.limit = 0;
    EXPECT_EQ(must(store().find(q)).total, 25);
    EXPECT_THAT(must(store().find(q)).rows, IsEmpty());
    q.limit = -1;
    EXPECT_EQ(to_line(store().find(q).error()),
              "query: limit and offset are numbers from 0 on: leave them out for the first hundred");
}

TEST_P(FindContract, CountsTheValuesThatOccur) {
    lot("lot-a", "Barn");
    PieceRecord a = plate(), b = plate(), c;
    a.piece.id = "a";
    a.lot = "lot-a";
    b.piece.id = "b";
    b.decision = Decision{"demo:t-117", "second", "", ""};
    c.piece.id = "c";
    c.piece.form = "bowl";
    c.place = "shelf";
    c.decision = Decision{"unlisted", "", "", ""};
    must(store().put_all({a, b, c}, ""));
    EXPECT_THAT(must(store().facets()),
                ElementsAre(Facet{"form", "plate", 2}, Facet{"form", "bowl", 1}, Facet{"shape", "harrow", 2},
                            Facet{"lot", "lot-a", 1}, Facet{"place", "shelf", 1},
                            Facet{"treatment", "demo:t-117", 1}, Facet{"treatment", "unlisted", 1},
                            Facet{"grade", "second", 1}, Facet{"decided", "yes", 2}, Facet{"decided", "no", 1}));
    EXPECT_THAT(must(store().counts()), ElementsAre(std::pair<std::string, std::int64_t>{"demo:t-117", 1}));
}

INSTANTIATE_TEST_SUITE_P(EveryStore, FindContract, testing::ValuesIn(every_store()), name_of_store);

}  // namespace
}  // namespace footring::store

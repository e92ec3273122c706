// SPDX-License-Identifier: Apache-2.0
#include "dating/chronology.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "book/pack.h"
#include "book/pack_text.h"
#include "naming/examine.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

// A stamp on two shapes of one maker and on one of another, with every kind of end.
const book::Book& small() {
    static const book::Book book = book::book_from_tables(
        {{"makers", "id,name,years\nmill,Mill Pottery,1900/1950\nbank,Bank Works,\n"},
         {"shapes",
          "id,maker,name,years\nharrow,mill,Harrow,1924/1949\nweir,mill,Weir,1910~/1930?\nosier,bank,Osier,\n"},
         {"forms", "id,ware\nplate,flat\nsugar,hollow\n"},
         {"glazes", "id,maker,name,lab_l,lab_a,lab_b,years\noat,mill,Oat,88,1,9,1929/\nchalk,mill,Chalk,,,,\n"},
         {"ornaments", "id,name,kind,finish,years\nfern,Fern,stamp,gold,1880~/1956\nline,Line,line,gold,\n"},
         {"sources", "id,title,trust\ns-1,Catalogue,0.9\ns-2,Letter,\n"},
         {"treatments",
          "id,shape,glaze,number,name,grade,years,source\n"
          "t-3,harrow,oat,103,Third,any,1934/..,s-1\n"
          "t-1,harrow,oat,101,First,first,1931/1940,s-1\n"
          "t-2,harrow,oat,102,,any,,\n"
          "t-9,weir,chalk,9,,any,1912?/1920~,\n"
          "t-o,osier,,7,,any,../1899,\n"
          "t-x,harrow,oat,150,Bare,any,1930,\n"},
         {"treatment_ornaments",
          "treatment,place,ornament,on,share\nt-3,rim,fern,*,1\nt-3,centre,fern,flat,1\nt-1,rim,fern,*,1\n"
          "t-2,rim,fern,*,1\nt-9,verge,fern,*,0.5\nt-o,rim,fern,*,1\nt-x,rim,fern,hollow,0\nt-x,rim,line,*,1\n"},
         {"dated_uses",
          "subject,date,kind,source\nt-1,1935,catalogue,s-1\nfern,1913~,letter,s-2\n"
          "harrow,1926,catalogue,s-1\nt-x,1930,find,\n"}});
    return book;
}
Chronology of(std::string_view what, std::vector<ChronologyPiece> pieces = {}) {
    return chronology(small(), *chronology_of(small(), what, "of"), std::move(pieces), Settings{});
}
std::string words(const SoftSpan& s) {
    return fmt::format("{}({}-{}){}", s.soft_first, s.first, s.last, s.soft_last);
}
std::vector<std::string> bars(const Chronology& c) {
    std::vector<std::string> out;
    for (const Lane& lane : c.lanes)
        for (const Bar& bar : lane.bars)
            out.push_back(fmt::format("{} {} {}{}", small()[lane.shape].id, small()[bar.treatment].id,
                                      words(bar.span), bar.stated ? "" : " worked out"));
    return out;
}
SoftSpan span_of(const char* date) { return soft_span(*edtf::parse(date), {1900, 1950}, Settings{}); }

TEST(Chronology, OfAnOrnamentHasALaneForEachShapeThatBearsItAndNoOther) {
    EXPECT_THAT(bars(of("ornament:fern")),
                ElementsAre("osier t-o 1870(1870-1899)1899", "weir t-9 1907(1912-1920)1923",
                            "harrow t-1 1931(1931-1940)1940", "harrow t-2 1929(1929-1949)1949 worked out",
                            "harrow t-3 1934(1934-1950)1950"));
}

TEST(Chronology, TellsWhereOnAPieceTheOrnamentSits) {
    const Chronology c = of("ornament:fern");
    EXPECT_THAT(c.lanes[2].bars[2].places, ElementsAre(book::Place::kRim, book::Place::kCentre));
    EXPECT_THAT(c.lanes[1].bars[0].places, ElementsAre(book::Place::kVerge));
}

TEST(Chronology, OfAMakerHasItsShapesEvenWithoutATreatment) {
    const Chronology c = of("maker:bank");
    ASSERT_EQ(c.lanes.size(), 1u);
    EXPECT_FALSE(c.lanes[0].span);
    EXPECT_EQ(c.title, "Bank Works and its shapes");
}

TEST(Chronology, ClipsOpenEndsToTheMakersYearsAndElseToThoseConsidered) {
    EXPECT_EQ(words(span_of("1934/..")), "1934(1934-1950)1950");
    EXPECT_EQ(words(span_of("../1934~")), "1900(1900-1934)1937");
    EXPECT_EQ(words(span_of("1960/..")), "1960(1960-1960)1960");
    EXPECT_EQ(words(span_of("../1890")), "1890(1890-1890)1890");
    EXPECT_EQ(words(span_of("1912?/1920~")), "1907(1912-1920)1923");
    EXPECT_EQ(words(span_of("193X")), "1927(1930-1939)1942");
}

TEST(Chronology, HasTheDatedUsesOfWhatIsShownEachInItsLane) {
    const auto ticks = [](const Chronology& c) {
        std::vector<std::string> out;
        for (const Tick& t : c.ticks)
            out.push_back(fmt::format("{} {} {}", small().dated_uses[t.use].date.text(),
                                      t.lane ? small()[*t.lane].id : "-",
                                      t.treatment ? small()[*t.treatment].id : "-"));
        return out;
    };
    EXPECT_THAT(ticks(of("ornament:fern")), ElementsAre("1913~ - -", "1935 harrow t-1"));
    EXPECT_THAT(ticks(of("shape:harrow")), ElementsAre("1926 harrow -", "1930 harrow t-x", "1935 harrow t-1"));
}

TEST(Chronology, NumbersRunThroughTheDatedOnesAndGiveTheUndatedAYear) {
    const Chronology c = of("shape:harrow");
    std::vector<std::string> got;
    for (const NumberPoint& n : c.numbers)
        got.push_back(fmt::format("{} {} {:.1f}", n.number, n.dated ? "dated" : "undated", n.year));
    // 101 in 1931, 103 in 1934, 150 in 1930: the last two are pooled at 1932.
    EXPECT_THAT(got, ElementsAre("101 dated 1931.0", "102 undated 1931.5", "103 dated 1934.0", "150 dated 1930.0"));
    EXPECT_LE(c.numbers[1].low, c.numbers[1].year);
    EXPECT_GE(c.numbers[1].high, c.numbers[1].year);
}

TEST(Chronology, HoldsAllThatItShows) {
    const Chronology c = of("ornament:fern");
    EXPECT_EQ(c.first, 1870);
    EXPECT_EQ(c.last, 1956);  // the ornament itself
    EXPECT_EQ(of("maker:bank").first, 1870);
}

ChronologyPiece piece(std::string id) {
    ChronologyPiece out;
    out.id = std::move(id);
    out.median = 1930;
    out.hpd68 = {1928, 1932};
    out.hpd95 = {1925, 1940};
    return out;
}

TEST(Chronology, ShowsThePiecesThatHaveToDoWithIt) {
    ChronologyPiece by_treatment = piece("a"), by_look = piece("b"), by_shape = piece("c");
    by_treatment.treatment = book::Ref<book::Treatment>{1};
    by_look.ornaments = {{0}};
    by_shape.lane = book::Ref<book::Shape>{0};
    const std::vector<ChronologyPiece> all = {by_treatment, by_look, by_shape, piece("d")};
    const auto ids = [&](std::string_view what) {
        std::vector<std::string> out;
        for (const ChronologyPiece& p : of(what, all).pieces) out.push_back(p.id);
        return out;
    };
    EXPECT_THAT(ids("ornament:fern"), ElementsAre("a", "b"));
    EXPECT_THAT(ids("shape:harrow"), ElementsAre("a", "c"));
    EXPECT_THAT(ids("treatment:t-x"), IsEmpty());
    EXPECT_THAT(ids("cupboard"), ElementsAre("a", "b", "c", "d"));
}

TEST(Chronology, SaysHowManyPiecesItLeavesOut) {
    std::vector<ChronologyPiece> many(kMostPieces + 3, piece("p"));
    const Chronology c = of("cupboard", many);
    EXPECT_EQ(c.pieces.size(), kMostPieces);
    EXPECT_THAT(c.notes, ElementsAre("3 more pieces belong here and are not shown.",
                                     "No piece here is decided, or likelier than not of one treatment."));
}

TEST(Chronology, RefusesWhatHasNoYears) {
    const auto told = [](std::string_view what) {
        const auto read = chronology_of(small(), what, "of");
        return read ? "read" : to_line(read.error());
    };
    EXPECT_EQ(told("form:plate"),
              "of: 'form:plate' names nothing that has years: write ornament:ID, shape:ID, maker:ID, glaze:ID, "
              "treatment:ID, lot:ID or cupboard");
    EXPECT_EQ(told("ornament:"),
              "of: 'ornament:' names nothing that has years: write ornament:ID, shape:ID, maker:ID, glaze:ID, "
              "treatment:ID, lot:ID or cupboard");
    EXPECT_EQ(chronology_of(small(), "shape:harow", "of").error().code, ProblemCode::kNotFound);
    EXPECT_EQ(told("cupboard"), "read");
}

TEST(ChronologyPiece, StandsWhereItWasDecidedElseWhereItIsLikelierThanNot) {
    static const book::Book demo = *book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    std::vector<std::string> notes;
    const auto read = looks::piece_from_json(
        std::string_view(
            R"({"id":"p","form":"sugar","glaze":{"value":"oat"},"looks":[{"place":"rim","value":"fern-pair"}]})"),
        "piece", notes);
    const Settings settings;
    const auto findings = *looks::resolve(*read, demo, settings, "piece");
    const auto answer = naming::examine(naming::FormView(demo, findings.form, settings), findings, {});
    const ChronologyPiece undecided = place_piece(demo, "p", findings, answer, std::nullopt, settings);
    EXPECT_FALSE(undecided.decided);
    EXPECT_EQ(undecided.median, answer.date.median);
    EXPECT_EQ(undecided.ornaments.size(), 1u);
    const auto treatment = *book::find<book::Treatment>(demo, "t-201", "");
    const ChronologyPiece decided =
        place_piece(demo, "p", findings, answer, DecidedAs{treatment, "1912/1914"}, settings);
    EXPECT_EQ(decided.treatment, treatment);
    EXPECT_EQ(demo[*decided.lane].id, "coulter");
    EXPECT_EQ(decided.hpd95, std::pair(1912, 1914));
}

// 5,000 treatments of 20 shapes, every second one dated. How long that takes is measured in bench/.
TEST(Chronology, HoldsFiveThousandBars) {
    std::string shapes = "id,maker,years\n", treatments = "id,shape,number,years\n",
                rows = "treatment,place,ornament,on\n";
    for (int s = 0; s < 20; ++s) shapes += fmt::format("s{},m,{}/{}\n", s, 1900 + s, 1940 + s);
    for (int t = 0; t < 5000; ++t) {
        treatments += fmt::format("t{},s{},{},{}\n", t, t % 20, t / 20,
                                  t / 20 % 2 == 0 ? fmt::format("{}/1940", 1900 + t % 20 + t / 250) : "");
        rows += fmt::format("t{},rim,fern,*\n", t);
    }
    const book::Book book = book::book_from_tables({{"makers", "id,years\nm,1890/1970\n"},
                                                    {"shapes", shapes},
                                                    {"ornaments", "id,kind,finish\nfern,stamp,gold\n"},
                                                    {"treatments", treatments},
                                                    {"treatment_ornaments", rows}});
    const Chronology c = chronology(book, *chronology_of(book, "ornament:fern", "of"), {}, Settings{});
    EXPECT_EQ(c.lanes.size(), 20u);
    EXPECT_EQ(c.numbers.size(), 5000u);
}

}  // namespace
}  // namespace footring::dating

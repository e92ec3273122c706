// SPDX-License-Identifier: Apache-2.0
#include "dating/piece_years.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>

#include "book/pack.h"
#include "book/pack_text.h"
#include "naming/examine.h"

namespace footring::dating {
namespace {

struct Demo {
    book::Book book = *book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"});
    Settings settings;

    looks::Findings findings(const char* piece) const {
        std::vector<std::string> notes;
        return *looks::resolve(*looks::piece_from_json(std::string_view(piece), "piece", notes), book, settings,
                               "piece");
    }
    naming::Answer answer(const looks::Findings& f) const {
        return naming::examine(naming::FormView(book, f.form, settings), f, {false, false, false});
    }
};
const Demo& demo() {
    static const Demo kDemo;
    return kDemo;
}
double mass(const naming::DateAnswer& d, int first, int last) {
    double sum = 0;
    for (std::size_t i = 0; i < d.by_year.size(); ++i) {
        const int year = d.first_year + static_cast<int>(i);
        if (year >= first && year <= last) sum += d.by_year[i];
    }
    return sum;
}
constexpr const char* kSugar = R"({"id":"p","form":"sugar","shape":{"value":"harrow","sure":"sure"},
    "glaze":{"value":"oat","sure":"sure"},"looks":[{"place":"rim","value":"fern-pair","sure":"sure"}]})";

TEST(PieceYears, AgreeWithNamingWhereEverySourceIsTrustedAndNothingElseIsKnown) {
    Demo trusted;
    for (book::Source& source : trusted.book.sources) source.trust = 1;
    trusted.book.dated_uses.clear();
    const auto f = trusted.findings(kSugar);
    naming::Answer answer = trusted.answer(f);
    const auto dated = date_piece(trusted.book, f, answer, {}, trusted.settings);
    ASSERT_TRUE(dated) << to_line(dated.error());
    EXPECT_NEAR(dated->date.median, answer.date.median, 2);
    EXPECT_NEAR(mass(dated->date, answer.date.hpd95.first, answer.date.hpd95.second), 0.95, 0.04);
    EXPECT_NEAR(std::accumulate(dated->date.by_year.begin(), dated->date.by_year.end(), 0.0), 1, 1e-12);
}

TEST(PieceYears, MoveToWhereAFurtherStatementPoints) {
    const auto f = demo().findings(kSugar);
    const auto answer = demo().answer(f);
    const auto before = date_piece(demo().book, f, answer, {}, demo().settings);
    const YearRange range = range_of(answer);
    YearStatement clue{.subject = "wording",
                       .what = "after 1940",
                       .agrees = agrees_with(*edtf::parse("1940/"), range.first, range.last, demo().settings),
                       .trust = 0.95,
                       .sources = {},
                       .row = ""};
    const auto after = date_piece(demo().book, f, answer, {clue}, demo().settings);
    ASSERT_TRUE(before && after);
    EXPECT_LT(mass(before->date, 1940, 1990), 0.5);
    EXPECT_GT(mass(after->date, 1940, 1990), mass(before->date, 1940, 1990) + 0.3);
    EXPECT_EQ(after->statements.back().subject, "wording");
    EXPECT_GT(after->together.heard.back().cut_before, 0.3);
}

TEST(PieceYears, NameTheStatementsThatCannotAllHold) {
    const auto f = demo().findings(kSugar);
    const auto answer = demo().answer(f);
    const YearRange range = range_of(answer);
    YearStatement late{.subject = "wording",
                       .what = "after 1970",
                       .agrees = agrees_with(*edtf::parse("1970/"), range.first, range.last, demo().settings),
                       .trust = 0.5,
                       .sources = {},
                       .row = ""};
    const auto dated = date_piece(demo().book, f, answer, {late}, demo().settings);
    ASSERT_TRUE(dated);
    ASSERT_FALSE(dated->together.contradictions.smallest.empty());
    for (const auto& set : dated->together.contradictions.smallest)
        EXPECT_EQ(set.back(), dated->statements.size() - 1) << "without the wording everything holds";
    EXPECT_THAT(dated->together.contradictions.frees, testing::Contains(dated->statements.size() - 1));

    late.trust = 1;
    YearStatement early = late;
    early.what = "before 1930";
    early.agrees = agrees_with(*edtf::parse("/1930"), range.first, range.last, demo().settings);
    const auto none = date_piece(demo().book, f, answer, {late, early}, demo().settings);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, ProblemCode::kBadInput);
}

TEST(PieceYears, OfAPieceOfWhichNothingIsKnownAreTheYearsOfItsTreatments) {
    const auto f = demo().findings(R"({"id":"p"})");
    const auto dated = date_piece(demo().book, f, demo().answer(f), {}, demo().settings);
    ASSERT_TRUE(dated);
    double sum = 0;
    for (const auto& h : dated->hypotheses) sum += h.probability;
    EXPECT_NEAR(sum, 1, 1e-12);
    EXPECT_LE(dated->hypotheses.size(), kMostHypotheses + 1);
}

// Numbers given out from 1920 on, one of them to a treatment that nobody dated.
const book::Book& numbered() {
    static const book::Book book = book::book_from_tables(
        {{"makers", "id,years\nmill,1900/1950\n"},
         {"shapes", "id,maker,years\nharrow,mill,1915/1949\nweir,mill,\n"},
         {"forms", "id,ware\nplate,flat\n"},
         {"glazes", "id,maker\noat,mill\n"},
         {"ornaments", "id,kind,finish\nfern,stamp,gold\n"},
         {"sources", "id,trust\ns-1,0.9\n"},
         {"treatments",
          "id,shape,glaze,number,grade,years,source\nt-1,harrow,oat,101,first,1920/1930,s-1\n"
          "t-2,harrow,oat,102,first,1922/1932,\nt-3,harrow,oat,103,first,,\n"
          "t-4,harrow,oat,104,first,1926/1934,\nt-6,harrow,oat,106,any,1930/1940,\n"
          "t-9,harrow,oat,601,second,1921/1930,\nt-w,weir,oat,103,first,,\n"},
         {"treatment_ornaments", "treatment,place,ornament,on,share\nt-3,rim,fern,*,1\n"}});
    return book;
}
std::vector<YearStatement> number_statements(const char* piece,
                                             std::optional<book::Ref<book::Treatment>> treatment) {
    std::vector<std::string> notes;
    const Settings settings;
    const auto read = looks::piece_from_json(std::string_view(piece), "piece", notes);
    const auto findings = *looks::resolve(*read, numbered(), settings, "piece");
    std::vector<YearStatement> out;
    for (YearStatement& s : statements_of(numbered(), findings, treatment, {1900, 1950}, settings))
        if (s.subject.starts_with("number ")) out.push_back(std::move(s));
    return out;
}
book::Ref<book::Treatment> treatment(const char* id) { return *book::find<book::Treatment>(numbered(), id, ""); }

TEST(PieceYears, AnUndatedNumberIsReadOffTheDatedOnesOfItsShape) {
    const auto made = number_statements(R"({"id":"p","form":"plate"})", treatment("t-3"));
    ASSERT_EQ(made.size(), 1u);
    EXPECT_EQ(made[0].subject, "number 103");
    EXPECT_THAT(made[0].what, testing::MatchesRegex("given out about 1924, 19[0-9]+ to 19[0-9]+, by the order of 4 "
                                                    "dated numbers of shape harrow: made then or later"));
    EXPECT_DOUBLE_EQ(made[0].trust, Settings{}.sequence_trust);
    EXPECT_EQ(made[0].sources.size(), 1u);
    EXPECT_LT(made[0].agrees[1910 - 1900], 0.01) << "it was not given out yet";
    EXPECT_NEAR(made[0].agrees[1924 - 1900], 0.5, 0.2);
    EXPECT_GT(made[0].agrees[1945 - 1900], 0.99) << "it may have been made for long";
}

TEST(PieceYears, ANumberThatIsDatedItselfIsNotHeardTwice) {
    EXPECT_TRUE(number_statements(R"({"id":"p","form":"plate"})", treatment("t-2")).empty());
}

TEST(PieceYears, ANumberOnNoListedTreatmentIsHeardAsFarAsItWasReadSurely) {
    const auto made = number_statements(
        R"({"id":"p","form":"plate","shape":{"value":"harrow"},"number":{"value":"105","sure":"guess"}})",
        std::nullopt);
    ASSERT_EQ(made.size(), 1u);
    EXPECT_DOUBLE_EQ(made[0].trust, Settings{}.sequence_trust * Settings{}.sure_guess);
    EXPECT_TRUE(
        number_statements(R"({"id":"p","form":"plate","shape":{"value":"harrow"},"number":{"value":"1?5"}})",
                          std::nullopt)
            .empty())
        << "a figure is missing";
}

TEST(PieceYears, AShapeWithoutDatedNumbersLeansOnItsMaker) {
    const auto made = number_statements(R"({"id":"p","form":"plate"})", treatment("t-w"));
    ASSERT_EQ(made.size(), 1u);
    EXPECT_THAT(made[0].what, testing::HasSubstr("4 dated numbers of maker mill"));
}

TEST(PieceYears, ANumberBeforeAllDatedOnesTellsNothing) {
    EXPECT_TRUE(
        number_statements(R"({"id":"p","form":"plate","shape":{"value":"harrow"},"number":"99"})", std::nullopt)
            .empty());
}

}  // namespace
}  // namespace footring::dating

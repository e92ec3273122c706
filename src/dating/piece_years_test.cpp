// SPDX-License-Identifier: Apache-2.0
#include "dating/piece_years.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
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
        return naming::examine(view(f), f, {false, false, false});
    }
    naming::FormView view(const looks::Findings& f) const { return naming::FormView(book, f.form, settings); }
    Expected<PieceYears> date(const looks::Findings& f, const naming::Answer& answer,
                              const std::vector<YearStatement>& further) const {
        return date_piece(view(f), f, answer, further);
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

double apart(const naming::DateAnswer& a, const naming::DateAnswer& b) {  // total variation
    double sum = 0;
    for (std::size_t y = 0; y < a.by_year.size(); ++y) sum += std::abs(a.by_year[y] - b.by_year[y]) / 2;
    return sum;
}
std::vector<std::string> demo_pieces() {
    std::vector<std::filesystem::path> files;
    for (const auto& file : std::filesystem::directory_iterator(FOOTRING_ROOT "/demo/cupboard/pieces"))
        if (file.path().extension() == ".json") files.push_back(file.path());
    std::ranges::sort(files);
    std::vector<std::string> out;
    for (const auto& file : files) {
        std::ifstream in(file);
        out.emplace_back(std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>());
    }
    return out;
}

// A law: what `date` adds to `examine` is trust, dated uses, the order of numbers and wording, and nothing else.
TEST(PieceYears, AreThoseOfNamingWhereEverySourceIsTrustedAndNothingElseIsKnown) {
    Demo trusted;
    for (book::Source& source : trusted.book.sources) source.trust = 1;
    trusted.book.dated_uses.clear();
    // A maker's years are heard by naming only where nothing else bounds a treatment.
    for (book::Maker& maker : trusted.book.makers) maker.years.reset();
    trusted.settings.source_trust = 1;
    trusted.settings.sequence_trust = 0;
    trusted.settings.open_prior = 0;  // what no pack lists has no statements of its own
    trusted.settings.least_shown = 0;
    std::size_t with_code = 0, with_mark = 0;
    for (const std::string& piece : demo_pieces()) {
        const auto f = trusted.findings(piece.c_str());
        const naming::Answer answer = trusted.answer(f);
        double kept = 0;
        for (std::size_t i = 0; i < std::min(kMostHypotheses, answer.candidates.size()); ++i)
            kept += answer.candidates[i].probability;
        if (kept < 1 - 1e-4) continue;  // too little was seen: the tail is not mixed one by one
        with_code += f.date_code.empty() ? 0 : 1;
        with_mark += f.mark ? 1 : 0;
        const auto dated = trusted.date(f, answer, {});
        ASSERT_TRUE(dated) << piece << to_line(dated.error());
        EXPECT_LT(apart(dated->date, answer.date), 2e-4) << piece;
    }
    EXPECT_GT(with_code, 10u);
    EXPECT_GT(with_mark, 40u);
}

TEST(PieceYears, KeepWhatADateCodeSaysAsFarAsItsSourceIsTrusted) {
    // Of the four years of the letter one lies within the treatment's. The scheme is trusted 0.75.
    const auto f = demo().findings(R"({"id":"p","form":"fruit-dish","shape":{"value":"harrow"},
        "glaze":{"value":"oat"},"looks":[{"place":"rim","value":"fern-pair"}],"mark":{"value":"m-10"},
        "number":{"value":"117"},"date_code":"H"})");
    const auto answer = demo().answer(f);
    const auto dated = demo().date(f, answer, {});
    ASSERT_TRUE(dated);
    EXPECT_EQ(answer.date.median, 1938);
    EXPECT_EQ(dated->date.median, 1938) << "what naming says, though less surely";
    EXPECT_GT(mass(answer.date, 1938, 1938), 0.99);
    EXPECT_GT(mass(dated->date, 1938, 1938), 0.75) << "other statements agree with the year";
    EXPECT_LT(mass(dated->date, 1938, 1938), 0.99);
    const auto code = std::ranges::find(dated->statements, "date code H", &YearStatement::subject);
    ASSERT_NE(code, dated->statements.end());
    EXPECT_EQ(code->what, "says 1928 or 1938 or 1948 or 1958");
    EXPECT_NEAR(code->trust, 0.75 * 0.98, 0.01) << "the notebook is right, and the letter was read right";
}

TEST(PieceYears, OfWhatNoPackListsLeanOnEachLookAsFarAsItIsSure) {
    const auto f = demo().findings(R"({"id":"p","form":"dinner-plate","shape":{"value":"harrow","sure":"likely"},
        "looks":[{"place":"rim","value":"fern-ladder","sure":"guess"},{"place":"centre","value":"fern-ladder"}]})");
    const naming::FormView view = demo().view(f);
    std::map<std::string, double> trust;
    for (const YearStatement& s : PieceGatherer(view, f).of(std::nullopt).statements) trust[s.subject] = s.trust;
    EXPECT_DOUBLE_EQ(trust["shape harrow"], 0.95 * 0.85);
    EXPECT_DOUBLE_EQ(trust["ornament fern-ladder"], 0.9 * 0.98) << "the surer of the two places";
}

TEST(PieceYears, TrustAMarkLessThatWasOnlyGuessed) {
    const auto trust = [](const char* sure) {
        const auto f = demo().findings(
            (std::string(R"({"id":"p","form":"sugar","shape":{"value":"harrow"},"glaze":{"value":"oat"},
                "looks":[{"place":"rim","value":"fern-pair"}],"mark":{"value":"m-3","sure":")") +
             sure + "\"}}")
                .c_str());
        const auto dated = demo().date(f, demo().answer(f), {});
        const auto mark = std::ranges::find(dated->statements, "mark m-3", &YearStatement::subject);
        return mark == dated->statements.end() ? 0 : mark->trust;
    };
    EXPECT_GT(trust("sure"), 0.85);
    EXPECT_GT(trust("sure"), trust("guess") + 0.05);
}

TEST(PieceYears, MoveToWhereAFurtherStatementPoints) {
    const auto f = demo().findings(kSugar);
    const auto answer = demo().answer(f);
    const auto before = demo().date(f, answer, {});
    const YearRange range = range_of(demo().view(f));
    YearStatement clue{.subject = "wording",
                       .what = "after 1940",
                       .agrees = agrees_with(*edtf::parse("1940/"), range.first, range.last, demo().settings),
                       .trust = 0.95,
                       .sources = {},
                       .row = ""};
    const auto after = demo().date(f, answer, {clue});
    ASSERT_TRUE(before && after);
    EXPECT_LT(mass(before->date, 1940, 1990), 0.5);
    EXPECT_GT(mass(after->date, 1940, 1990), mass(before->date, 1940, 1990) + 0.3);
    EXPECT_EQ(after->statements.back().subject, "wording");
    EXPECT_GT(after->together.heard.back().cut_before, 0.3);
}

TEST(PieceYears, NameTheStatementsThatCannotAllHold) {
    const auto f = demo().findings(kSugar);
    const auto answer = demo().answer(f);
    const YearRange range = range_of(demo().view(f));
    YearStatement late{.subject = "wording",
                       .what = "after 1970",
                       .agrees = agrees_with(*edtf::parse("1970/"), range.first, range.last, demo().settings),
                       .trust = 0.5,
                       .sources = {},
                       .row = ""};
    const auto dated = demo().date(f, answer, {late});
    ASSERT_TRUE(dated);
    ASSERT_FALSE(dated->together.contradictions.smallest.empty());
    for (const auto& set : dated->together.contradictions.smallest)
        EXPECT_EQ(set.back(), dated->statements.size() - 1) << "without the wording everything holds";
    EXPECT_THAT(dated->together.contradictions.frees, testing::Contains(dated->statements.size() - 1));

    late.trust = 1;
    YearStatement early = late;
    early.what = "before 1930";
    early.agrees = agrees_with(*edtf::parse("/1930"), range.first, range.last, demo().settings);
    const auto none = demo().date(f, answer, {late, early});
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, ProblemCode::kBadInput);
}

TEST(PieceYears, OfAPieceOfWhichNothingIsKnownAreTheYearsOfItsTreatments) {
    const auto f = demo().findings(R"({"id":"p"})");
    const auto dated = demo().date(f, demo().answer(f), {});
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
constexpr int kFirstNumbered = 1895;  // five years, the softest end there is, before the first period
std::vector<YearStatement> number_statements(const char* piece,
                                             std::optional<book::Ref<book::Treatment>> treatment) {
    std::vector<std::string> notes;
    Settings settings;
    settings.first_year = 1900, settings.last_year = 1950;
    const auto read = looks::piece_from_json(std::string_view(piece), "piece", notes);
    const auto findings = *looks::resolve(*read, numbered(), settings, "piece");
    std::vector<YearStatement> out;
    const naming::FormView view(numbered(), findings.form, settings);
    for (YearStatement& s : PieceGatherer(view, findings).of(treatment).statements)
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
    EXPECT_LT(made[0].agrees[1910 - kFirstNumbered], 0.01) << "it was not given out yet";
    EXPECT_NEAR(made[0].agrees[1924 - kFirstNumbered], 0.5, 0.2);
    EXPECT_GT(made[0].agrees[1945 - kFirstNumbered], 0.99) << "it may have been made for long";
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

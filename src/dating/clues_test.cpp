// SPDX-License-Identifier: Apache-2.0
#include "dating/clues.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "book/pack_text.h"
#include "dating/phrase.h"
#include "dating/series.h"
#include "dating/test_law_pack.h"

namespace footring::dating {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::UnorderedElementsAre;

ClueAnswer read(std::string_view text) {
    const auto answer = find_clues(law_pack(), text, Settings{});
    if (!answer) {
        ADD_FAILURE() << to_line(answer.error());
        return {};
    }
    return *answer;
}
// The clues that count, as "id years".
std::vector<std::string> counted(std::string_view text) {
    std::vector<std::string> out;
    for (const FoundClue& c : read(text).clues)
        if (c.within.empty()) out.push_back(c.years.empty() ? c.clue : c.clue + " " + c.years);
    return out;
}
const FoundClue* clue(const ClueAnswer& answer, std::string_view id) {
    const auto found = std::ranges::find(answer.clues, id, &FoundClue::clue);
    return found == answer.clues.end() ? nullptr : &*found;
}

TEST(Clues, APottersCountIsToldAndTellsNoYear) {
    const ClueAnswer answer = read("No 36S  Made in England");
    const FoundClue* found = clue(answer, "count-36");
    ASSERT_NE(found, nullptr);
    EXPECT_EQ(found->kind, "count");
    EXPECT_EQ(found->text, "36S");
    EXPECT_EQ(found->span, (TextSpan{3, 6}));
    EXPECT_EQ(found->rule, "A trade size: 36 to the potter's dozen, about 0.67 pints.");
    EXPECT_EQ(found->verified, book::Verified::kPartly);
    EXPECT_EQ(found->years, "");
    EXPECT_EQ(answer.years, read("Made in England").years);
    EXPECT_THAT(counted("1936s"), IsEmpty());
    EXPECT_THAT(counted("the 30's"), IsEmpty());
    EXPECT_THAT(counted("36"), IsEmpty());
}
TEST(Clues, AShortenedWestGermanyIsThatState) {
    EXPECT_THAT(counted("W. GERMANY"), ElementsAre("west-germany 1949/1990-10-03"));
    EXPECT_THAT(counted("w.-germany"), ElementsAre("west-germany 1949/1990-10-03"));
    EXPECT_THAT(counted("MADE GERMANY"), ::testing::Not(::testing::Contains(::testing::HasSubstr("west-germany"))));
}

TEST(Clues, OccupiedJapanIsDatedByItsDirectives) {
    const ClueAnswer answer = read("MADE IN OCCUPIED JAPAN");
    const FoundClue* found = clue(answer, "occupied-japan");
    ASSERT_NE(found, nullptr);
    EXPECT_EQ(found->years, "1947-02-20/1952-04-28");
    EXPECT_EQ(found->span, (TextSpan{0, 22}));
    EXPECT_EQ(found->text, "MADE IN OCCUPIED JAPAN");
    EXPECT_EQ(found->likeness, 1);
    EXPECT_EQ(found->kind, "law");
    EXPECT_EQ(found->verified, book::Verified::kYes);
    EXPECT_EQ(found->trust, 0.98);
    EXPECT_EQ(book::source_ids(law_pack(), found->sources), "s-scapin-1535; s-scapin-2061");
    EXPECT_EQ(found->within, "");
    ASSERT_NE(clue(answer, "japan"), nullptr) << "told, but it does not count";
    EXPECT_EQ(clue(answer, "japan")->within, "occupied-japan");
    EXPECT_EQ(answer.years, "1947/1952");
    EXPECT_THAT(answer.conflict, IsEmpty());
}

TEST(Clues, CaseSpacesLineBreaksAndSlipsMakeNoDifference) {
    for (const std::string_view text :
         {"made in occupied japan", "Made in\nOccupied\nJapan", "MADE IN OCCU-\nPIED JAPAN",
          "M A D E  I N  OCCUPIED JAPAN", "MADEINOCCUPIEDJAPAN", "MADE IN 0CCUP1ED JAPAN", "MAOE IN OCCUPIED JAPAN",
          "MADE IN OCUPIED JAPAN", "MADE IN OCCUPEID JAPAN", "*** Made in Occupied Japan. ***",
          "hand painted, made in occupied japan, 12"}) {
        const ClueAnswer answer = read(text);
        ASSERT_NE(clue(answer, "occupied-japan"), nullptr) << text;
        EXPECT_EQ(answer.years, "1947/1952") << text;
    }
}

TEST(Clues, TheSpanCountsCharactersAndNotBytes) {
    const ClueAnswer answer = read("Café · NIPPON");
    ASSERT_EQ(answer.clues.size(), 1u);
    EXPECT_EQ(answer.clues[0].clue, "nippon");
    EXPECT_EQ(answer.clues[0].span, (TextSpan{7, 13}));
    EXPECT_EQ(answer.clues[0].text, "NIPPON");
}

TEST(Clues, WordsThatOnlyLookAlikeAreNone) {
    EXPECT_THAT(counted("New England Pottery"), IsEmpty());
    EXPECT_THAT(counted("LIMITED EDITION"), IsEmpty());
    EXPECT_THAT(counted("German silver, Iceland moss, a hungry spaniel"), IsEmpty());
    EXPECT_THAT(counted("hand painted roses"), IsEmpty());
    EXPECT_THAT(counted("Patent 1890"), IsEmpty()) << "a date, not a number";
}

TEST(Clues, MadeInEnglandCountsAndEnglandInItDoesNot) {
    EXPECT_THAT(counted("MADE IN ENGLAND"), ElementsAre("made-in 1891/..", "made-in-england 1900~/.."));
    EXPECT_THAT(counted("ENGLAND"), ElementsAre("country-of-origin 1891-03-01/..", "england-alone 1891/.."));
    EXPECT_EQ(read("ENGLAND").years, "1891/..");
    EXPECT_EQ(clue(read("ENGLAND"), "england-alone")->rarely, "1880~/1891");
}

TEST(Clues, WordingsOfLawAndHabitAreFound) {
    EXPECT_THAT(counted("Regd. Trade Mark"), ElementsAre("trade-mark-registered 1876-01-01/.."));
    EXPECT_THAT(counted("Smithfield & Co. Ltd."), ElementsAre("limited 1855/.."));
    EXPECT_THAT(counted("SOMEWHERE 7, ILL."), ElementsAre("postal-zone 1943-05/1963-06-30"));
    EXPECT_THAT(counted("Somewhere, OH 43725"), ElementsAre("zip-code 1963-07-01/.."));
    EXPECT_THAT(counted("Name®"), ElementsAre("r-in-a-circle 1947-07-05/.."));
    EXPECT_THAT(counted("Dishwasher Safe"), ElementsAre("dishwasher-proof 1955~/.."));
    EXPECT_THAT(counted("Made in Germany, U.S. Zone"), ElementsAre("german-zone 1945/1949"));
}

TEST(Clues, WhatCannotHoldTogetherIsNamed) {
    const ClueAnswer answer = read("NIPPON\nMicrowave safe");
    EXPECT_THAT(answer.conflict, ElementsAre("nippon", "microwave-wording"));
    const ClueAnswer rare = read("NIPPON\nJAPAN");
    EXPECT_EQ(rare.years, "1921") << "the ruling year itself";
    EXPECT_FALSE(rare.only_rarely);
}

TEST(Clues, AHabitThatNobodyVerifiedGivesWayToALaw) {
    const ClueAnswer answer = read("NIPPON\nMicrowave safe");
    EXPECT_EQ(answer.years, "1891/1921");
    EXPECT_THAT(answer.set_aside, ElementsAre("microwave-wording"));
    const FoundClue *law = clue(answer, "nippon"), *habit = clue(answer, "microwave-wording");
    EXPECT_EQ(habit->verified, book::Verified::kNo);
    EXPECT_LT(habit->weight, 0.6 * law->weight);
}

TEST(Clues, WeighAsFarAsTheirSourceIsTrustedAndLessWhenUnverified) {
    const book::Book book =
        book::book_from_tables({{"sources", "id,trust\ns-1,0.9\n"},
                                {"clues",
                                 "id,name,wording,years,kind,verified,source\na,A,alpha,1900/1910,law,yes,s-1\n"
                                 "b,B,beta,1920/1930,law,yes,s-1\nc,C,gamma,1900/1910,law,partly,s-1\n"
                                 "d,D,delta,1900/1910,law,no,s-1\ne,E,epsilon,1900/1910,practice,no,s-1\n"}});
    const Settings settings;
    const auto weight = [&](std::string_view text) { return find_clues(book, text, settings)->clues.at(0).weight; };
    EXPECT_DOUBLE_EQ(weight("alpha"), 0.9);
    EXPECT_DOUBLE_EQ(weight("gamma"), 0.9 * settings.clue_partly_trust);
    EXPECT_DOUBLE_EQ(weight("delta"), 0.9 * settings.clue_unverified_trust);
    EXPECT_DOUBLE_EQ(weight("epsilon"), 0.9 * settings.clue_unverified_trust * settings.clue_practice_trust);
    const auto equal = find_clues(book, "alpha beta", settings);
    EXPECT_EQ(equal->years, "") << "nothing tells which of two equals is wrong";
    EXPECT_THAT(equal->conflict, ElementsAre("a", "b"));
    EXPECT_THAT(equal->set_aside, ElementsAre());
    EXPECT_EQ(find_clues(book, "beta delta epsilon", settings)->years, "1920/1930");
    EXPECT_THAT(find_clues(book, "beta delta epsilon", settings)->set_aside, ElementsAre("d", "e"));
}

TEST(Clues, RegisteredDesignNumbersTellTheirYear) {
    for (const std::string_view text : {"Rd No 176239", "RD. NO. 176,239", "Regd No176239", "RD N° 176239",
                                        "Rd.No.I76239", "REGISTERED DESIGN No. 176 239"}) {
        const ClueAnswer answer = read(text);
        const FoundClue* found = clue(answer, "uk-registered-designs");
        ASSERT_NE(found, nullptr) << text;
        EXPECT_EQ(found->number->number, 176239) << text;
        EXPECT_EQ(found->number->given, "1891") << text;
        EXPECT_EQ(found->years, "1891/..") << text;
        EXPECT_EQ(answer.years, "1891/..") << text;
    }
}

TEST(Clues, PatentNumbersFindTheirSeries) {
    const auto series = [](std::string_view text) -> std::string {
        for (const FoundClue& c : read(text).clues)
            if (c.number) return fmt::format("{} {} {}", c.clue, c.number->number, c.number->given);
        return "none";
    };
    EXPECT_EQ(series("Patent 1,933,576"), "us-utility-patents 1933576 1933");
    EXPECT_EQ(series("U.S. Pat. No. 1933576"), "us-utility-patents 1933576 1933");
    EXPECT_EQ(series("Des. Pat. No 118,900"), "us-design-patents 118900 1940");
    EXPECT_EQ(series("PAT. D-118900"), "us-design-patents 118900 1940");
    EXPECT_EQ(series("PAT. D118,900"), "us-design-patents 118900 1940");
    EXPECT_EQ(series("Pat. No. 4,300,000"), "us-utility-patents 4300000 1980/..");
    EXPECT_EQ(series("Pat. No. 100,000"), "us-utility-patents 100000 ../1879");
    EXPECT_EQ(series("British Patent 345678"), "none");
    EXPECT_EQ(series("Rd No"), "none");
    const ClueAnswer design = read("Des. Pat. No 118,900");
    EXPECT_EQ(clue(design, "us-design-patents")->verified, book::Verified::kNo) << "unverified figures say so";
}

TEST(Clues, MarksOfOtherPacksAreFoundBesideTheLaw) {
    const book::Book book = book::book_from_tables(
        {{"marks", "id,wording,years\nm-1,MILLROSE / WARRANTED,1921/1931\nm-2,MR,1900/1950\n"}});
    const auto answer = find_clues(book, "Millrose\nwarranted MR", Settings{});
    ASSERT_TRUE(answer);
    ASSERT_EQ(answer->clues.size(), 1u) << "two letters are no mark";
    EXPECT_EQ(answer->clues[0].clue, "m-1");
    EXPECT_EQ(answer->clues[0].kind, "mark");
    EXPECT_EQ(answer->years, "1921/1931");
}

TEST(Clues, TextThatIsNoneIsRefusedInASentence) {
    const auto line = [](std::string_view text) {
        const auto answer = find_clues(law_pack(), text, Settings{});
        return answer ? std::string("read") : to_line(answer.error());
    };
    EXPECT_EQ(line("  \n"), "text: is empty: type what stands on the underside");
    EXPECT_EQ(line("\xff"), "text: is not UTF-8: save or type it as UTF-8");
    EXPECT_EQ(line(std::string(20'001, 'x')), "text: is longer than 20000 bytes: give the wording of one piece");
}

// ---- against the published tables

TEST(LawPack, HoldsEachPublishedNumberOnce) {
    const book::Book& book = law_pack();
    const auto compare = [&](const std::string& file, const std::string& id, const std::string& other,
                             std::size_t rows) {
        const auto series = *book::find<book::NumberSeries>(book, id, "test");
        std::vector<const book::SeriesNumber*> ours;
        for (const book::SeriesNumber& n : book.series_numbers)
            if (n.series == series) ours.push_back(&n);
        const auto published = facts(file);
        ASSERT_EQ(published.size(), rows);
        ASSERT_EQ(ours.size(), rows) << file;
        for (std::size_t i = 0; i < rows; ++i) {
            EXPECT_EQ(std::to_string(ours[i]->year), published[i].at("year"));
            EXPECT_EQ(std::to_string(ours[i]->first_number), published[i].at("first_number"));
            if (!other.empty())
                EXPECT_EQ(ours[i]->other_number ? std::to_string(*ours[i]->other_number) : "",
                          published[i].at(other));
            else EXPECT_EQ(ours[i]->verified == book::Verified::kYes, published[i].at("checked") == "verified");
        }
    };
    compare("rd_numbers.csv", "uk-registered-designs", "other_published_first_number", 82);
    compare("us_utility_patents.csv", "us-utility-patents", "", 101);
    compare("us_design_patents.csv", "us-design-patents", "", 101);
}

TEST(NumberSeries, PatentsWithAKnownDayOfGrantFallInTheirYear) {
    int seen = 0;
    for (const FactRow& row : facts("us_patent_spot_checks.csv")) {
        const std::string id = row.at("kind") == "design" ? "us-design-patents" : "us-utility-patents";
        const auto years = years_of_number(law_pack(), *book::find<book::NumberSeries>(law_pack(), id, "test"),
                                           std::stoll(row.at("number")), Settings{});
        const int granted = std::stoi(row.at("granted").substr(0, 4));
        if (years.before) {
            EXPECT_LT(granted, *years.before) << row.at("number");
        } else {
            EXPECT_NE(std::ranges::find(years.years, granted), years.years.end()) << row.at("number");
        }
        ++seen;
    }
    EXPECT_EQ(seen, 29);
}

TEST(NumberSeries, ANumberBetweenTwoPublishedTablesHasBothYears) {
    const auto series = *book::find<book::NumberSeries>(law_pack(), "uk-registered-designs", "test");
    const auto years = [&](std::int64_t n) { return years_of_number(law_pack(), series, n, Settings{}).years; };
    EXPECT_THAT(years(1), ElementsAre(1884));
    EXPECT_THAT(years(19753), ElementsAre(1884));
    EXPECT_THAT(years(19754), ElementsAre(1884, 1885)) << "one table begins 1885 here, the other at 19756";
    EXPECT_THAT(years(19756), ElementsAre(1885));
    EXPECT_THAT(years(424'100), ElementsAre(1903, 1904));
    EXPECT_THAT(years(163'766), ElementsAre(1890));
    EXPECT_THAT(years(163'767), ElementsAre(1891)) << "no table differs";
    EXPECT_THAT(years(950'000), ElementsAre(1965));
    EXPECT_TRUE(years_of_number(law_pack(), series, 950'000, Settings{}).or_later);
}

TEST(NumberSeries, NearAnUnverifiedBoundaryTheNeighbourIsGivenToo) {
    const book::Book book = book::book_from_tables(
        {{"number_series", "id,wording\ns,no\n"},
         {"series_numbers",
          "series,year,first_number,verified\ns,1900,1000,no\ns,1901,2000,no\ns,1904,4000,yes\n"}});
    Settings settings;
    settings.number_boundary_share = 0.05;
    const auto years = [&](std::int64_t n) { return years_of_number(book, {0}, n, settings).years; };
    EXPECT_THAT(years(1949), ElementsAre(1900));
    EXPECT_THAT(years(1950), ElementsAre(1900, 1901, 1902, 1903))
        << "within 5 % of 1000 numbers; 1902 and 1903 are not listed";
    EXPECT_THAT(years(2099), ElementsAre(1900, 1901, 1902, 1903)) << "5 % of the 2000 numbers behind it";
    EXPECT_THAT(years(2100), ElementsAre(1901, 1902, 1903));
    EXPECT_THAT(years(3999), ElementsAre(1901, 1902, 1903));
    EXPECT_THAT(years(4000), ElementsAre(1904)) << "a verified boundary is sharp";
    EXPECT_EQ(years_of_number(book, {0}, 10, settings).before, 1900);
}

// ---- phrases, against a slow twin

// Plain edit distance with the prices of phrase.h, by trying everything.
double price(std::string_view p, std::string_view t) {
    constexpr std::string_view kAlike[] = {"O0QD", "I1LJ", "S5", "B8", "Z2", "G6C", "EF", "UVY", "NHM", "A4", "RK"};
    if (p.empty() && t.empty()) return 0;
    double best = 1e9;
    const auto alike = [&](char a, char b) {
        return std::ranges::any_of(kAlike, [&](auto g) { return g.find(a) != g.npos && g.find(b) != g.npos; });
    };
    const std::size_t i = p.size(), j = t.size();
    if (i > 0) best = std::min(best, price(p.substr(0, i - 1), t) + (i > 1 && p[i - 1] == p[i - 2] ? .5 : 1));
    if (j > 0) best = std::min(best, price(p, t.substr(0, j - 1)) + (j > 1 && t[j - 1] == t[j - 2] ? .5 : 1));
    if (i > 0 && j > 0)
        best = std::min(best, price(p.substr(0, i - 1), t.substr(0, j - 1)) + (p[i - 1] == t[j - 1]        ? 0
                                                                               : alike(p[i - 1], t[j - 1]) ? .5
                                                                                                           : 1));
    if (i > 1 && j > 1 && p[i - 1] == t[j - 2] && p[i - 2] == t[j - 1])
        best = std::min(best, price(p.substr(0, i - 2), t.substr(0, j - 2)) + .5);
    const auto pair = [&](char one, std::string_view two) {
        if (i > 0 && j > 1 && p[i - 1] == one && t.substr(j - 2) == two)
            best = std::min(best, price(p.substr(0, i - 1), t.substr(0, j - 2)) + .5);
        if (j > 0 && i > 1 && t[j - 1] == one && p.substr(i - 2) == two)
            best = std::min(best, price(p.substr(0, i - 2), t.substr(0, j - 1)) + .5);
    };
    pair('M', "RN"), pair('W', "VV"), pair('D', "CL");
    return best;
}

TEST(Phrase, CostsWhatTryingEverythingCosts) {
    for (const auto& [p, t] : std::vector<std::pair<std::string, std::string>>{{"NIPPON", "NIPON"},
                                                                               {"NIPPON", "N1PP0N"},
                                                                               {"NORWAY", "NORVVAY"},
                                                                               {"MADEIN", "RNADEIN"},
                                                                               {"FRANCE", "FRNACE"},
                                                                               {"FRANCE", "ERANCE"},
                                                                               {"GERMANY", "GERMAMY"},
                                                                               {"POLAND", "POLANCL"},
                                                                               {"SWEDEN", "SWEEDEN"}}) {
        const auto found = find_phrase(letters_of(t), p, 99);
        ASSERT_FALSE(found.empty()) << p << " " << t;
        EXPECT_EQ(found[0].cost, price(p, t)) << p << " " << t;
    }
}

TEST(Phrase, BeginsAndEndsWithAWord) {
    const auto found = [](std::string_view text, std::string_view phrase) {
        return find_phrase(letters_of(text), phrase, 0).size();
    };
    EXPECT_EQ(found("in Japan.", "JAPAN"), 1u);
    EXPECT_EQ(found("japanned tin", "JAPAN"), 0u);
    EXPECT_EQ(found("minjapan", "JAPAN"), 0u);
    EXPECT_EQ(found("Rd176239", "RD"), 1u) << "a figure ends a word";
    EXPECT_EQ(found("hard 5", "RD"), 0u);
    EXPECT_EQ(folded("Czécho-Slovakia №5"), "CZECHOSLOVAKIA5");
}

}  // namespace
}  // namespace footring::dating

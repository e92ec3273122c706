// Reasons against counting, and conflicts against their definition.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "naming/counting.h"
#include "naming/examine.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

using book::Book;
using book::Place;
using book::Ref;
using testing::Counting;
using testing::Draft;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::UnorderedElementsAre;

using Statements = std::vector<std::string>;

std::vector<Statements> statements(const Answer& a) {
    std::vector<Statements> out;
    for (const Conflict& c : a.conflicts) out.push_back(c.statements);
    return out;
}

// P(this look alone | best) / P(it | all the rest), from the evidence that counting finds for it.
double decibans(const Book& b, const looks::Findings& alone, std::uint32_t best) {
    const Settings s;
    const Counting c(b, alone, s);
    const double prior = (1 - s.open_prior) / static_cast<double>(b.treatments.size());
    const double with_best = c.treatment[best] * c.evidence;
    return 10 * std::log10(with_best / prior / ((c.evidence - with_best) / (1 - prior)));
}

TEST(Reasons, AreTheLikelihoodRatiosThatCountingFindsOnRandomBooks) {
    std::mt19937 random(31);
    int compared = 0;
    for (int round = 0; round < 40; ++round) {
        const Book b = testing::random_book(random);
        const looks::Findings f = testing::random_findings(b, random);
        const Answer a = examine(FormView(b, f.form, Settings{}), f);
        if (a.candidates.empty()) continue;
        const std::uint32_t best = a.candidates.front().treatment.at;
        looks::Findings none;
        none.form = f.form;
        none.wear = f.wear;
        std::multiset<std::pair<std::string, long>> expected, found;
        const auto expect = [&](const std::string& look, const looks::Findings& alone) {
            expected.emplace(look, std::lround(1e6 * decibans(b, alone, best)));
        };
        for (const auto& look : f.ornaments) {
            looks::Findings one = none;
            one.ornaments = {look};
            const bool recorded = std::ranges::any_of(b.treatment_ornaments,
                                                      [&](const auto& row) { return row.place == look.place; });
            if (recorded) expect(std::string(book::name_of(look.place)), one);
            else expected.emplace(std::string(book::name_of(look.place)), 0);
        }
        const auto alone = [&](const std::string& look, auto member) {
            if (!(f.*member)) return;
            looks::Findings one = none;
            one.*member = f.*member;
            expect(look, one);
        };
        alone("shape", &looks::Findings::shape);
        alone("glaze", &looks::Findings::glaze);
        alone("mark", &looks::Findings::mark);
        alone("number", &looks::Findings::number);
        alone("faults", &looks::Findings::faults);
        for (const Reason& r : a.reasons) found.emplace(r.look, std::lround(1e6 * r.weight.value));
        EXPECT_EQ(found, expected) << "round " << round;
        compared += static_cast<int>(found.size());
        for (std::size_t i = 1; i < a.reasons.size(); ++i)
            EXPECT_GE(std::abs(a.reasons[i - 1].weight.value), std::abs(a.reasons[i].weight.value));
        if (HasFailure()) return;
    }
    EXPECT_GT(compared, 100);
}

struct Clash : Draft {
    Ref<book::Maker> north = maker("north", "1900/1960"), south = maker("south", "1900/1960");
    Ref<book::Shape> harrow = shape("harrow", north), plough = shape("plough", south);
    Ref<book::Glaze> oat = glaze("oat", "1931/..");
    Ref<book::Form> plate = form("plate", book::Ware::kFlat);
    Ref<book::Ornament> fern = ornament("fern-pair"), rose = ornament("rose");
    Ref<book::Treatment> treatment_117 = treatment("117", harrow, oat);
    Ref<book::Mark> old_mark = mark("m-3", north, "1910/1930");

    std::vector<Statements> of(looks::Findings f) {
        f.form = plate;
        return statements(examine(FormView(book, plate, Settings{}), f));
    }
    Clash() {
        carries(treatment_117, Place::kRim, fern);
        carries(treatment("118", plough, oat), Place::kRim, rose);
        finish();
    }
};

TEST(Conflicts, AMarkThatEndsBeforeAGlazeBeginsIsSaidInBothSentences) {
    Clash c;
    looks::Findings f;
    f.mark = {c.old_mark, .98};
    f.glaze = {c.oat, .98};
    EXPECT_THAT(c.of(f), ElementsAre(Statements{"mark m-3 ends 1930", "glaze oat begins 1931"}));
    f.glaze.reset();
    EXPECT_THAT(c.of(f), IsEmpty());
}

TEST(Conflicts, MakersPlacesAndNumbersThatExcludeEachOtherAreNamed) {
    Clash c;
    looks::Findings f;
    f.mark = {c.old_mark, .98};
    f.shape = {c.plough, .98};
    EXPECT_THAT(c.of(f), ElementsAre(Statements{"shape plough is by south", "mark m-3 is by north"}));
    f = {};
    f.ornaments = {{{c.fern, .98}, Place::kRim, 0}, {{c.rose, .85}, Place::kRim, 1}};
    EXPECT_THAT(c.of(f), ElementsAre(Statements{"rim shows fern-pair", "rim shows rose"}));
    f = {};
    f.shape = {c.plough, .98};
    f.number = {"117", .98};
    EXPECT_THAT(c.of(f), ElementsAre(Statements{"number 117 is recorded only on shape harrow", "shape is plough"}));
}

TEST(Conflicts, ADateCodeOfTwoYearsCanClashWithTwoPeriodsTogetherAndWithNeitherAlone) {
    Draft d;
    const auto pottery = d.maker("pottery", "1900/1960");
    const auto harrow = d.shape("harrow", pottery, "1928/1950");
    const auto oat = d.glaze("oat", "1915/1930");
    const auto plate = d.form("plate", book::Ware::kFlat);
    d.treatment("117", harrow, oat);
    d.mark("m-1", pottery, "1900/1960");
    d.book.code_schemes.push_back({"letters", "^(?<year>[A-Z])$", R"({"year": {"K": [1925, 1935]}})", "", {}, {}});
    d.book.marks.back().code_scheme = Ref<book::CodeScheme>{0};
    d.finish();
    looks::Findings f;
    f.form = plate;
    f.shape = {harrow, .98};
    f.glaze = {oat, .98};
    f.date_code = "K";
    EXPECT_THAT(statements(examine(FormView(d.book, plate, Settings{}), f)),
                ElementsAre(Statements{"date code K says 1925 or 1935", "shape harrow begins 1928",
                                       "glaze oat ends 1930"}));
    f.glaze.reset();
    EXPECT_THAT(statements(examine(FormView(d.book, plate, Settings{}), f)), IsEmpty());
}

// Every pair of periods that no year (soft ends included) has in common is a conflict, and no other pair is.
TEST(Conflicts, BetweenPeriodsAreExactlyThePairsWithoutACommonYearOnRandomBooks) {
    std::mt19937 random(17);
    const Settings s;
    int clashes = 0;
    for (int round = 0; round < 300; ++round) {
        const Book b = testing::random_book(random);
        looks::Findings f;
        f.form = Ref<book::Form>{0};
        f.shape = {Ref<book::Shape>{static_cast<std::uint32_t>(random() % b.shapes.size())}, .98};
        f.glaze = {Ref<book::Glaze>{static_cast<std::uint32_t>(random() % b.glazes.size())}, .98};
        if (!b.marks.empty())
            f.mark = {Ref<book::Mark>{static_cast<std::uint32_t>(random() % b.marks.size())}, .98};
        std::vector<std::pair<std::string, std::optional<edtf::Edtf>>> periods;
        const auto& shape = b[std::get<Ref<book::Shape>>(f.shape->value)];
        const auto& glaze = b[std::get<Ref<book::Glaze>>(f.glaze->value)];
        periods.emplace_back("shape " + shape.id, shape.years);
        periods.emplace_back("glaze " + glaze.id, glaze.years);
        if (f.mark) {
            const auto& mark = b[std::get<Ref<book::Mark>>(f.mark->value)];
            periods.emplace_back("mark " + mark.id, mark.years);
        }
        std::set<std::set<std::string>> expected, found;
        for (std::size_t i = 0; i < periods.size(); ++i)
            for (std::size_t j = i + 1; j < periods.size(); ++j) {
                if (!periods[i].second || !periods[j].second) continue;
                bool common = false;
                for (int y = 1850; y <= 2010 && !common; ++y)
                    common = edtf::weight(periods[i].second->spans(), y, s) > 0 &&
                             edtf::weight(periods[j].second->spans(), y, s) > 0;
                if (!common) expected.insert({periods[i].first, periods[j].first});
            }
        for (const Statements& set : statements(examine(FormView(b, f.form, s), f))) {
            if (set[0].find(" ends ") == std::string::npos) continue;
            ASSERT_EQ(set.size(), 2u);
            found.insert({set[0].substr(0, set[0].find(" ends ")), set[1].substr(0, set[1].find(" begins "))});
        }
        EXPECT_EQ(found, expected) << "round " << round;
        clashes += static_cast<int>(expected.size());
    }
    EXPECT_GT(clashes, 10);
}

}  // namespace
}  // namespace footring::naming

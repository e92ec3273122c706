// The model against its slow and obvious twin (every combination counted), its laws, and the worked example by
// hand. SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

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
using testing::examined;
using testing::odds_of;

void expect_same(const Answer& a, const Answer& b, double tolerance) {
    ASSERT_EQ(a.candidates.size(), b.candidates.size());
    for (const Candidate& c : a.candidates) EXPECT_NEAR(c.probability, odds_of(b, c.treatment), tolerance);
    EXPECT_NEAR(a.open.unlisted, b.open.unlisted, tolerance);
    EXPECT_NEAR(a.open.elsewhere, b.open.elsewhere, tolerance);
    EXPECT_NEAR(a.grade.second, b.grade.second, tolerance);
    for (std::size_t y = 0; y < a.date.by_year.size(); ++y)
        EXPECT_NEAR(a.date.by_year[y], b.date.by_year[y], tolerance);
}

TEST(Model, AgreesWithCountingEveryCombinationOnRandomBooks) {
    std::mt19937 random(20260301);
    for (int round = 0; round < 150; ++round) {
        const Book b = testing::random_book(random);
        for (int k = 0; k < 3; ++k) {
            const looks::Findings f = testing::random_findings(b, random);
            const Answer a = examined(b, f);
            const Counting slow(b, f, Settings{});
            double sum = a.open.unlisted + a.open.elsewhere;
            for (std::uint32_t t = 0; t < b.treatments.size(); ++t) {
                EXPECT_NEAR(odds_of(a, {t}), slow.treatment[t], 1e-12) << "round " << round;
                sum += odds_of(a, {t});
            }
            EXPECT_NEAR(sum, 1, 1e-12);
            EXPECT_NEAR(a.open.unlisted, slow.unlisted, 1e-12) << "round " << round;
            EXPECT_NEAR(a.open.elsewhere, slow.elsewhere, 1e-12) << "round " << round;
            EXPECT_NEAR(a.grade.second, slow.second, 1e-12) << "round " << round;
            for (std::size_t y = 0; y < a.date.by_year.size(); ++y) {
                const auto found = slow.year.find(a.date.first_year + static_cast<int>(y));
                EXPECT_NEAR(a.date.by_year[y], found == slow.year.end() ? 0 : found->second, 1e-12)
                    << "round " << round;
            }
            if (HasFailure()) return;
        }
    }
}

TEST(Model, FormsThatShowEveryTreatmentAlikeShareAView) {
    std::mt19937 random(20261130);
    int shared = 0;
    for (int round = 0; round < 60; ++round) {
        const Book b = testing::random_book(random);
        const auto alike = book::shown_alike(b);
        ASSERT_EQ(alike.size(), b.forms.size());
        for (std::uint32_t form = 0; form < b.forms.size(); ++form) {
            if (alike[form].at == form) continue;
            ++shared;
            looks::Findings f = testing::random_findings(b, random);
            f.form = book::Ref<book::Form>{form};
            const FormView first(b, alike[form], Settings{}), view(first, {form});
            EXPECT_EQ(view.form(), f.form);
            expect_same(examine(view, f, {}), examined(b, f), 1e-15);
        }
    }
    EXPECT_GT(shared, 20);
}

TEST(Model, ReproducesTheExampleWorkedByHand) {
    Draft d;
    const auto pottery = d.maker("pottery");
    const auto harrow = d.shape("harrow", pottery);
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto fern = d.ornament("fern-pair"), rosette = d.ornament("rosette");
    const auto t117 = d.treatment("117", harrow, oat), t162 = d.treatment("162", harrow, oat);
    d.carries(t117, Place::kRim, fern);
    d.carries(t162, Place::kRim, fern);
    d.carries(t162, Place::kCentre, rosette);
    looks::Findings f;
    f.form = plate;
    f.wear = looks::Wear::kNone;
    f.ornaments = {{{fern, .98}, Place::kRim, 0}, {{looks::Absent{}, .85}, Place::kCentre, 1}};
    const Answer a = examined(d.finish(), f);
    EXPECT_NEAR(odds_of(a, t117), 0.805477, 1e-6);
    EXPECT_NEAR(odds_of(a, t162), 0.144523, 1e-6);
    EXPECT_NEAR(a.open.unlisted, 0.025, 1e-6);
    ASSERT_EQ(a.reasons.size(), 2u);
    EXPECT_EQ(a.reasons[0].look, "centre");
    EXPECT_NEAR(a.reasons[0].weight.value, 6.6054, 1e-4);
    EXPECT_NEAR(a.reasons[1].weight.value, 0, 1e-9);
    EXPECT_EQ(a.verdict, "Most likely treatment 117 on harrow in oat (81 %).");
}

TEST(Model, DoesNotDependOnTheOrderOfLooks) {
    std::mt19937 random(7);
    for (int round = 0; round < 60; ++round) {
        const Book b = testing::random_book(random);
        looks::Findings f = testing::random_findings(b, random);
        const Answer before = examined(b, f);
        std::ranges::shuffle(f.ornaments, random);
        expect_same(before, examined(b, f), 1e-12);
    }
}

TEST(Model, ReturnsThePriorWithoutLooks) {
    std::mt19937 random(8);
    for (int round = 0; round < 40; ++round) {
        const Book b = testing::random_book(random);
        looks::Findings f;
        f.form = Ref<book::Form>{0};
        const Answer a = examined(b, f);
        for (std::uint32_t t = 0; t < b.treatments.size(); ++t)
            EXPECT_NEAR(odds_of(a, {t}), 0.95 / static_cast<double>(b.treatments.size()), 1e-12);
        EXPECT_NEAR(a.open.unlisted, 0.025, 1e-12);
        EXPECT_NEAR(a.open.elsewhere, 0.025, 1e-12);
        EXPECT_TRUE(a.reasons.empty());
        EXPECT_TRUE(a.conflicts.empty());
    }
}

TEST(Model, IsNotMovedByALookAtWhichAllCandidatesAgree) {
    std::mt19937 random(9);
    for (int round = 0; round < 40; ++round) {
        Draft d;
        d.book = testing::random_book(random);
        d.book.treatment_ornaments.clear();
        d.book.decoration_rows.clear();
        d.book.ids.clear();
        for (std::uint32_t t = 0; t < d.book.treatments.size(); ++t) d.carries({t}, Place::kRim, {0});
        const Book& b = d.finish();
        looks::Findings f = testing::random_findings(b, random);
        f.ornaments.clear();
        const Answer before = examined(b, f);
        f.ornaments.push_back({{Ref<book::Ornament>{0}, .98}, Place::kRim, 0});
        expect_same(before, examined(b, f), 1e-12);
    }
}

TEST(Model, IsNotMovedByASurenessOfOneInV) {
    std::mt19937 random(10);
    for (int round = 0; round < 60; ++round) {
        const Book b = testing::random_book(random);
        looks::Findings f = testing::random_findings(b, random);
        f.ornaments.clear();
        const Answer before = examined(b, f);
        std::vector<std::uint32_t> values;
        for (const auto& row : b.treatment_ornaments)
            if (row.place == Place::kRim && std::ranges::find(values, row.ornament.at) == values.end())
                values.push_back(row.ornament.at);
        if (values.empty()) continue;
        f.ornaments.push_back(
            {{Ref<book::Ornament>{values[0]}, 1.0 / static_cast<double>(values.size() + 1)}, Place::kRim, 0});
        expect_same(before, examined(b, f), 1e-12);
    }
}

TEST(Model, IsNotMovedByAPlaceAtWhichNoPackRecordsAnything) {
    std::mt19937 random(11);
    const Book b = testing::random_book(random);
    looks::Findings f;
    f.form = Ref<book::Form>{0};
    const Answer before = examined(b, f);
    f.ornaments.push_back({{Ref<book::Ornament>{0}, .98}, Place::kFoot, 0});
    expect_same(before, examined(b, f), 1e-12);
}

TEST(Model, SaysSoWhenNothingListedFits) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery", "", .25, .9));
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto fern = d.ornament("fern-pair"), rose = d.ornament("rose");
    d.carries(d.treatment("117", harrow, oat), Place::kRim, fern);
    d.carries(d.treatment("118", harrow, oat), Place::kRim, rose);
    looks::Findings f;
    f.form = plate;
    f.number = {"2044", .98};
    const Answer a = examined(d.finish(), f);
    EXPECT_GT(a.open.unlisted, 0.5);
    EXPECT_EQ(a.verdict.substr(0, 79),
              "Nothing in the open packs fits well: most likely a treatment that no pack lists");
}

TEST(Model, DoesNotCallTheListedOnesUnfitWhenLittleWasSeen) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    for (int i = 0; i < 90; ++i) d.treatment(std::to_string(100 + i), harrow, oat);
    Settings s;
    s.least_shown = 0;
    const Answer a = examine(FormView(d.finish(), std::nullopt, s), {});
    EXPECT_GT(a.open.unlisted, a.candidates[0].probability);
    // All ninety are twins here, so that together they are likely; a look at the number would part them.
    EXPECT_EQ(a.verdict.substr(0, 43), "Most likely treatment 100 on harrow in oat ");
    looks::Findings f;
    f.number = looks::NumberSighting{std::nullopt, .98};
    Draft e;
    const auto plough = e.shape("plough", e.maker("pottery"));
    const auto snow = e.glaze("snow");
    for (int i = 0; i < 90; ++i)
        e.carries(e.treatment(std::to_string(100 + i), plough, snow), Place::kRim,
                  e.ornament("ornament-" + std::to_string(i)));
    const Answer thin = examine(FormView(e.finish(), std::nullopt, s), f);
    EXPECT_EQ(
        thin.verdict,
        "Too little has been seen to name it: 90 listed treatments remain possible, the likeliest treatment 100 on "
        "plough in snow (1 %).");
}

TEST(Model, ADateCodeWeighsItsYearsAgainstTheOtherYearsOfTheMaker) {
    Draft d;
    const auto pottery = d.maker("pottery", "1900/1960");
    d.treatment("117", d.shape("harrow", pottery), d.glaze("oat"), book::Grade::kAny, "1924/1927");
    d.mark("m-1", pottery);
    d.book.code_schemes.push_back({"letters", "^(?<year>[A-Z])$", R"({"year": {"K": [1925, 1935]}})", "", {}, {}});
    d.book.marks.back().code_scheme = Ref<book::CodeScheme>{0};
    looks::Findings f;
    f.date_code = "K";
    Settings s;
    s.open_prior = 0;
    const Answer a = examine(FormView(d.finish(), std::nullopt, s), f);
    // 61 years of the maker, two of them decoded: .98 for 1925, .02/59 for each of 1924, 1926 and 1927.
    EXPECT_NEAR(a.date.by_year[static_cast<std::size_t>(1925 - a.date.first_year)], .98 / (.98 + 3 * .02 / 59),
                1e-12);
}

TEST(Model, ADateCodeThatNothingReadsIsSaidToWeighNothing) {
    Draft d;
    const auto pottery = d.maker("pottery", "1900/1960");
    d.treatment("117", d.shape("harrow", pottery), d.glaze("oat"), book::Grade::kAny, "1924/1927");
    const auto mark = d.mark("m-1", pottery);
    d.book.code_schemes.push_back({"letters", "^(?<year>[A-Z])$", R"({"year": {"K": [1925, 1935]}})", "", {}, {}});
    d.book.marks.back().code_scheme = Ref<book::CodeScheme>{0};
    looks::Findings f;
    f.date_code = "QQQQ";
    const FormView view(d.finish(), std::nullopt, Settings{});
    Answer a = examine(view, f);
    EXPECT_EQ(a.notes, std::vector<std::string>{
                           "The date code 'QQQQ' follows no scheme of the open packs, so it weighs nothing."});
    ASSERT_EQ(a.reasons.size(), 1u);
    EXPECT_TRUE(a.reasons[0].supports.empty()) << "no source is named for what none of them says";
    f.mark = {mark, .98};
    a = examine(view, f);
    EXPECT_EQ(a.notes, std::vector<std::string>{
                           "The date code 'QQQQ' follows no reading of this mark's scheme, so it weighs nothing."});
    f.date_code = "K";
    EXPECT_TRUE(examine(view, f).notes.empty());
}

TEST(Model, CountsMoveThePriorOnlyWhenAskedTo) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    d.treatment("117", harrow, oat);
    d.treatment("118", harrow, oat);
    const Book& b = d.finish();
    const std::vector<double> counts{5, 1};
    const Answer a = examine(FormView(b, std::nullopt, Settings{}, counts), {});
    EXPECT_NEAR(odds_of(a, {0}), .95 * 6 / 8, 1e-12);
    EXPECT_NEAR(odds_of(a, {1}), .95 * 2 / 8, 1e-12);
}

}  // namespace
}  // namespace footring::naming

// SPDX-License-Identifier: Apache-2.0
#include "services/fit.h"

#include "book/pack.h"
#include "naming/apart.h"
#include "services/test_services.h"

namespace footring::services {
namespace {

using namespace testing;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

struct Seen {
    bool fits;
    std::string state, sentence;
};
// Piece 0 in service 0.
Seen seen(const Service& given, const Owned& one, const Settings& settings = {}) {
    const book::Book book = small_book();
    const Plan made = planned({given}, book, settings);
    const std::vector<Owned> pieces{one};
    const Fitting fitting(book, made, pieces, settings);
    const Why why = fitting.why(0, 0).front();
    EXPECT_EQ(why.serves, !fitting.of(0).empty());
    return {why.serves, std::string(name_of(why.state)), why.sentence};
}
Service dinner(std::vector<Line> lines = {line({"dinner-plate"}), line({"cup"}), line({"covered-dish"})}) {
    return service("fern", {"t-11"}, composition(2, std::move(lines)));
}
Odds decided(std::uint32_t treatment) {
    Odds odds = sure_of(treatment);
    odds.decided = true;
    return odds;
}

TEST(Fit, LetsATwinAtTheFormServe) {
    const Seen cup = seen(dinner(), piece("p-1", 1, decided(1)));
    EXPECT_TRUE(cup.fits);
    EXPECT_EQ(cup.state, "interchangeable");
    EXPECT_EQ(cup.sentence,
              "You decided that it is 12 Fern. A tea cup of 11 Fern looks the same in 12, so it fits either.");
    const Seen plate = seen(dinner(), piece("p-1", 0, decided(1), 250));
    EXPECT_FALSE(plate.fits);
    EXPECT_EQ(plate.sentence,
              "You decided that it is 12 Fern, which does not look like 11 Fern on a dinner plate.");
}
TEST(Fit, KeepsALiddedDishWithTheCentreInsideToItsOwnTreatment) {
    EXPECT_TRUE(seen(dinner(), piece("p-1", 5, decided(0))).fits);
    EXPECT_EQ(seen(dinner(), piece("p-1", 5, decided(0))).state, "filled");
    EXPECT_FALSE(seen(dinner(), piece("p-1", 5, decided(1))).fits);
}
TEST(Fit, AddsTheOddsOfTwinsAndComparesThemWithTheLeast) {
    Odds split = sure_of(0, 0.3);
    split.treatments.emplace_back(Ref<Treatment>{1}, 0.4);
    const Seen cup = seen(dinner(), piece("p-1", 1, split));
    EXPECT_TRUE(cup.fits);
    EXPECT_EQ(cup.state, "doubtful");
    EXPECT_EQ(
        cup.sentence,
        "It is 11 Fern or a twin of it with odds of 70 %. A tea cup of 11 Fern looks the same in 12, so it fits "
        "either. Below 90 % it is called doubtful.");
    const Seen plate = seen(dinner(), piece("p-1", 0, split, 250));
    EXPECT_FALSE(plate.fits);
    EXPECT_EQ(plate.sentence, "The odds that it is 11 Fern are 30 %; at least 50 % are asked for.");
    Service asks_less = dinner();
    asks_less.least_odds = 0.3;
    EXPECT_TRUE(seen(asks_less, piece("p-1", 0, split, 250)).fits);
}
TEST(Fit, HoldsPiecesToTheGradeWearAndFaultsThatAreAskedFor) {
    Service firsts = dinner();
    firsts.grades = Grades::kFirst;
    firsts.worst_wear = looks::Wear::kLight;
    firsts.worst_faults = looks::Faults::kFew;
    Owned plate = piece("p-1", 0, sure_of(0), 250);
    EXPECT_TRUE(seen(firsts, plate).fits);
    plate.odds.second = 0.8;
    EXPECT_EQ(seen(firsts, plate).sentence,
              "The service takes first-run pieces only, and it is that with odds of 20 %.");
    plate.odds.second = 0;
    plate.wear = looks::Wear::kHeavy;
    EXPECT_EQ(seen(firsts, plate).sentence, "It has heavy wear; the service takes light wear at most.");
    plate.wear = looks::Wear::kLight;
    plate.faults = looks::Faults::kMany;
    EXPECT_EQ(seen(firsts, plate).sentence, "It has many faults; the service takes few faults at most.");
    plate.faults = looks::Faults::kFew;
    EXPECT_TRUE(seen(firsts, plate).fits);
    Service seconds = dinner();
    seconds.grades = Grades::kSecond;
    EXPECT_FALSE(seen(seconds, plate).fits);
}
TEST(Fit, HoldsMeasuredPiecesToATradeSizeAndAsksToMeasureOthers) {
    EXPECT_EQ(seen(dinner(), piece("p-1", 0, sure_of(0), 252)).sentence,
              "It is 11 Fern with odds of 100 %. Its 252 mm agree with 250 mm (8 in).");
    EXPECT_EQ(seen(dinner(), piece("p-1", 0, sure_of(0), 200)).sentence,
              "It measures 200 mm; the nearest trade size of this dinner plate is 225 mm (7 in).");
    EXPECT_EQ(seen(dinner(), piece("p-1", 0, sure_of(0))).sentence,
              "It was not measured, and this dinner plate was made in 2 sizes: measure it.");
    Line eight = line({"dinner-plate"});
    eight.trade_size = "8 IN.";
    EXPECT_TRUE(seen(dinner({eight}), piece("p-1", 0, sure_of(0), 249)).fits);
    EXPECT_EQ(seen(dinner({eight}), piece("p-1", 0, sure_of(0), 226)).sentence,
              "It measures 226 mm, which is the trade size 225 mm (7 in); 8 IN. is asked for.");
}
TEST(Fit, PartsMeasuredPiecesOfUnrecordedSizesWhereTheirLengthsPart) {
    const book::Book book = small_book();  // the saucer has no length on record
    const Plan made = planned({service("fern", {"t-11"}, composition(4, {line({"saucer"})}))}, book);
    const std::vector<Owned> pieces{piece("p-1", 2, sure_of(0), 150), piece("p-2", 2, sure_of(0), 170),
                                    piece("p-3", 2, sure_of(0), 153), piece("p-4", 2, sure_of(0))};
    const Fitting fitting(book, made, pieces, {});
    EXPECT_EQ(fitting.sizes(0, 0), 2u);
    EXPECT_EQ(fitting.of(0)[0].size, fitting.of(2)[0].size);
    EXPECT_NE(fitting.of(0)[0].size, fitting.of(1)[0].size);
    EXPECT_THAT(fitting.of(3), IsEmpty());
    EXPECT_EQ(fitting.why(3, 0)[0].sentence,
              "It was not measured, and the others came in several sizes: measure it.");
    EXPECT_EQ(allotted(fitting).services[0].complete, 2);  // three would mix sizes
}
TEST(Fit, LetsAnInsistedPieceStandThoughItsSizeIsNotKnown) {
    const book::Book book = small_book();
    Service insists = service("fern", {"t-11"}, composition(4, {line({"saucer"})}));
    insists.insist = {"p-3"};
    const Plan made = planned({insists}, book);
    const std::vector<Owned> pieces{piece("p-1", 2, sure_of(0), 150), piece("p-2", 2, sure_of(0), 170),
                                    piece("p-3", 2, sure_of(0))};
    const Fitting fitting(book, made, pieces, {});
    EXPECT_THAT(fitting.problems(), IsEmpty());
    EXPECT_EQ(allotted(fitting).services[0].complete, 2);
}
TEST(Fit, TakesTheSameTradeSizeOfTwoShapesForOne) {
    book::Book book = small_book();
    book.shapes.push_back({"rush", {}, "Rush", {}, "", {}, {}});
    book.treatments.push_back(
        {"t-21", {1}, Ref<book::Glaze>{0}, "21", "Plain", book::Grade::kAny, {}, "", "", {}, {}});
    book.shape_forms.push_back({{1}, {0}, "7 in.", 227, {}, {}, {}, {}, {}, {}});
    book.shape_forms.push_back({{1}, {0}, "8 in", 252, {}, {}, {}, {}, {}, {}});
    book.index();
    const Plan made = planned({service("mixed", {"t-11", "t-21"}, composition(3, {line({"dinner-plate"})}))}, book);
    const std::vector<Owned> pieces{piece("p-1", 0, sure_of(0), 226), piece("p-2", 0, sure_of(3), 227),
                                    piece("p-3", 0, sure_of(3), 252)};
    const Fitting fitting(book, made, pieces, {});
    EXPECT_EQ(fitting.sizes(0, 0), 2u);
    EXPECT_EQ(fitting.of(0)[0].size, fitting.of(1)[0].size);
    EXPECT_NE(fitting.of(0)[0].size, fitting.of(2)[0].size);
    EXPECT_EQ(allotted(fitting).complete(), 2);
}
TEST(Fit, RefusesByHandAndSaysWhyAFormHasNoPlace) {
    Service refuses = dinner();
    refuses.refuse = {"p-1"};
    EXPECT_EQ(seen(refuses, piece("p-1", 0, sure_of(0), 250)).sentence, "You refuse it here.");
    EXPECT_EQ(seen(dinner(), piece("p-1", 3, sure_of(0))).sentence, "The composition has no place for a nappy.");
    Owned formless = piece("p-1", 0, sure_of(0));
    formless.form.reset();
    EXPECT_EQ(seen(dinner(), formless).sentence, "Its form is not known: enter it first.");
}
TEST(Fit, FollowsAHandThatInsistsAgainstTheOdds) {
    Service insists = dinner();
    insists.insist = {"p-1"};
    const Seen plate = seen(insists, piece("p-1", 0, decided(2), 226));
    EXPECT_TRUE(plate.fits);
    EXPECT_EQ(plate.state, "doubtful");
    EXPECT_EQ(plate.sentence,
              "You insist on it here. Otherwise it would not serve: You decided that it is 13 Key, which does not "
              "look like 11 Fern on a dinner plate.");
}

std::vector<std::string> impossible(const std::vector<Service>& services, const std::vector<Owned>& pieces) {
    const book::Book book = small_book();
    const Plan made = planned(services, book);
    const Fitting fitting(book, made, pieces, {});
    std::vector<std::string> out;
    const auto got = allot(fitting, {});
    if (!got)
        for (const Problem& problem : got.error()) out.push_back(to_line(problem));
    return out;
}
TEST(Insistence, NamesExactlyWhatCannotBe) {
    Service two = service("fern", {"t-11"}, composition(2, {line({"cup"}), line({"saucer"})}));
    const std::vector<Owned> pieces{piece("p-1", 1, sure_of(0)), piece("p-2", 1, sure_of(0)),
                                    piece("p-3", 1, sure_of(0)), piece("p-4", 0, sure_of(0), 250)};
    two.insist = {"p-3", "p-1", "p-2"};
    EXPECT_THAT(
        impossible({two}, pieces),
        ElementsAre("fern: insist: 3 pieces are insisted on for 2 places (tea cup): p-1, p-2, p-3: take one of "
                    "them off the list, or make the service larger"));
    two.insist = {"p-9", "p-4"};
    EXPECT_THAT(
        impossible({two}, pieces),
        ElementsAre("fern: insist: there is no piece 'p-9': check its id, or take it off the list",
                    "fern: insist: 'p-4' is a dinner plate, and the composition has no place for one: take it "
                    "off the list, or add a line for its form"));
    two.insist = {"p-1"};
    Service other = two;
    other.id = other.name = "other";
    EXPECT_THAT(
        impossible({two, other}, pieces),
        ElementsAre("other: insist: 'p-1' is insisted on in fern as well: a piece stands at one place: keep "
                    "one of the two"));
}
TEST(Insistence, IsKeptWhereItCostsASetting) {
    const book::Book book = small_book();
    Service fern = service("fern", {"t-11"}, composition(1, {line({"cup"}), line({"saucer"})}));
    Service cups = service("cups", {"t-11"}, composition(1, {line({"cup"})}, {line({"nappy"})}));
    const std::vector<Owned> pieces{piece("p-1", 1, sure_of(0)), piece("p-2", 2, sure_of(0))};
    const Plan free = planned({fern, cups}, book);
    EXPECT_EQ(allotted(Fitting(book, free, pieces, {})).complete(), 1);
    cups.insist = {"p-1"};
    const Plan fixed = planned({fern, cups}, book);
    const Allotment got = allotted(Fitting(book, fixed, pieces, {}));
    EXPECT_EQ(got.services[0].complete, 0);
    EXPECT_EQ(got.services[1].complete, 1);
}
TEST(Budget, RefusesANegativeOne) {
    const book::Book book = small_book();
    const Plan made = planned({dinner()}, book);
    const std::vector<Owned> none;
    const Fitting fitting(book, made, none, {});
    AllotOptions options;
    options.objective = Objective::kPurchase;
    options.budget = -5;
    const auto got = allot(fitting, options);
    ASSERT_FALSE(got);
    EXPECT_EQ(to_line(got.error().front()),
              "budget: -5 is no budget: give an amount that is not negative, or none for no limit");
}

TEST(Twins, AreThoseThatNamingFindsAtEachFormOfTheDemoPack) {
    const auto book = book::read_packs({std::string(FOOTRING_ROOT) + "/packs/ambrel-valley"});
    ASSERT_TRUE(book);
    std::size_t pairs = 0;
    for (std::uint32_t f = 0; f < book->forms.size(); ++f) {
        std::vector<std::uint32_t> group(book->treatments.size());
        for (std::uint32_t t = 0; t < group.size(); ++t) group[t] = t;
        for (const auto& twins : naming::twins(*book, Ref<Form>{f}))
            for (const auto t : twins) group[t.at] = twins.front().at;
        for (std::uint32_t a = 0; a < group.size(); ++a)
            for (std::uint32_t b = a + 1; b < group.size(); ++b) {
                ASSERT_EQ(look_alike(*book, {a}, {b}, {f}), group[a] == group[b])
                    << book->treatments[a].id << " and " << book->treatments[b].id << " on " << book->forms[f].id;
                pairs += group[a] == group[b] ? 1 : 0;
            }
    }
    EXPECT_GT(pairs, 100u);
}

}  // namespace
}  // namespace footring::services

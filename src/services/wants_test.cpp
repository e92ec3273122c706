// SPDX-License-Identifier: Apache-2.0
#include "services/wants.h"

#include "services/services_json.h"
#include "services/test_services.h"

namespace footring::services {
namespace {

using namespace testing;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

// A plan over small_book() with its pieces and its allotment, kept together.
struct Laid {
    explicit Laid(std::vector<Service> services, std::vector<Owned> owned, AllotOptions asked = {})
        : book(small_book()),
          made(planned(services, book)),
          pieces(std::move(owned)),
          fitting(book, made, pieces, {}),
          options(std::move(asked)),
          allotment(allotted(fitting, options)) {}
    Found find(Owned one) const {
        auto all = pieces;
        all.push_back(std::move(one));
        const Fitting with(book, made, all, {});
        const auto got = found(with, allotment, options);
        if (!got) throw std::runtime_error(to_line(got.error().front()));
        return *got;
    }
    book::Book book;
    Plan made;
    std::vector<Owned> pieces;
    Fitting fitting;
    AllotOptions options;
    Allotment allotment;
};
Service tea(const std::string& id, int settings = 2, const char* treatment = "t-11") {
    Service out = service(id, {treatment},
                          composition(settings, {line({"cup"}), line({"saucer"})}, {line({"nappy", "baker"})}));
    return out;
}
std::vector<std::string> sentences(const Wants& wants) {
    std::vector<std::string> out;
    for (const WantStep& step : wants.steps) out.push_back(step.sentence);
    return out;
}
const Prices kPrices(
    {{{}, Ref<Form>{1}, 8}, {{}, Ref<Form>{2}, 3}, {{}, Ref<Form>{3}, 20}, {{}, Ref<Form>{4}, 15}});

TEST(Wants, PutTheCheapestNextSettingFirst) {
    const Laid laid({tea("Fern", 3)},
                    {piece("p-1", 1, sure_of(0)), piece("p-2", 1, sure_of(0)), piece("p-3", 2, sure_of(0))});
    const Wants got = wants(laid.fitting, laid.allotment, kPrices);
    EXPECT_THAT(sentences(got), ElementsAre("Completes setting 2 of 3 in Fern: 1 saucer.",
                                            "Completes setting 3 of 3 in Fern: 1 tea cup, 1 saucer.",
                                            "Fills a serving place in Fern: 1 nappy."));
    EXPECT_EQ(got.steps[1].so_far, 14);
    EXPECT_EQ(got.cost, 29);
    EXPECT_EQ(got.pieces, 4);
    EXPECT_EQ(carried_text(laid.fitting, got, kPrices),
              "Fern\n"
              "[ ] 1 x Tea cup reg., 11 Fern (the same as 12), about 8.00 each\n"
              "[ ] 2 x Saucer, 11 Fern, about 3.00 each\n"
              "[ ] 1 x Baker 7 in (or nappy), 11 Fern, about 15.00 each\n");
}
TEST(Wants, ShowAnEstimateWithItsRangeAndWhereItComesFrom) {
    Prices estimated({{{}, Ref<Form>{1}, 8.4, Grades::kMixed, Range{4.2, 17.3}}, {{}, {}, 31}});
    estimated.currency = "USD";
    estimated.basis = "Estimates from 40 sales.";
    const Laid laid({tea("Fern", 1)}, {piece("p-1", 2, sure_of(0)), piece("p-2", 3, sure_of(0))});
    EXPECT_EQ(carried_text(laid.fitting, wants(laid.fitting, laid.allotment, estimated), estimated),
              "Fern\n"
              "[ ] 1 x Tea cup reg., 11 Fern (the same as 12), about 8.4 USD (4.2 to 17) each\n"
              "\nEstimates from 40 sales.\n");
}
TEST(Wants, AgreeInTradeSizeWithWhatStandsThere) {
    const Laid laid({service("Fern", {"t-11"}, composition(2, {line({"dinner-plate"})}))},
                    {piece("p-1", 0, sure_of(0), 226)});
    const Wants got = wants(laid.fitting, laid.allotment, {});
    EXPECT_EQ(carried_text(laid.fitting, got, {}), "Fern\n[ ] 1 x Dinner plate 7 in, 11 Fern\n");
}
// The steps in order complete as many settings for each sum as any purchase that leaves the pieces where they are.
TEST(Wants, CompleteMostForEachSum) {
    std::mt19937 random(21);
    for (int n = 0; n < 60; ++n) {
        const Case one = random_case(random, 10);
        const Laid laid(one.services, one.pieces);
        const Wants got = wants(laid.fitting, laid.allotment, kPrices);
        double last = 0;
        std::map<std::uint32_t, int> settings;
        for (const WantStep& step : got.steps) {
            ASSERT_GE(step.cost, last - 1e-9);
            last = step.cost;
            if (step.setting == 0) continue;
            // Settings of a service come in their order, so that none is counted that an earlier one lacks.
            auto& next =
                settings.try_emplace(step.service, laid.allotment.services[step.service].complete).first->second;
            ASSERT_EQ(step.setting, ++next);
        }
        // All steps together leave no place empty that can be filled.
        std::size_t empty = 0;
        for (std::uint32_t s = 0; s < laid.allotment.services.size(); ++s)
            for (const PlaceTaken& place : laid.allotment.services[s].taken)
                empty += !place.piece && offer(laid.fitting, kPrices, s, place.line) ? 1u : 0u;
        ASSERT_EQ(static_cast<std::size_t>(got.pieces), empty);
    }
}
TEST(Wants, BeginWithWhatAPurchaseBuys) {
    AllotOptions options;
    options.objective = Objective::kPurchase;
    options.budget = 11;
    options.prices = kPrices;
    const Laid laid({tea("Fern", 2)}, {}, options);
    EXPECT_EQ(laid.allotment.complete(), 1);
    EXPECT_EQ(laid.allotment.spent, 11);
    EXPECT_THAT(sentences(wants(laid.fitting, laid.allotment, kPrices)),
                ElementsAre("Of the purchase: 1 tea cup for 1 setting complete in Fern.",
                            "Of the purchase: 1 saucer for 1 setting complete in Fern.",
                            "Completes setting 2 of 2 in Fern: 1 tea cup, 1 saucer.",
                            "Fills a serving place in Fern: 1 nappy."));
}

TEST(Parting, TellsDuplicatesFromStrays) {
    const Laid laid({tea("Fern", 1)}, {piece("p-1", 1, sure_of(0)), piece("p-2", 1, sure_of(0)),
                                       piece("p-3", 1, sure_of(2)), piece("p-4", 0, sure_of(0), 250)});
    std::vector<std::string> got;
    for (const Parted& one : parting(laid.fitting, laid.allotment))
        got.push_back(laid.pieces[one.piece].id + (one.stray ? " stray: " : " duplicate: ") + one.sentence);
    EXPECT_THAT(got, ElementsAre("p-2 duplicate: It fits Fern (tea cup), where each place is taken.",
                                 "p-3 stray: It fits none of the services being built.",
                                 "p-4 stray: It fits none of the services being built."));
}

TEST(AFind, SaysWhichSettingItCompletes) {
    const Laid laid({tea("Fern", 2)},
                    {piece("p-1", 1, sure_of(0)), piece("p-2", 1, sure_of(0)), piece("p-3", 2, sure_of(0))});
    EXPECT_EQ(laid.find(piece("f", 2, sure_of(0))).sentence, "Completes setting 2 of 2 in Fern.");
    EXPECT_EQ(laid.find(piece("f", 2, sure_of(0))).gain, 1);
    EXPECT_EQ(laid.find(piece("f", 1, sure_of(0))).sentence, "A spare tea cup for Fern: each place is taken.");
    EXPECT_EQ(laid.find(piece("f", 3, sure_of(0))).sentence, "Fills the serving place nappy in Fern.");
    EXPECT_EQ(laid.find(piece("f", 2, sure_of(2))).sentence, "It fits none of the services being built.");
}
TEST(AFind, SaysWhatASettingStillLacks) {
    const Laid laid({tea("Fern", 2)}, {piece("p-1", 1, sure_of(0))});
    EXPECT_EQ(laid.find(piece("f", 1, sure_of(0))).sentence,
              "Goes into setting 2 of 2 in Fern, which then still lacks saucer.");
}
TEST(AFind, CountsTheServicesThatItWouldComplete) {
    const Laid laid({tea("Fern", 1), tea("Rose", 1, "t-12")},
                    {piece("p-1", 2, sure_of(0)), piece("p-2", 2, sure_of(1))});
    const Found got = laid.find(piece("f", 1, sure_of(0)));
    EXPECT_EQ(got.sentence, "Completes setting 1 of 1 in 2 services: Fern and Rose; it can stand in one.");
    EXPECT_EQ(got.places.size(), 2u);
}
// A find may complete a setting elsewhere: here it takes the place of a cup that fits both.
TEST(AFind, FreesAPieceForAnotherService) {
    Service rose = tea("Rose", 1, "t-12");
    rose.refuse = {"f"};
    const Laid laid({tea("Fern", 1), rose}, {piece("p-1", 1, sure_of(0)), piece("p-2", 2, sure_of(0)),
                                             piece("p-3", 2, sure_of(1)), piece("f", 6, sure_of(0))});
    ASSERT_EQ(laid.allotment.complete(), 1);
    auto pieces = laid.pieces;
    pieces.pop_back();
    pieces.push_back(piece("f", 1, sure_of(0)));
    const Fitting with(laid.book, laid.made, pieces, {});
    const auto got = found(with, laid.allotment, {});
    ASSERT_TRUE(got);
    EXPECT_EQ(got->gain, 1);
    EXPECT_EQ(got->places.size(), 1u);
}

TEST(Comparison, NamesThePiecesThatStandOtherwise) {
    EXPECT_THAT(
        moved({{"p-1", "Fern, cup"}, {"p-2", "Fern, cup"}}, {{"p-2", "Rose, cup"}, {"p-3", "Rose, saucer"}}),
        ::testing::SizeIs(3));
    EXPECT_THAT(moved({{"p-1", "Fern, cup"}}, {{"p-1", "Fern, cup"}}), IsEmpty());
}

TEST(ServicesJson, ShowsEachPlaceWithItsStateAndWhy) {
    Service fern = tea("fern", 1);
    const Laid laid({fern}, {piece("p-1", 1, sure_of(1)), piece("p-2", 2, sure_of(0, 0.7))});
    const auto got = allotment_json(laid.fitting, laid.allotment, {});
    EXPECT_EQ(got["complete"], 1);
    EXPECT_EQ(got["proved"], true);
    const auto& places = got["services"][0]["table"][0]["places"];
    EXPECT_EQ(places[0]["state"], "interchangeable");
    EXPECT_EQ(places[0]["piece"], "p-1");
    EXPECT_EQ(places[1]["state"], "doubtful");
    EXPECT_EQ(places[1]["odds"], 0.7);
    EXPECT_EQ(got["services"][0]["serving"][0]["state"], "missing");
    EXPECT_EQ(got["services"][0]["serving"][0]["why"], "Missing: no nappy or baker is left that may serve.");
    EXPECT_EQ(got["notes"][0], "Complete settings: 1, and nothing better is possible.");
}

}  // namespace
}  // namespace footring::services

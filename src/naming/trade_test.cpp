// Facts of the trade. Each is common practice, no published source; the Books are invented.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "naming/apart.h"
#include "naming/examine.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

using book::Grade;
using book::Place;
using book::Ref;
using testing::Draft;
using testing::examined;
using testing::odds_of;

looks::OrnamentSighting saw(Place place, Ref<book::Ornament> o, double sure = .98) { return {{o, sure}, place, 0}; }
looks::OrnamentSighting bare(Place place, double sure = .98) { return {{looks::Absent{}, sure}, place, 0}; }

struct Pair : Draft {
    Ref<book::Maker> pottery = maker("pottery", "1900/1960");
    Ref<book::Shape> harrow = shape("harrow", pottery);
    Ref<book::Glaze> oat = glaze("oat");
    Ref<book::Form> plate = form("plate", book::Ware::kFlat);
    Ref<book::Form> cup = form("cup", book::Ware::kHollow);
    Ref<book::Form> covered = form("covered-dish", book::Ware::kHollow);
    Ref<book::Ornament> fern = ornament("fern-pair");
    Ref<book::Ornament> rosette = ornament("rosette");
    Ref<book::Treatment> plain = treatment("117", harrow, oat);
    Ref<book::Treatment> centred = treatment("162", harrow, oat);
    Pair() {
        for (const auto t : {plain, centred}) carries(t, Place::kRim, fern);
        carries(centred, Place::kCentre, rosette, "flat");
        carries(centred, Place::kInside, rosette, "covered-dish");
    }
};

TEST(Trade, HollowPiecesThatDifferOnlyInACentreOrnamentAreTwins) {
    Pair p;
    const auto& b = p.finish();
    looks::Findings f;
    f.form = p.cup;
    f.ornaments = {saw(Place::kRim, p.fern)};
    const Answer a = examined(b, f);
    EXPECT_NEAR(odds_of(a, p.plain), odds_of(a, p.centred), 1e-12);
    ASSERT_FALSE(a.candidates.empty());
    EXPECT_THAT(a.candidates[0].twins, ::testing::ElementsAre(p.centred));
    EXPECT_THAT(twins(b, p.cup), ::testing::SizeIs(1));
    EXPECT_THAT(twins(b, p.plate), ::testing::IsEmpty());
}

TEST(Trade, ALiddedDishThatCarriesTheOrnamentInsideSeparatesTheTwins) {
    Pair p;
    const auto& b = p.finish();
    looks::Findings f;
    f.form = p.covered;
    f.ornaments = {saw(Place::kRim, p.fern), saw(Place::kInside, p.rosette)};
    const Answer a = examined(b, f);
    EXPECT_GT(odds_of(a, p.centred), 0.9);
    EXPECT_THAT(a.candidates[0].twins, ::testing::IsEmpty());
    EXPECT_THAT(apart(b, p.cup, {p.plain, p.centred}).telling_forms, ::testing::ElementsAre(p.plate, p.covered));
}

TEST(Trade, TwoNumbersOnOneLookAndShapeAreTwoGradesThatFaultsTell) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto fern = d.ornament("fern-pair");
    const auto first = d.treatment("117", harrow, oat, Grade::kFirst);
    const auto second = d.treatment("1117", harrow, oat, Grade::kSecond);
    for (const auto t : {first, second}) d.carries(t, Place::kRim, fern);
    const auto& b = d.finish();
    looks::Findings f;
    f.form = plate;
    f.ornaments = {saw(Place::kRim, fern)};
    EXPECT_NEAR(odds_of(examined(b, f), first), odds_of(examined(b, f), second), 1e-12);
    f.faults = looks::Faults::kMany;
    EXPECT_GT(odds_of(examined(b, f), second), 10 * odds_of(examined(b, f), first));
    f.faults = looks::Faults::kNone;
    EXPECT_GT(odds_of(examined(b, f), first), 5 * odds_of(examined(b, f), second));
}

TEST(Trade, AStampBoughtFromASupplierDoesNotNameThePottery) {
    Draft d;
    const auto north = d.maker("north"), south = d.maker("south");
    const auto harrow = d.shape("harrow", north), plough = d.shape("plough", south);
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto shared = d.ornament("fern-pair"), own = d.ornament("rosette");
    const auto a = d.treatment("117", harrow, oat), b = d.treatment("22", plough, oat);
    const auto c = d.treatment("118", harrow, oat);
    d.carries(a, Place::kRim, shared);
    d.carries(b, Place::kRim, shared);
    d.carries(c, Place::kRim, own);
    const auto& book = d.finish();
    looks::Findings f;
    f.form = plate;
    f.ornaments = {saw(Place::kRim, shared)};
    const Answer answer = examined(book, f);
    EXPECT_NEAR(odds_of(answer, a), odds_of(answer, b), 1e-12);
    f.ornaments = {saw(Place::kRim, own)};
    EXPECT_GT(odds_of(examined(book, f), c), 0.9);
}

TEST(Trade, GoldOnHandlesAndEdgesWearsAwayBeforeGoldOnTheRim) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    const auto cup = d.form("cup", book::Ware::kHollow);
    const auto gold = d.ornament("gold-band");
    const auto rim = d.treatment("1", harrow, oat), edge = d.treatment("2", harrow, oat),
               handle = d.treatment("3", harrow, oat);
    d.carries(rim, Place::kRim, gold);
    d.carries(edge, Place::kEdge, gold);
    d.carries(handle, Place::kHandle, gold);
    const auto& b = d.finish();
    for (const auto wear : {looks::Wear::kLight, looks::Wear::kModerate, looks::Wear::kHeavy}) {
        looks::Findings f;
        f.form = cup;
        f.wear = wear;
        f.ornaments = {bare(Place::kRim), bare(Place::kEdge), bare(Place::kHandle)};
        const Answer a = examined(b, f);
        EXPECT_GT(odds_of(a, edge), odds_of(a, rim));
        EXPECT_NEAR(odds_of(a, edge), odds_of(a, handle), 1e-12);
    }
}

TEST(Trade, AnUnmarkedPieceIsNamedFromShapeGlazeAndOrnamentsTogether) {
    Draft d;
    const auto pottery = d.maker("pottery");
    std::vector<Ref<book::Shape>> shapes;
    std::vector<Ref<book::Glaze>> glazes;
    std::vector<Ref<book::Ornament>> ornaments;
    for (int i = 0; i < 4; ++i) {
        shapes.push_back(d.shape("shape-" + std::to_string(i), pottery));
        glazes.push_back(d.glaze("glaze-" + std::to_string(i)));
        ornaments.push_back(d.ornament("ornament-" + std::to_string(i)));
    }
    const auto plate = d.form("plate", book::Ware::kFlat);
    std::vector<Ref<book::Treatment>> treatments;
    for (unsigned i = 0; i < 64; ++i) {
        treatments.push_back(d.treatment(std::to_string(100 + i), shapes[i % 4], glazes[i / 4 % 4]));
        d.carries(treatments.back(), Place::kRim, ornaments[i / 16]);
    }
    const auto& b = d.finish();
    looks::Findings f;
    f.form = plate;
    f.mark = looks::Sighting<book::Mark>{looks::Absent{}, .98};
    f.number = looks::NumberSighting{std::nullopt, .98};
    f.shape = {shapes[1], .98};
    f.glaze = {glazes[2], .98};
    f.ornaments = {saw(Place::kRim, ornaments[3])};
    const Answer a = examined(b, f);
    EXPECT_EQ(a.candidates[0].treatment, treatments[3 * 16 + 2 * 4 + 1]);
    EXPECT_GT(a.candidates[0].probability, 0.8);
}

TEST(Trade, AGlazeIntroducedInAYearDatesEveryPieceThatCarriesItToThatYearOrLater) {
    Draft d;
    const auto pottery = d.maker("pottery", "1890/1970");
    const auto harrow = d.shape("harrow", pottery, "1910/1950");
    const auto old_glaze = d.glaze("snow", "1900/.."), new_glaze = d.glaze("oat", "1931/..");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto early = d.treatment("117", harrow, old_glaze), late = d.treatment("118", harrow, new_glaze);
    (void)early;
    (void)late;
    const auto& b = d.finish();
    looks::Findings f;
    f.form = plate;
    f.glaze = {new_glaze, 1.0};
    Settings s;
    s.open_prior = 0;
    const Answer a = examined(b, f, s);
    double before = 0;
    for (std::size_t y = 0; y < a.date.by_year.size(); ++y)
        if (a.date.first_year + static_cast<int>(y) < 1931) before += a.date.by_year[y];
    EXPECT_EQ(before, 0);
    EXPECT_EQ(a.date.hpd95.first, 1931);
}

TEST(Trade, ASecondMarkOverTheGlazeOutweighsTheNumbersOwnGrade) {
    Draft d;
    const auto pottery = d.maker("pottery", "1900/1960");
    const auto harrow = d.shape("harrow", pottery);
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    d.treatment("117", harrow, oat, Grade::kFirst);
    // A reference of the usual size: a few marks of this pottery, many of others that could be misread for them.
    const auto other = d.maker("other");
    for (int i = 0; i < 3; ++i) d.mark("mark-" + std::to_string(i), pottery);
    for (int i = 0; i < 20; ++i) d.mark("other-" + std::to_string(i), other);
    const auto second = d.mark("second-cut", pottery, "", true);
    const auto& b = d.finish();
    looks::Findings f;
    f.form = plate;
    f.number = looks::NumberSighting{"117", .98};
    EXPECT_LT(examined(b, f).grade.second, 0.1);
    f.mark = {second, .98};
    EXPECT_GT(examined(b, f).grade.second, 0.5);
}

TEST(Trade, AnOversizePieceInADecalPlusStampNeedNotBelongToAnyListedTreatment) {
    // A specialty piece carries a decal and a stamp that no listed treatment combines: the answer must leave room.
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    const auto tray = d.form("celery-tray", book::Ware::kFlat);
    std::vector<Ref<book::Ornament>> stamps, decals;
    for (int i = 0; i < 6; ++i) {
        stamps.push_back(d.ornament("stamp-" + std::to_string(i)));
        decals.push_back(d.ornament("decal-" + std::to_string(i), "rose", book::OrnamentKind::kDecal));
    }
    for (unsigned i = 0; i < 6; ++i) {
        const auto t = d.treatment(std::to_string(100 + i), harrow, oat);
        d.carries(t, Place::kRim, stamps[i]);
        d.carries(t, Place::kCentre, decals[i]);
    }
    const auto& b = d.finish();
    looks::Findings f;
    f.form = tray;
    f.ornaments = {saw(Place::kRim, stamps[0]), saw(Place::kCentre, decals[3])};
    const Answer a = examined(b, f);
    EXPECT_GT(a.open.unlisted + a.open.elsewhere, 0.15);
    f.ornaments = {saw(Place::kRim, stamps[0]), saw(Place::kCentre, decals[0])};
    EXPECT_LT(examined(b, f).open.unlisted + examined(b, f).open.elsewhere, 0.03);
}

}  // namespace
}  // namespace footring::naming

// SPDX-License-Identifier: Apache-2.0
#include "photo/ornaments.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "book/pack.h"
#include "photo/library.h"
#include "photo/seen_border.h"
#include "photo/test_strips.h"

namespace footring::photo {
namespace {
using ::testing::ElementsAre;
using testing::laid_border;
using testing::laid_centre;
using testing::Random;

const book::Book& demo() {
    static const book::Book book = book::read_packs({FOOTRING_ROOT "/packs/ambrel-valley"}).value();
    return book;
}
const Ornaments& demo_ornaments() {
    static const Ornaments ornaments(demo());
    return ornaments;
}
const book::Ornament& demo_ornament(const std::string& id) {
    return demo()[book::find<book::Ornament>(demo(), id, "test").value()];
}

// Ornaments that run along a rim, or that stand in a middle.
std::vector<const book::Ornament*> used(const book::Book& book, bool centre) {
    std::vector<const book::Ornament*> out;
    for (const auto& o : book.ornaments) {
        using enum book::OrnamentKind;
        if (o.kind == kRelief || o.kind == kLine) continue;
        const bool runs = o.repeats.has_value() || o.kind == kBand || o.kind == kSolid;
        if (runs != centre) out.push_back(&o);
    }
    return out;
}

struct Tally {
    int all = 0, first = 0, three = 0, counted = 0, repeats = 0, turned = 0;
    std::string missed;
};
std::string top(const std::vector<Scored>& found) {
    std::string out;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, found.size()); ++i)
        out += fmt::format(" {} {:.2f}", found[i].id, found[i].score);
    return out;
}
void rank(Tally& tally, const std::vector<Scored>& found, const std::string& id) {
    const auto at = std::ranges::find(found, id, &Scored::id) - found.begin();
    const bool there = at < static_cast<std::ptrdiff_t>(found.size());
    ++tally.all;
    tally.first += there && at == 0;
    tally.three += there && at < 3;
    if (!there || at > 0) tally.missed += fmt::format("\n  {}:{}", id, top(found));
}
Tally borders(const book::Book& book, const Ornaments& ornaments, unsigned seed) {
    Tally out;
    Random random(seed);
    for (const auto* o : used(book, false)) {
        const auto laid = laid_border(*o, random, {0.5});
        const BorderMatch found = ornaments.border(laid.seen);
        rank(out, found.ornaments, o->id);
        if (!o->repeats) continue;
        ++out.counted;
        out.repeats += found.repeats == laid.tiles;
        if (found.repeats != laid.tiles)
            out.missed += fmt::format("\n  {}: {} for {}", o->id, found.repeats.value_or(0), laid.tiles);
    }
    return out;
}
Tally centres(const book::Book& book, const Ornaments& ornaments, unsigned seed) {
    Tally out;
    Random random(seed);
    for (const auto* o : used(book, true)) {
        const auto laid = laid_centre(*o, random, {0.4});
        rank(out, ornaments.centre(laid.seen).ornaments, o->id);
    }
    return out;
}
std::string said(const Tally& t) {
    return fmt::format("{} seen, {} first, {} within three; {} of {} counts{}", t.all, t.first, t.three, t.repeats,
                       t.counted, t.missed);
}

TEST(Ornaments, BordersOfTheDemoPackAreFoundThoughWornUpToAHalf) {
    const Tally t = borders(demo(), demo_ornaments(), 1);
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.99 * t.all) << said(t);
    EXPECT_GE(t.repeats, 0.95 * t.counted) << said(t);
}
TEST(Ornaments, CentresOfTheDemoPackAreFoundThoughTurnedAndWorn) {
    const Tally t = centres(demo(), demo_ornaments(), 5);
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.99 * t.all) << said(t);
}
TEST(Ornaments, BordersAndCentresOfAnotherPackAreFound) {
    const book::Book other = testing::random_book(40, 40, 77);
    const Ornaments ornaments(other);
    const Tally b = borders(other, ornaments, 2), c = centres(other, ornaments, 2);
    EXPECT_GE(b.first, 0.95 * b.all) << said(b);
    EXPECT_GE(b.three, 0.99 * b.all) << said(b);
    EXPECT_GE(b.repeats, 0.95 * b.counted) << said(b);
    EXPECT_GE(c.first, 0.95 * c.all) << said(c);
    EXPECT_GE(c.three, 0.99 * c.all) << said(c);
}
TEST(Ornaments, WhatNoPackHasScoresLow) {
    Random random(5);
    const book::Book other = testing::random_book(20, 20, 79);
    double border = 0, centre = 0;
    for (const auto* o : used(other, false))
        border += demo_ornaments().border(laid_border(*o, random).seen).ornaments.at(0).score / 20;
    for (const auto* o : used(other, true))
        centre += demo_ornaments().centre(laid_centre(*o, random).seen).ornaments.at(0).score / 20;
    EXPECT_LT(border, 0.15);
    EXPECT_LT(centre, 0.15);
}

TEST(Ornaments, FinishTellsApartTheSameDrawingInGoldAndInSilver) {
    Random random(8);
    for (const char* id : {"lace-edge", "silver-lace", "star-dot", "silver-star"})
        EXPECT_EQ(demo_ornaments().border(laid_border(demo_ornament(id), random, {0.2}).seen).ornaments.at(0).id,
                  id);
}
TEST(Ornaments, MirroredIsAnotherBorder) {
    Random random(9);
    auto laid = laid_border(demo_ornament("wave-scroll"), random, {0.1});
    const double right = demo_ornaments().border(laid.seen).ornaments.at(0).score;
    cv::flip(laid.seen.strip_ink, laid.seen.strip_ink, 1);
    cv::flip(laid.seen.strip_unsure, laid.seen.strip_unsure, 1);
    const auto mirrored = demo_ornaments().border(laid.seen).ornaments;
    EXPECT_GT(right, 0.8);
    EXPECT_TRUE(mirrored.at(0).id != "wave-scroll" || mirrored.at(0).score < 0.5) << top(mirrored);
}
TEST(Ornaments, TilesAreCountedThoughTheirMotifRepeatsInThem) {
    // Two beads to a tile: the ribbon shows twice as many repeats as tiles.
    book::Book book;
    book.packs.push_back({});
    book::Ornament beads;
    beads.id = beads.name = "beads";
    beads.finish = "gold";
    beads.repeats = 20;
    beads.drawing_data = book::data_uri(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 100 100'><path d='M0 50a25 25 0 1 0 50 0a25 25 0 1 "
        "0-50 "
        "0zM50 50a25 25 0 1 0 50 0a25 25 0 1 0-50 0zM24 90h2v10h-2zM74 90h2v10h-2z'/></svg>");
    book.ornaments = {beads};
    book.index();
    Random random(3);
    const auto laid = laid_border(beads, random, {0.2});
    ASSERT_EQ(laid.seen.count, 2 * laid.tiles);
    EXPECT_EQ(Ornaments(book).border(laid.seen).repeats, laid.tiles);
}
TEST(Ornaments, OneRepeatAloneIsEnough) {
    Random random(4);
    auto laid = laid_border(demo_ornament("fern-pair"), random, {0.2});
    laid.seen.strip_ink = cv::Mat(), laid.seen.strip_unsure = cv::Mat();
    const auto found = demo_ornaments().border(laid.seen);
    EXPECT_EQ(found.ornaments.at(0).id, "fern-pair");
    EXPECT_EQ(found.repeats, laid.tiles);
}

TEST(Ornaments, TurnOfACentreIsGivenWithinItsSymmetry) {
    Random random(6);
    for (const auto& [id, symmetry] : {std::pair("basket-bouquet", 1), {"wren-bough", 1}, {"compass-star", 4}})
        for (int i = 0; i < 3; ++i) {
            const auto laid = laid_centre(demo_ornament(id), random, {0.15});
            const CentreMatch found = demo_ornaments().centre(laid.seen);
            ASSERT_EQ(found.ornaments.at(0).id, id);
            const double period = 360.0 / symmetry, off = found.angle_deg - laid.angle_deg;
            EXPECT_NEAR(off - period * std::round(off / period), 0, 4) << id;
            EXPECT_LE(std::abs(found.angle_deg), period / 2 + 1e-6);
        }
}

TEST(Ornaments, LinesAreToldByColourAndWidth) {
    Line line;
    line.present = 0.99;
    const auto best = [&](const char* colour, double mm) {
        line.colour = colour, line.width_mm = mm;
        return demo_ornaments().line(line).at(0).id;
    };
    EXPECT_EQ(best("gold", 1.3), "gold-line");
    EXPECT_EQ(best("gold", 0.35), "gold-hairline");
    EXPECT_EQ(best("blue", 1.5), "blue-line");
    EXPECT_EQ(best("cobalt", 7), "cobalt-band");
    line.colour.clear();
    EXPECT_TRUE(demo_ornaments().line(line).empty()) << "no line, no ornament";
}

TEST(Ornaments, NameTheFinishThatLikelyOnesAreRecordedUnder) {
    const Ornaments& ornaments = demo_ornaments();
    EXPECT_EQ(ornaments.recorded_finish({{"poppy-meadow", 0.8}, {"key-band", 0.1}}), "red");
    // It is not known which, but both are gold.
    EXPECT_EQ(ornaments.recorded_finish({{"gold-line", 0.45}, {"gold-hairline", 0.4}}), "gold");
    EXPECT_EQ(ornaments.recorded_finish({{"poppy-meadow", 0.4}, {"violet-posy", 0.4}}), "");
    EXPECT_EQ(ornaments.recorded_finish({{"no-such-thing", 0.9}}), "");
    EXPECT_EQ(ornaments.recorded_finish({}), "");
}

TEST(Ornaments, AnswersAreTheSameEachTime) {
    Random random(12);
    const auto laid = laid_border(demo_ornament("ivy-trail"), random);
    const auto turned = laid_centre(demo_ornament("mill-view"), random);
    const Ornaments again(demo());
    const auto a = demo_ornaments().border(laid.seen), b = again.border(laid.seen);
    const auto c = demo_ornaments().centre(turned.seen), d = again.centre(turned.seen);
    ASSERT_EQ(a.ornaments.size(), b.ornaments.size());
    for (std::size_t i = 0; i < a.ornaments.size(); ++i) {
        EXPECT_EQ(a.ornaments[i].id, b.ornaments[i].id);
        EXPECT_EQ(a.ornaments[i].score, b.ornaments[i].score);
    }
    EXPECT_EQ(c.angle_deg, d.angle_deg);
}

TEST(Ornaments, ADrawingThatHardlyFitsDoesNotChangeTheCount) {
    Random random(3);
    const book::Book other = testing::random_book(20, 0, 81);
    int odd = 0;
    for (const auto* o : used(other, false)) {
        const auto seen = laid_border(*o, random, {0.2}).seen;
        const BorderMatch found = demo_ornaments().border(seen);
        if (found.ornaments.empty() || found.ornaments[0].score > 0.02) continue;
        EXPECT_FALSE(found.repeats) << o->id << top(found.ornaments);
        ++odd;
    }
    EXPECT_GE(odd, 3);
}
TEST(Ornaments, BordersWhoseRepeatsNobodyCountedAreFoundByTheDrawingsOwnCounts) {
    Random random(6);
    int all = 0, first = 0;
    for (const auto* o : used(demo(), false)) {
        if (!o->repeats || *o->repeats > 40) continue;
        auto laid = laid_border(*o, random, {0.35});
        if (!laid.seen.count) continue;
        laid.seen.length *= laid.seen.count;
        // (as high as its own proportion has it)
        const auto pixels = pixels_of(*o, {128, 96}).value();
        const Extent rows = inked_rows(pixels.ink);
        laid.seen.height = laid.seen.length / laid.tiles / pixels.aspect * (rows.to - rows.from);
        laid.seen.count = 0;
        laid.seen.mean.ink = laid.seen.strip_ink.clone();
        laid.seen.mean.unsure = laid.seen.strip_unsure.clone();
        laid.seen.mean.bgr = cv::Mat();
        const BorderMatch found = demo_ornaments().border(laid.seen);
        ++all;
        first += !found.ornaments.empty() && found.ornaments[0].id == o->id && found.repeats == laid.tiles;
    }
    EXPECT_GE(first, 0.8 * all) << first << " of " << all;
}

TEST(Ornaments, AnEmptyBookFindsNothing) {
    book::Book none;
    none.index();
    const Ornaments ornaments(none);
    Random random(1);
    EXPECT_TRUE(ornaments.border(laid_border(demo_ornament("key-band"), random).seen).ornaments.empty());
    EXPECT_TRUE(ornaments.centre(laid_centre(demo_ornament("rosette"), random).seen).ornaments.empty());
    EXPECT_TRUE(ornaments.notes().empty());
    EXPECT_TRUE(demo_ornaments().border({}).ornaments.empty());
    EXPECT_TRUE(demo_ornaments().centre({}).ornaments.empty());
}
TEST(Ornaments, ARibbonWithoutInkScoresLow) {
    Repeat blank;
    blank.strip_ink = cv::Mat::zeros(40, 2000, CV_32FC1);
    blank.mean.ink = cv::Mat::zeros(40, 200, CV_32FC1);
    blank.count = 10;
    for (const auto& s : demo_ornaments().border(blank).ornaments) EXPECT_LT(s.score, 0.3) << s.id;
    Ink nothing;
    nothing.ink = cv::Mat::zeros(100, 100, CV_32FC1);
    for (const auto& s : demo_ornaments().centre(nothing).ornaments) EXPECT_LT(s.score, 0.3) << s.id;
}

TEST(Ornaments, DrawingsThatCannotBeDrawnAreLeftOutWithASentence) {
    book::Book book;
    book.packs.push_back({});
    const auto add = [&](const char* id, std::string svg) {
        book::Ornament o;
        o.id = o.name = id;
        o.finish = "gold";
        if (!svg.empty()) o.drawing_data = book::data_uri(svg);
        book.ornaments.push_back(std::move(o));
    };
    add("sound", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><path d='M1 1h5v5z'/></svg>");
    add("bare", "");
    add("empty", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'></svg>");
    add("torn", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><path d='M1 1h5v5z'></svg>");
    add("reaches-out",
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 10 10'><image href='file:///etc/hostname' width='10' "
        "height='10'/></svg>");
    book.index();
    const Library library(book);
    ASSERT_EQ(library.notes().size(), 4u);
    EXPECT_EQ(library.notes()[0],
              "bare: has no drawing, so photographs cannot be compared with it: name an SVG or PNG tile in "
              "ornaments.csv");
    EXPECT_EQ(library.notes()[1],
              "empty: its drawing is empty: draw it in black, in currentColor or in its colours");
    EXPECT_TRUE(library.notes()[2].starts_with("torn: its drawing cannot be drawn (")) << library.notes()[2];
    EXPECT_EQ(library.notes()[3],
              "reaches-out: its drawing is empty: draw it in black, in currentColor or in its colours");
}

}  // namespace
}  // namespace footring::photo

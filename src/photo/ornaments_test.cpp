// SPDX-License-Identifier: Apache-2.0
#include "photo/ornaments.h"

#include <gtest/gtest.h>

#include <chrono>
#include <cstdlib>

#include "book/pack.h"
#include "photo/library.h"
#include "photo/test_strips.h"

namespace footring::photo {
namespace {
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

// Ornaments that run along a rim, or that stand in a middle, by what the pack says.
std::vector<const book::Ornament*> used(const book::Book& book, bool centre) {
    std::vector<const book::Ornament*> out;
    for (const auto& o : book.ornaments) {
        if (o.kind == book::OrnamentKind::kRelief || o.kind == book::OrnamentKind::kLine) continue;
        const bool plain = o.kind == book::OrnamentKind::kBand || o.kind == book::OrnamentKind::kSolid;
        const bool runs = o.repeats.has_value() || plain;
        if (runs != centre) out.push_back(&o);
    }
    return out;
}

struct Tally {
    int all = 0, first = 0, three = 0, repeats = 0, counted = 0;
    double score = 0;
    std::string missed;
};
int rank_of(const std::vector<Scored>& found, const std::string& id) {
    for (std::size_t i = 0; i < found.size(); ++i)
        if (found[i].id == id) return static_cast<int>(i);
    return 99;
}
std::string top(const std::vector<Scored>& found) {
    std::string out;
    for (std::size_t i = 0; i < std::min<std::size_t>(3, found.size()); ++i)
        out += fmt::format(" {} {:.2f}", found[i].id, found[i].score);
    return out;
}
Tally borders(const book::Book& book, const Ornaments& ornaments, int times, unsigned seed, testing::Wear wear) {
    Tally out;
    Random random(seed);
    for (const auto* o : used(book, false))
        for (int i = 0; i < times; ++i) {
            const auto laid = laid_border(*o, random, wear);
            const BorderMatch found = ornaments.border(laid.seen);
            const int rank = rank_of(found.ornaments, o->id);
            ++out.all;
            out.first += rank == 0;
            out.three += rank < 3;
            if (rank == 0) out.score += found.ornaments[0].score;
            if (o->repeats) {
                ++out.counted;
                out.repeats += found.repeats == laid.tiles;
                if (found.repeats != laid.tiles)
                    out.missed +=
                        fmt::format("\n  {}: {} for {} tiles", o->id, found.repeats.value_or(0), laid.tiles);
            }
            if (rank > 0)
                out.missed +=
                    fmt::format("\n  {} x{} of {}:{}", o->id, laid.tiles, laid.seen.count, top(found.ornaments));
        }
    return out;
}
Tally centres(const book::Book& book, const Ornaments& ornaments, int times, unsigned seed, testing::Wear wear) {
    Tally out;
    Random random(seed);
    for (const auto* o : used(book, true))
        for (int i = 0; i < times; ++i) {
            const auto laid = laid_centre(*o, random, wear);
            const CentreMatch found = ornaments.centre(laid.seen);
            const int rank = rank_of(found.ornaments, o->id);
            ++out.all;
            out.first += rank == 0;
            out.three += rank < 3;
            if (rank == 0) out.score += found.ornaments[0].score;
            if (rank > 0) out.missed += fmt::format("\n  {}:{}", o->id, top(found.ornaments));
        }
    return out;
}
std::string said(const Tally& t) {
    return fmt::format("{} seen, first {:.3f}, three {:.3f}, repeats {:.3f}, mean score {:.2f}{}", t.all,
                       1.0 * t.first / t.all, 1.0 * t.three / t.all, t.counted ? 1.0 * t.repeats / t.counted : 0.0,
                       t.score / std::max(1, t.first), t.missed);
}

TEST(Ornaments, EveryBorderOfTheDemoPackIsFound) {
    const Tally t = borders(demo(), demo_ornaments(), 3, 1, {0.4});
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.98 * t.all) << said(t);
}
TEST(Ornaments, EveryCentreOfTheDemoPackIsFound) {
    const Tally t = centres(demo(), demo_ornaments(), 4, 1, {0.4});
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.98 * t.all) << said(t);
}
TEST(Ornaments, BordersOfAnotherPackAreFound) {
    const book::Book other = testing::random_book(40, 0, 77);
    const Tally t = borders(other, Ornaments(other), 2, 2, {});
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.98 * t.all) << said(t);
}
TEST(Ornaments, CentresOfAnotherPackAreFound) {
    const book::Book other = testing::random_book(0, 40, 78);
    const Tally t = centres(other, Ornaments(other), 2, 2, {0.4});
    EXPECT_GE(t.first, 0.95 * t.all) << said(t);
    EXPECT_GE(t.three, 0.98 * t.all) << said(t);
}
TEST(Ornaments, WhatNoPackHasScoresLow) {
    Random random(5);
    double most_border = 0, sum_border = 0, most_centre = 0, sum_centre = 0;
    const book::Book other = testing::random_book(40, 40, 79);
    for (const auto& o : other.ornaments) {
        if (o.repeats) {
            const auto found = demo_ornaments().border(laid_border(o, random).seen).ornaments;
            most_border = std::max(most_border, found[0].score), sum_border += found[0].score / 40;
        } else {
            const auto found = demo_ornaments().centre(laid_centre(o, random).seen).ornaments;
            most_centre = std::max(most_centre, found[0].score), sum_centre += found[0].score / 40;
        }
    }
    fmt::print("borders: mean {:.3f} most {:.3f}; centres: mean {:.3f} most {:.3f}\n", sum_border, most_border,
               sum_centre, most_centre);
    EXPECT_LT(sum_border, 0.15);
    EXPECT_LT(sum_centre, 0.15);
}
}  // namespace
}  // namespace footring::photo

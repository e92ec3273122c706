// Apart, twins and keys: facts on small Books, and against slow twins on random ones.
// SPDX-License-Identifier: Apache-2.0
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>
#include <limits>
#include <map>
#include <set>

#include "book/decoration.h"
#include "naming/apart.h"
#include "naming/examine.h"
#include "naming/key.h"
#include "naming/test_books.h"

namespace footring::naming {
namespace {

using book::Book;
using book::Place;
using book::Ref;
using testing::Draft;
using ::testing::ElementsAre;

// What a form shows of a treatment, as text: shape, glaze and every place.
std::string shown(const Book& b, std::uint32_t t, std::optional<Ref<book::Form>> form) {
    std::string out =
        b[b.treatments[t].shape].id + "|" + (b.treatments[t].glaze ? b[*b.treatments[t].glaze].id : "");
    const auto d = book::decoration(b, Ref<book::Treatment>{t}, form);
    for (const auto& rows : d.at) {
        std::multiset<std::string> values;
        double sum = 0;
        for (const auto& c : rows) sum += c.share;
        for (const auto& c : rows) values.insert(b[c.ornament].id + std::to_string(c.share / std::max(1.0, sum)));
        out += "|";
        for (const auto& v : values) out += v + ",";
    }
    return out;
}

TEST(Twins, AreWhatShowsTheSameAtAFormOnRandomBooks) {
    std::mt19937 random(3);
    for (int round = 0; round < 100; ++round) {
        const Book b = testing::random_book(random);
        for (std::uint32_t form = 0; form < b.forms.size(); ++form) {
            std::map<std::string, std::vector<Ref<book::Treatment>>> groups;
            for (std::uint32_t t = 0; t < b.treatments.size(); ++t)
                groups[shown(b, t, Ref<book::Form>{form})].push_back({t});
            std::set<std::vector<Ref<book::Treatment>>> expected, found;
            for (const auto& [text, group] : groups)
                if (group.size() > 1) expected.insert(group);
            for (const auto& group : twins(b, Ref<book::Form>{form})) found.insert(group);
            EXPECT_EQ(found, expected);
        }
    }
}

TEST(Apart, NamesThePlacesAndTheFormsThatTell) {
    Draft d;
    const auto harrow = d.shape("harrow", d.maker("pottery"));
    const auto oat = d.glaze("oat");
    const auto plate = d.form("plate", book::Ware::kFlat);
    const auto cup = d.form("cup", book::Ware::kHollow);
    const auto dish = d.form("covered-dish", book::Ware::kHollow);
    const auto fern = d.ornament("fern-pair"), rosette = d.ornament("rosette");
    const auto a = d.treatment("117", harrow, oat), b = d.treatment("162", harrow, oat);
    for (const auto t : {a, b}) d.carries(t, Place::kRim, fern);
    d.carries(b, Place::kCentre, rosette, "flat");
    d.carries(b, Place::kInside, rosette, "covered-dish");
    const Book& book = d.finish();

    const Apart on_cup = apart(book, cup, {a, b});
    EXPECT_TRUE(on_cup.differences.empty());
    EXPECT_THAT(on_cup.telling_forms, ElementsAre(plate, dish));
    ASSERT_EQ(on_cup.twin_groups.size(), 1u);

    const Apart on_plate = apart(book, plate, {a, b});
    ASSERT_EQ(on_plate.differences.size(), 1u);
    EXPECT_EQ(on_plate.differences[0].look, "centre");
    EXPECT_THAT(on_plate.differences[0].values, ElementsAre("none", "rosette"));
    EXPECT_EQ(on_plate.twin_groups.size(), 2u);
}

// Least expected effort by trying every tree, without memory or bounds.
double least_effort(const Book& b, const std::vector<Ref<book::Treatment>>& set,
                    std::optional<Ref<book::Form>> form, const Settings& s) {
    const auto value = [&](Ref<book::Treatment> t, std::size_t question) -> std::string {
        if (question == 0) return b[b[t].shape].id;
        if (question == 1) return b[t].glaze ? b[*b[t].glaze].id : "";
        const auto d = book::decoration(b, t, form);
        double bare = 1, most = 0;
        std::string v = "none";
        for (const auto& c : d.at[question - 2]) {
            bare -= c.share;
            if (c.share > most) most = c.share, v = b[c.ornament].id;
        }
        return bare > most ? "none" : v;
    };
    const std::function<double(const std::vector<Ref<book::Treatment>>&)> least =
        [&](const std::vector<Ref<book::Treatment>>& part) {
            double best = std::numeric_limits<double>::infinity();
            for (std::size_t q = 0; q < 2 + book::kPlaces; ++q) {
                std::map<std::string, std::vector<Ref<book::Treatment>>> parts;
                for (const auto t : part) parts[value(t, q)].push_back(t);
                if (parts.size() < 2) continue;
                const bool below = q == 2 + static_cast<std::size_t>(Place::kFoot) ||
                                   q == 2 + static_cast<std::size_t>(Place::kUnderside);
                double total =
                    (below ? s.effort_turn_over_min : s.effort_glance_min) * static_cast<double>(part.size());
                for (const auto& [v, p] : parts) total += least(p);
                best = std::min(best, total);
            }
            return best == std::numeric_limits<double>::infinity() ? 0 : best;
        };
    return least(set) / static_cast<double>(set.size());
}

TEST(Key, IsOfLeastExpectedEffortOnRandomBooks) {
    std::mt19937 random(4);
    for (int round = 0; round < 60; ++round) {
        const Book b = testing::random_book(random);
        const auto form = Ref<book::Form>{static_cast<std::uint32_t>(random() % b.forms.size())};
        std::vector<Ref<book::Treatment>> all;
        for (std::uint32_t t = 0; t < b.treatments.size(); ++t) all.push_back({t});
        const Key k = key(b, std::nullopt, form, Settings{});
        EXPECT_TRUE(k.optimal);
        EXPECT_NEAR(k.expected_effort.value, least_effort(b, all, form, Settings{}), 1e-9);
    }
}

TEST(Key, LeadsEveryTreatmentToALeafOfItsTwins) {
    std::mt19937 random(6);
    for (int round = 0; round < 40; ++round) {
        const Book b = testing::random_book(random);
        const Key k = key(b, std::nullopt, Ref<book::Form>{0}, Settings{});
        std::multiset<std::uint32_t> at_leaves;
        for (std::size_t n = 0; n < k.nodes.size(); ++n) {
            for (const auto& branch : k.nodes[n].branches) EXPECT_GT(branch.node, n);
            if (k.nodes[n].look.empty())
                for (const auto t : k.nodes[n].treatments) at_leaves.insert(t.at);
        }
        EXPECT_EQ(at_leaves.size(), b.treatments.size());
        for (std::uint32_t t = 0; t < b.treatments.size(); ++t) EXPECT_EQ(at_leaves.count(t), 1u);
    }
}

TEST(Key, OfNothingIsEmpty) {
    Draft d;
    EXPECT_TRUE(key(d.finish(), std::nullopt, std::nullopt, Settings{}).nodes.empty());
}

TEST(Key, StaysGreedyAndSoundOnManyTreatments) {
    Draft d;
    const auto pottery = d.maker("pottery");
    const auto oat = d.glaze("oat");
    std::vector<Ref<book::Ornament>> ornaments;
    for (int i = 0; i < 6; ++i) ornaments.push_back(d.ornament("o" + std::to_string(i)));
    const auto harrow = d.shape("harrow", pottery);
    for (unsigned i = 0; i < 36; ++i) {
        const auto t = d.treatment(std::to_string(i), harrow, oat);
        d.carries(t, Place::kRim, ornaments[i % 6]);
        d.carries(t, Place::kCentre, ornaments[i / 6]);
    }
    const Key k = key(d.finish(), harrow, std::nullopt, Settings{});
    EXPECT_FALSE(k.optimal);
    EXPECT_NEAR(k.expected_effort.value, 2 * Settings{}.effort_glance_min, 1e-12);
}

}  // namespace
}  // namespace footring::naming

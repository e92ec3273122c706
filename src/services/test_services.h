// services/test_services.h - a small Book, services and pieces for the tests of this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>
#include <string>
#include <vector>

#include "services/allot.h"

namespace footring::services::testing {

using book::Form;
using book::Ref;
using book::Treatment;

// One shape, Reed, in one glaze. 11 and 12 have the same border and differ in the centre of flat ware and inside
// the covered dish; 13 has another border.
inline book::Book small_book() {
    book::Book b;
    b.packs.push_back({"north", "North", "1", "", "", "", {}});
    b.shapes.push_back({"reed", {}, "Reed", {}, "", {}, {}});
    const auto form = [&](const char* id, const char* name, book::Ware ware, const char* aat = "") {
        b.forms.push_back({id, name, ware, book::Outline::kRound, aat, "", {}});
    };
    form("dinner-plate", "Dinner plate", book::Ware::kFlat);
    form("cup", "Tea cup", book::Ware::kHollow, "http://vocab.getty.edu/aat/300043202");
    form("saucer", "Saucer", book::Ware::kFlat, "http://vocab.getty.edu/aat/300195535");
    form("nappy", "Nappy", book::Ware::kFlat);
    form("baker", "Baker", book::Ware::kFlat);
    form("covered-dish", "Covered dish", book::Ware::kHollow);
    form("egg-cup", "Egg cup", book::Ware::kHollow);
    b.glazes.push_back({"straw", {}, "Straw", {}, {}, book::Uranium::kUnknown, {}, {}});
    for (const char* id : {"fern", "star", "rose", "key"})
        b.ornaments.push_back({id, id, book::OrnamentKind::kStamp, "gold", "", {}, {}, false, {}, {}, {}, {}, ""});
    const Ref<book::Shape> reed{0};
    for (const char* number : {"11", "12", "13"})
        b.treatments.push_back({std::string("t-") + number,
                                reed,
                                Ref<book::Glaze>{0},
                                number,
                                std::string(number) == "13" ? "Key" : "Fern",
                                book::Grade::kAny,
                                {},
                                "",
                                "",
                                {},
                                {}});
    const auto carries = [&](std::uint32_t t, book::Place place, std::uint32_t o, book::On on) {
        b.treatment_ornaments.push_back({{t}, place, {o}, on, 1, {}, {}});
    };
    for (const std::uint32_t t : {0u, 1u}) {
        carries(t, book::Place::kRim, 0, {});
        carries(t, book::Place::kCentre, t == 0 ? 1 : 2, {.ware = book::Ware::kFlat, .form = {}});
        carries(t, book::Place::kCentre, t == 0 ? 1 : 2, {.ware = {}, .form = Ref<Form>{5}});
    }
    carries(2, book::Place::kRim, 3, {});
    const auto size = [&](std::uint32_t f, const char* trade, double mm) {
        b.shape_forms.push_back({reed, {f}, trade, mm, {}, {}, {}, {}, {}, {}});
    };
    size(0, "8 in", 250);
    size(0, "7 in", 225);
    size(1, "reg.", 110);
    b.shape_forms.push_back({reed, {2}, "reg.", {}, {}, {}, {}, {}, {}, {}});
    size(3, "7 in", 217);
    size(4, "7 in", 230);
    size(5, "8 in", 266);
    b.index();
    return b;
}

inline Odds sure_of(std::uint32_t treatment, double p = 1) {
    Odds odds;
    odds.treatments = {{Ref<Treatment>{treatment}, p}};
    return odds;
}
inline Owned piece(std::string id, std::uint32_t form, Odds odds, std::optional<double> mm = {}) {
    return {std::move(id), Ref<Form>{form}, {}, {}, mm, std::move(odds)};
}
inline Service service(std::string id, std::vector<std::string> treatments, Composition own) {
    Service out;
    out.id = id;
    out.name = id;
    out.treatments = std::move(treatments);
    out.own = std::move(own);
    return out;
}
inline Composition composition(int settings, std::vector<Line> setting, std::vector<Line> serving = {}) {
    return {"own", "own", "", settings, std::move(setting), std::move(serving), false};
}
inline Line line(std::vector<std::string> forms, int count = 1) { return {"", std::move(forms), count, ""}; }

// A plan that must be sound.
inline Plan planned(const std::vector<Service>& services, const book::Book& book, const Settings& settings = {}) {
    auto made = plan(services, {}, book, settings, "test");
    if (!made) throw std::runtime_error(to_line(made.error().front()));
    return std::move(*made);
}
inline Allotment allotted(const Fitting& fitting, const AllotOptions& options = {}) {
    auto made = allot(fitting, options);
    if (!made) throw std::runtime_error(to_line(made.error().front()));
    return std::move(*made);
}

// Services and pieces at random over small_book(), few enough to try every allotment.
struct Case {
    std::vector<Service> services;
    std::vector<Owned> pieces;
};
inline Case random_case(std::mt19937& random, std::size_t most_pieces = 7) {
    const auto pick = [&](std::uint32_t n) { return static_cast<std::uint32_t>(random() % n); };
    const char* kForms[] = {"dinner-plate", "cup", "saucer", "nappy", "baker", "covered-dish"};
    Case out;
    const std::size_t pieces = 1 + pick(static_cast<std::uint32_t>(most_pieces));
    for (std::size_t i = 0; i < pieces; ++i) {
        const std::uint32_t form = pick(4) == 0 ? pick(6) : pick(3);
        Odds odds = sure_of(pick(3), pick(3) == 0 ? 0.7 : 1.0);
        odds.decided = pick(2) == 0 && odds.treatments[0].second == 1.0;
        std::optional<double> mm;
        if (form == 0) mm = pick(3) == 0 ? 226 : 249;
        if (form == 2 && pick(2) == 0) mm = pick(2) == 0 ? 150 : 170;
        out.pieces.push_back(piece("p-" + std::to_string(i), form, std::move(odds), mm));
        out.pieces.back().wear = static_cast<looks::Wear>(pick(4));
    }
    const std::size_t services = 1 + pick(3);
    for (std::size_t s = 0; s < services; ++s) {
        Composition c = composition(1 + static_cast<int>(pick(3)), {});
        for (std::uint32_t f = 0; f < 3; ++f)
            if (f == 0 || pick(2) == 0) c.setting.push_back(line({kForms[f]}, pick(5) == 0 ? 2 : 1));
        if (pick(2) == 0) c.serving.push_back(line({"nappy", "baker"}));
        if (pick(3) == 0) c.serving.push_back(line({"covered-dish"}));
        std::vector<std::string> treatments{std::string("t-1") + std::to_string(1 + pick(3))};
        if (pick(4) == 0 && treatments[0] != "t-12") treatments.push_back("t-12");
        Service one = service("s-" + std::to_string(s), treatments, std::move(c));
        if (pick(4) == 0) one.weight = 2;
        if (pick(4) == 0) one.setting_value = 5;
        if (pick(6) == 0) one.refuse.push_back(out.pieces[pick(static_cast<std::uint32_t>(pieces))].id);
        out.services.push_back(std::move(one));
    }
    return out;
}

}  // namespace footring::services::testing

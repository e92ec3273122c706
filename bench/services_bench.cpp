// Imitates a dealer's stock: 10,000 pieces of 200 treatments that come in families of four (one border; four
// centres, so that their hollow ware is the same), and 200 services of the usual compositions being built from it.
//   usage: services_bench FOLDER     writes FOLDER/program.json for the peer, prints what was measured as JSON
// SPDX-License-Identifier: Apache-2.0
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <nlohmann/json.hpp>
#include <random>
#include <string>

#include "services/allot.h"

namespace {

using namespace footring;
using namespace footring::services;
using book::Ref;

constexpr std::uint32_t kShapes = 10, kFamilies = 5, kOfFamily = 4;
constexpr std::size_t kPieces = 10'000, kServices = 200;

book::Book stock_book() {
    book::Book b;
    b.packs.push_back({"bench", "Bench", "1", "", "", "", {}});
    const std::pair<const char*, book::Ware> forms[] = {
        {"dinner-plate", book::Ware::kFlat},  {"luncheon-plate", book::Ware::kFlat},
        {"bread-plate", book::Ware::kFlat},   {"cup", book::Ware::kHollow},
        {"saucer", book::Ware::kFlat},        {"fruit-dish", book::Ware::kFlat},
        {"rim-soup", book::Ware::kFlat},      {"large-platter", book::Ware::kFlat},
        {"small-platter", book::Ware::kFlat}, {"nappy", book::Ware::kFlat},
        {"baker", book::Ware::kFlat},         {"covered-dish", book::Ware::kHollow},
        {"sugar", book::Ware::kHollow},       {"creamer", book::Ware::kHollow},
        {"sauce-boat", book::Ware::kHollow},  {"gravy-stand", book::Ware::kFlat},
        {"teapot", book::Ware::kHollow}};
    for (const auto& [id, ware] : forms) b.forms.push_back({id, "", ware, book::Outline::kRound, "", "", {}});
    b.glazes.push_back({"clear", {}, "", {}, {}, book::Uranium::kUnknown, {}, {}});
    for (std::uint32_t i = 0; i < kFamilies + kOfFamily; ++i)
        b.ornaments.push_back({"o-" + std::to_string(i),
                               "",
                               book::OrnamentKind::kStamp,
                               "gold",
                               "",
                               {},
                               {},
                               false,
                               {},
                               {},
                               {},
                               {},
                               ""});
    for (std::uint32_t s = 0; s < kShapes; ++s) {
        b.shapes.push_back({"s-" + std::to_string(s), {}, "", {}, "", {}, {}});
        for (std::uint32_t f = 0; f < b.forms.size(); ++f) {
            b.shape_forms.push_back({{s}, {f}, "8 in", 250.0, {}, {}, {}, {}, {}, {}});
            if (f == 0) b.shape_forms.push_back({{s}, {f}, "7 in", 225.0, {}, {}, {}, {}, {}, {}});
        }
        for (std::uint32_t family = 0; family < kFamilies; ++family)
            for (std::uint32_t member = 0; member < kOfFamily; ++member) {
                const auto t = static_cast<std::uint32_t>(b.treatments.size());
                b.treatments.push_back({"t-" + std::to_string(t),
                                        {s},
                                        Ref<book::Glaze>{0},
                                        std::to_string(t),
                                        "",
                                        book::Grade::kAny,
                                        {},
                                        "",
                                        "",
                                        {},
                                        {}});
                b.treatment_ornaments.push_back({{t}, book::Place::kRim, {family}, {}, 1, {}, {}});
                b.treatment_ornaments.push_back({{t},
                                                 book::Place::kCentre,
                                                 {kFamilies + member},
                                                 {.ware = book::Ware::kFlat, .form = {}},
                                                 1,
                                                 {},
                                                 {}});
            }
    }
    b.index();
    return b;
}

// Processor time: one thread, which other programs on the machine do not lengthen.
double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

void write_program(const Program& program, const std::filesystem::path& path) {
    nlohmann::json out{{"low", nlohmann::json::array()}, {"high", nlohmann::json::array()}};
    for (const Column& c : program.columns) {
        out["low"].push_back(c.low);
        out["high"].push_back(c.high);
        out["whole"].push_back(c.whole ? 1 : 0);
    }
    for (const Row& row : program.rows) {
        out["row_low"].push_back(row.low);
        out["row_high"].push_back(row.high);
        out["rows"].push_back(row.terms);
    }
    out["goal"] = program.goals.front().terms;
    std::ofstream(path) << out.dump();
}

}  // namespace

int main(int count, char** words) {
    if (count != 2) {
        std::fprintf(stderr, "usage: services_bench FOLDER\n");
        return 2;
    }
    const book::Book book = stock_book();
    std::mt19937 random(4);
    const auto pick = [&](std::size_t n) { return static_cast<std::uint32_t>(random() % n); };
    const auto treatments = book.treatments.size();
    std::vector<Owned> pieces;
    for (std::size_t i = 0; i < kPieces; ++i) {
        Owned piece;
        piece.id = "p-" + std::to_string(i);
        // Place settings outnumber serving pieces.
        const std::uint32_t form = pick(5) == 0 ? 7 + pick(book.forms.size() - 7) : pick(7);
        piece.form = Ref<book::Form>{form};
        const std::uint32_t is = pick(treatments);
        const double sure = pick(4) == 0 ? 0.6 : 0.97;
        piece.odds.treatments.emplace_back(Ref<book::Treatment>{is}, sure);
        piece.odds.treatments.emplace_back(
            Ref<book::Treatment>{(is + kOfFamily) % static_cast<std::uint32_t>(treatments)}, 1 - sure);
        piece.length_mm = form == 0 && pick(4) == 0 ? 225 : 250;
        piece.wear = static_cast<looks::Wear>(pick(4));
        piece.faults = static_cast<looks::Faults>(pick(3));
        pieces.push_back(std::move(piece));
    }
    std::vector<Service> services;
    const auto& compositions = supplied_compositions();
    for (std::size_t i = 0; i < kServices; ++i) {
        Service one;
        one.id = one.name = "service-" + std::to_string(i);
        one.treatments = {"t-" + std::to_string(pick(treatments))};
        one.composition = compositions[1 + pick(compositions.size() - 1)].id;
        if (pick(3) == 0) one.worst_wear = looks::Wear::kModerate;
        services.push_back(std::move(one));
    }
    Settings settings;
    const auto made = plan(services, {}, book, settings, "bench");
    if (!made) {
        std::fprintf(stderr, "%s\n", to_line(made.error().front()).c_str());
        return 1;
    }
    nlohmann::json out;
    const double began = processor_seconds();
    const Fitting fitting(book, *made, pieces, settings);
    out["fit_seconds"] = processor_seconds() - began;
    AllotOptions options;
    options.limits.gap = 0.01;
    const auto allotment = allot(fitting, options);
    if (!allotment) {
        std::fprintf(stderr, "%s\n", to_line(allotment.error().front()).c_str());
        return 1;
    }
    out["seconds"] = processor_seconds() - began;
    const double again = processor_seconds();
    const auto program = program_of(fitting, options);
    const auto solved = solve(program, options.limits);
    out["solve_seconds"] = processor_seconds() - again;
    const Reached& goal = solved->goals.front();
    out["value"] = goal.value;
    out["bound"] = goal.bound;
    out["gap"] = goal.gap();
    out["nodes"] = goal.nodes;
    out["pieces"] = allotment->pieces;
    out["candidates"] = allotment->candidates;
    out["classes"] = allotment->classes;
    out["columns"] = allotment->columns;
    out["rows"] = allotment->rows;
    write_program(program, std::filesystem::path(words[1]) / "program.json");
    std::cout << out.dump() << "\n";
    return 0;
}

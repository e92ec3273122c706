// worth/test_sales.h - invented sales whose true prices are known, for the tests of this room and for bench/.
//   Every number is drawn from the seed alone. Prices follow the model of prices.h; a share of the records is junk.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "worth/chance.h"
#include "worth/sale.h"

namespace footring::worth::testing {

inline constexpr std::string_view kToday = "2026-03-01";

struct Market {
    int forms = 12, shapes = 6, decorations = 15, treatments = 60, sales = 600;
    double form_sd = 0.6, shape_sd = 0.2, decoration_sd = 0.35, treatment_sd = 0.3, cell_sd = 0.15;
    double noise = 0.35, junk_share = 0.04, junk_sd = 1.6, a_decade = -0.15, year_sd = 0.06;
    double unidentified_share = 0.05;
    bool skewed = true;  // few treatments are met often, many seldom
};
struct Made {
    book::Book book;
    std::vector<Sale> sales;
    std::vector<double> log_truth;  // by sale: the middle of what such a sale brings
    std::vector<bool> junk;
};

inline Made make(const Market& market, std::uint64_t seed) {
    Made out;
    Chance chance(seed);
    const auto below = [&](int n) { return std::min(static_cast<int>(chance.uniform() * n), n - 1); };
    const auto effects = [&](int n, double sd) {
        std::vector<double> all;
        for (int i = 0; i < n; ++i) all.push_back(sd * chance.normal());
        return all;
    };
    book::Pack pack;
    pack.id = "made";
    out.book.packs.push_back(pack);
    for (int i = 0; i < market.forms; ++i) {
        auto& row = out.book.forms.emplace_back();
        row.id = fmt::format("form-{}", i);
        row.name = fmt::format("Form {}", i);
    }
    for (int i = 0; i < market.shapes; ++i) {
        auto& row = out.book.shapes.emplace_back();
        row.id = fmt::format("shape-{}", i);
        row.name = fmt::format("Shape {}", i);
    }
    for (int i = 0; i < market.decorations; ++i) {
        auto& row = out.book.ornaments.emplace_back();
        row.id = fmt::format("ornament-{}", i);
        row.name = fmt::format("Ornament {}", i);
    }
    std::vector<int> shape_of, decoration_of;
    for (int i = 0; i < market.treatments; ++i) {
        shape_of.push_back(below(market.shapes));
        decoration_of.push_back(below(market.decorations));
        auto& row = out.book.treatments.emplace_back();
        row.id = fmt::format("t-{}", i);
        row.number = fmt::format("{}", 100 + i);
        row.shape = {static_cast<std::uint32_t>(shape_of.back())};
        out.book.treatment_ornaments.push_back({{static_cast<std::uint32_t>(i)},
                                                book::Place::kRim,
                                                {static_cast<std::uint32_t>(decoration_of.back())},
                                                {},
                                                1,
                                                {},
                                                {}});
    }
    out.book.index();
    const auto form = effects(market.forms, market.form_sd), shape = effects(market.shapes, market.shape_sd),
               decoration = effects(market.decorations, market.decoration_sd),
               treatment = effects(market.treatments, market.treatment_sd), year = effects(20, market.year_sd);
    const double condition[] = {0, 0.25, 0, -0.25, -0.6, -1.1}, channel[] = {0, 0, 0.45, -0.1, 0.1, 0.05};
    std::map<std::pair<int, int>, double> cells;
    for (int i = 0; i < market.sales; ++i) {
        const double u = chance.uniform();
        const int t = market.skewed ? std::min(static_cast<int>(u * u * market.treatments), market.treatments - 1)
                                    : below(market.treatments);
        const int f = below(market.forms), y = below(12);
        const auto [cell, fresh] = cells.try_emplace({t, f}, 0);
        if (fresh) cell->second = market.cell_sd * chance.normal();
        Sale sale;
        sale.id = fmt::format("sale-{:04}", i + 1);
        sale.date = fmt::format("{}-{:02}", 2013 + y, 1 + below(12));
        sale.currency = "USD";
        sale.form = fmt::format("form-{}", f);
        sale.treatment = fmt::format("made:t-{}", t);
        sale.condition = static_cast<Condition>(1 + below(5));
        const bool second = chance.uniform() < 0.2;
        sale.grade = second ? "second" : "first";
        sale.market = static_cast<worth::Market>(1 + below(5));
        const auto place = [](const double* list, auto e) { return list[static_cast<std::size_t>(e)]; };
        double middle = 3.4 + form[static_cast<std::size_t>(f)] +
                        shape[static_cast<std::size_t>(shape_of[static_cast<std::size_t>(t)])] +
                        decoration[static_cast<std::size_t>(decoration_of[static_cast<std::size_t>(t)])] +
                        treatment[static_cast<std::size_t>(t)] + cell->second + (second ? -0.5 : 0.05) +
                        market.a_decade * (y - 6) / 10 + year[static_cast<std::size_t>(y)] +
                        place(condition, sale.condition) + place(channel, sale.market);
        out.log_truth.push_back(middle);
        const bool junk = chance.uniform() < market.junk_share;
        const double price = std::exp(middle + (junk ? market.junk_sd : market.noise) * chance.normal());
        sale.price = std::clamp(std::round(price * 100) / 100, 0.01, 900'000.0);
        if (chance.uniform() < market.unidentified_share) sale.treatment.clear();
        out.junk.push_back(junk);
        out.sales.push_back(std::move(sale));
    }
    return out;
}

}  // namespace footring::worth::testing

// SPDX-License-Identifier: Apache-2.0
#include "exchange/reckoned.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "base/json.h"
#include "base/words.h"

namespace footring::exchange {

using nlohmann::ordered_json;

Expected<Priced> priced(const KeptSales& kept, const std::string& currency, const worth::Things& things,
                        std::string_view today) {
    std::vector<worth::Sale> all;
    for (const KeptSale& one : kept.sales) all.push_back(one.sale);
    Priced out;
    auto chosen = worth::in_one_currency(all, currency, out.left_out);
    if (chosen.empty() && !currency.empty() && !all.empty())
        return fail(ProblemCode::kNotFound, "sales", fmt::format("there are no sales in {}", currency),
                    "choose a currency of the sales; no exchange rate is assumed");
    if (kept.unreadable > 0) out.left_out.push_back({"that could not be read", kept.unreadable});
    auto fitted = worth::Prices::fit(std::move(chosen), things, today);
    if (!fitted) return std::unexpected(std::move(fitted.error()));
    out.prices = std::move(*fitted);
    return out;
}

services::Prices estimated_prices(const services::Fitting& fitting, const worth::Prices& prices,
                                  const worth::Things& things, double year) {
    std::vector<services::Price> rows;
    std::set<std::tuple<std::uint32_t, std::uint32_t, services::Grades>> done;
    const services::Plan& plan = fitting.plan();
    for (std::uint32_t s = 0; s < plan.services.size(); ++s) {
        const services::Grades grades = plan.services[s].given.grades;
        const std::string_view grade =
            grades == services::Grades::kMixed ? "" : services::kGradesNames[static_cast<std::size_t>(grades)];
        for (std::uint32_t l = 0; l < plan.services[s].lines.size(); ++l)
            for (const services::LineSize& size : fitting.sizes_at(s, l))
                for (const auto treatment : size.treatments) {
                    if (!done.emplace(treatment.at, size.form.at, grades).second) continue;
                    const worth::Price price = worth::price_of(prices, things, treatment, size.form, grade, year);
                    rows.push_back({treatment, size.form, price.median, grades, {{price.low, price.high}}});
                }
    }
    services::Prices out(rows);
    out.currency = prices.currency();
    out.basis = fmt::format(
        "Prices are estimates from {} recorded sales in {}; nine in ten like pieces cost between "
        "the two figures. They are no valuation.",
        prices.sales().size(), prices.currency());
    return out;
}

ordered_json schedule_rows(const Holdings& held, const worth::Prices& prices, double year) {
    const std::size_t dealers = prices.sales_at(worth::Market::kDealer);
    const std::string basis =
        dealers > 0
            ? fmt::format("what dealers ask; {} sales, {} of them at dealers", prices.sales().size(), dealers)
            : fmt::format("{} sales, none of them at a dealer", prices.sales().size());
    ordered_json rows = ordered_json::array();
    for (std::size_t i = 0; i < held.holdings.size(); ++i) {
        const worth::Interval price = in_market(prices, held.holdings[i], worth::Market::kDealer, year);
        ordered_json row{{"piece", held.holdings[i].id},
                         {"description", held.words[i]},
                         {"low", worth::to_cents(price.ninety[0])},
                         {"middle", worth::to_cents(price.median)},
                         {"high", worth::to_cents(price.ninety[1])},
                         {"currency", prices.currency()},
                         {"basis", basis}};
        if (!held.records[i].decision) row["note"] = "What it is was not decided; the estimate holds that doubt.";
        rows.push_back(std::move(row));
    }
    for (const Holdings::Without& one : held.without)
        rows.push_back({{"piece", one.piece}, {"description", "no estimate: " + one.why}});
    return rows;
}

ordered_json want_rows(const services::Fitting& fitting, const services::Allotment& allotment,
                       const services::Wants& wants, const services::Prices& prices) {
    const services::Plan& plan = fitting.plan();
    std::map<std::pair<std::uint32_t, std::uint32_t>, int> have;
    for (std::uint32_t s = 0; s < allotment.services.size(); ++s)
        for (const services::PlaceTaken& place : allotment.services[s].taken)
            have[{s, place.line}] += place.piece ? 1 : 0;
    return json_list(wants.list, [&](const services::WantedPieces& one) {
        const int has = have[{one.service, one.line}];
        ordered_json row{
            {"service", services::service_name(plan, one.service)},
            {"form", book::id_of(fitting.book(), one.offer.form)},
            {"trade_size", services::size_words(fitting.sizes_at(one.service, one.line)[one.offer.size])},
            {"treatment", book::id_of(fitting.book(), one.offer.treatment)},
            {"have", has},
            {"want", has + one.count}};
        std::vector<std::string> twins;
        for (const std::uint32_t t : fitting.alike(one.service, one.offer.form))
            if (book::Ref<book::Treatment>{t} != one.offer.treatment)
                twins.push_back(fitting.book().treatments[t].number.empty() ? fitting.book().treatments[t].id
                                                                            : fitting.book().treatments[t].number);
        if (!twins.empty())
            row["note"] = fmt::format("or {}, which {} the same", listed(twins, " or "),
                                      twins.size() == 1 ? "looks" : "look");
        if (prices.known()) {
            row["middle"] = worth::to_cents(one.offer.cost.amount);
            row["currency"] = prices.currency;
        }
        if (one.offer.cost.between) {
            row["low"] = worth::to_cents((*one.offer.cost.between)[0]);
            row["high"] = worth::to_cents((*one.offer.cost.between)[1]);
        }
        return row;
    });
}

}  // namespace footring::exchange

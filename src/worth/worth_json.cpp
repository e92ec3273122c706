// SPDX-License-Identifier: Apache-2.0
#include "worth/worth_json.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/json.h"
#include "edtf/edtf.h"

namespace footring::worth {

using nlohmann::ordered_json;

double to_cents(double amount) { return std::round(amount * 100) / 100; }

namespace {

// `a_year` in percent, rounded as it is shown: "-0.0 %" would be said of prices that do not move.
std::string trend_in_words(double a_year) {
    if (std::abs(a_year) < 0.05) return "Prices hardly move from year to year.";
    return fmt::format("Prices {} {:.1f} % a year.", a_year > 0 ? "rise" : "fall", std::abs(a_year));
}

double fine(double x) { return std::round(x * 1e4) / 1e4; }
constexpr double kNinety = 1.6448536269514722;  // of a normal distribution, each side of 90 %

ordered_json treatment_json(std::optional<book::Ref<book::Treatment>> ref, const Things& things) {
    if (!ref) return nullptr;
    const book::Treatment& row = things.book()[*ref];
    return {{"id", book::id_of(things.book(), *ref)}, {"number", row.number}, {"name", row.name}};
}

ordered_json at_bid_json(const AtBid& at) {
    return {{"bid", to_cents(at.bid)},
            {"outlay", to_cents(at.outlay)},
            {"loss_chance", fine(at.loss_chance)},
            {"margin_chance", fine(at.margin_chance)},
            {"mean_gain", to_cents(at.mean_gain)},
            {"gain", interval_json(at.gain)}};
}

std::string percent_words(double factor) {
    const double percent = 100 * (factor - 1);
    if (std::abs(percent) < 0.5) return "no change";
    return fmt::format("{:+.0f} %", percent);
}

}  // namespace

ordered_json interval_json(const Interval& i) {
    return {{"median", to_cents(i.median)},
            {"fifty", {to_cents(i.fifty[0]), to_cents(i.fifty[1])}},
            {"ninety", {to_cents(i.ninety[0]), to_cents(i.ninety[1])}}};
}

ordered_json sale_row_json(const Sale& sale, const Things& things) {
    ordered_json out = sale_json(sale);
    const auto date = edtf::parse(sale.date);
    out["date_words"] = date ? edtf::in_words(*date) : sale.date;
    out["form_name"] = things.form_name(things.form_key(sale.form));
    const auto treatment = things.treatment(sale.treatment);
    const book::Treatment* row = treatment ? &things.book()[*treatment] : nullptr;
    out["treatment_number"] = row == nullptr ? "" : row->number;
    out["treatment_name"] = row == nullptr ? "" : row->name;
    out["shape_name"] = row != nullptr       ? things.book()[row->shape].name
                        : sale.shape.empty() ? ""
                                             : things.shape_name(things.shape_key(sale.shape));
    return out;
}

ordered_json identities_json(const std::vector<Identity>& identities, const std::vector<double>& medians,
                             const Things& things) {
    ordered_json out = ordered_json::array();
    for (std::size_t i = 0; i < identities.size(); ++i) {
        const Identity& one = identities[i];
        ordered_json row{{"treatment", treatment_json(one.treatment, things)},
                         {"words", one.words},
                         {"grade", one.thing.grade},
                         {"probability", fine(one.probability)}};
        if (i < medians.size()) row["median"] = to_cents(medians[i]);
        out.push_back(std::move(row));
    }
    return out;
}

ordered_json based_on_json(const Prices& prices, const std::vector<LeftOut>& left_out) {
    return {{"sales", prices.sales().size()},
            {"first", static_cast<int>(std::floor(prices.first_year()))},
            {"last", static_cast<int>(std::floor(prices.last_year()))},
            {"left_out", json_list(left_out, [](const LeftOut& l) {
                 return ordered_json{{"why", l.why}, {"count", l.count}};
             })}};
}

ordered_json estimate_json(const Estimate& e, const Prices& prices, const Things& things,
                           const std::vector<LeftOut>& left_out, std::string_view date) {
    const ordered_json parts = json_list(e.parts, [&](const Part& part) {
        const double factor = std::exp(part.effect);
        const std::string level = level_words(things, part);
        return ordered_json{{"term", part.term},
                            {"level", level},
                            {"factor", fine(factor)},
                            {"low", fine(std::exp(part.effect - kNinety * part.sd))},
                            {"high", fine(std::exp(part.effect + kNinety * part.sd))},
                            {"sales", part.sales},
                            {"words", fmt::format("{}: {}", level, percent_words(factor))}};
    });
    const ordered_json comparables = json_list(e.comparables, [&](const Comparable& one) {
        return ordered_json{{"sale", sale_row_json(prices.sales()[one.sale], things)},
                            {"likeness", fine(one.alike)},
                            {"adjusted", to_cents(one.adjusted)},
                            {"counted", fine(prices.counted(one.sale))},
                            {"because", one.because}};
    });
    return {{"currency", prices.currency()},
            {"date", date},
            {"market", name_of(e.identities.front().thing.market)},
            {"condition", name_of(e.identities.front().thing.condition)},
            {"worth", interval_json(e.worth)},
            {"words", in_words(e.worth, prices.currency())},
            {"identities", identities_json(e.identities, e.medians, things)},
            {"base", {{"price", to_cents(e.base)}, {"words", "what the middle of all recorded sales comes to"}}},
            {"terms", parts},
            {"comparables", comparables},
            {"based_on", based_on_json(prices, left_out)},
            {"defers", kDefers},
            {"notes", e.notes}};
}

std::string top_bid_words(const HaulAnswer& answer, const HaulCosts& costs, const std::string& currency) {
    if (!answer.top_bid)
        return fmt::format("Leave it: no bid leaves {:.0f} % after the costs.", 100 * costs.margin);
    const std::string bid = money(*answer.top_bid);
    std::string words = fmt::format("Bid up to {} {}: on average {:.0f} % is left on the outlay.", bid, currency,
                                    100 * costs.margin);
    if (answer.at_bid)
        words += fmt::format(" At a bid of {} the chance of a loss is {:.0f} %.", money(answer.at_bid->bid),
                             100 * answer.at_bid->loss_chance);
    return words;
}

ordered_json haul_json(const HaulAnswer& a, const std::vector<HaulPiece>& pieces, const HaulCosts& costs,
                       const Prices& prices, const Things& things, const std::vector<LeftOut>& left_out) {
    ordered_json rows = ordered_json::array();
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const HaulShare& share = a.shares[i];
        rows.push_back({{"index", i},
                        {"words", pieces[i].words},
                        {"count", pieces[i].count},
                        {"worth", interval_json(share.worth)},
                        {"mean", to_cents(share.mean)},
                        {"share", fine(share.share)},
                        {"cost_share", to_cents(share.cost_share)},
                        {"identities", identities_json(pieces[i].identities, {}, things)}});
    }
    const ordered_json curve = json_list(a.curve, [](const AtBid& at) {
        ordered_json one = at_bid_json(at);
        one.erase("gain");
        return one;
    });
    return {{"currency", prices.currency()},
            {"pieces_count", a.pieces},
            {"worth", interval_json(a.worth)},
            {"mean", to_cents(a.mean)},
            {"sales_after_costs", interval_json(a.income)},
            {"top_bid", a.top_bid ? ordered_json(to_cents(*a.top_bid)) : ordered_json()},
            {"top_bid_words", top_bid_words(a, costs, prices.currency())},
            {"at_bid", a.at_bid ? at_bid_json(*a.at_bid) : ordered_json()},
            {"curve", curve},
            {"density", json_list(a.density,
                                  [](const Bin& bin) {
                                      return ordered_json{{"from", to_cents(bin.from)},
                                                          {"to", to_cents(bin.to)},
                                                          {"share", fine(bin.share)}};
                                  })},
            {"pieces", rows},
            {"based_on", based_on_json(prices, left_out)},
            {"words", in_words(a.worth, prices.currency())},
            {"defers", kDefers},
            {"notes", ordered_json::array()}};
}

std::string mistaken_words(const Sale& sale, const Interval& expected) {
    return fmt::format("{:.2f} {} where {} to {} would be usual: check price, currency and what was sold.",
                       sale.price, sale.currency, money(expected.ninety[0]), money(expected.ninety[1]));
}

ordered_json model_json(const Prices& prices, const Things& things, const std::vector<LeftOut>& left_out) {
    const MixedFit& model = prices.model();
    ordered_json terms = ordered_json::array();
    for (std::size_t k = 0; k < kTerms; ++k)
        terms.push_back({{"term", kTermNames[k]},
                         {"levels", prices.levels(static_cast<Term>(k))},
                         {"sd_percent", fine(100 * (std::exp(model.sd[k]) - 1))}});
    const Trend trend = prices.trend();
    const auto a_year = [](double a_decade) { return fine(100 * (std::exp(a_decade / 10) - 1)); };
    ordered_json doubtful = ordered_json::array();
    std::vector<Mistaken> found = mistaken(prices, things);
    constexpr std::size_t kMostDoubtful = 50;
    const std::size_t more = found.size() > kMostDoubtful ? found.size() - kMostDoubtful : 0;
    found.resize(found.size() - more);
    for (const Mistaken& one : found) {
        const Sale& sale = prices.sales()[one.sale];
        doubtful.push_back({{"sale", sale_row_json(sale, things)},
                            {"counted", fine(prices.counted(one.sale))},
                            {"expected", interval_json(one.expected)},
                            {"words", mistaken_words(sale, one.expected)}});
    }
    ordered_json notes = ordered_json::array();
    if (more > 0) notes.push_back(fmt::format("And {} more doubtful sales.", more));
    return {{"currency", prices.currency()},
            {"sales", prices.sales().size()},
            {"based_on", based_on_json(prices, left_out)},
            {"terms", terms},
            {"trend",
             {{"percent_a_year", a_year(trend.a_decade)},
              {"low", a_year(trend.a_decade - kNinety * trend.sd)},
              {"high", a_year(trend.a_decade + kNinety * trend.sd)}}},
            {"noise_percent", fine(100 * (std::exp(model.noise_sd) - 1))},
            {"junk_share", fine(model.junk_share)},
            {"words",
             fmt::format("Like sales differ by about {:.0f} %. {} About {:.0f} in 100 records look mistaken and "
                         "count little.",
                         100 * (std::exp(model.noise_sd) - 1), trend_in_words(a_year(trend.a_decade)),
                         100 * model.junk_share)},
            {"doubtful", doubtful},
            {"defers", kDefers},
            {"notes", notes}};
}

std::vector<Sale> in_one_currency(const std::vector<Sale>& sales, const std::string& asked,
                                  std::vector<LeftOut>& left_out) {
    std::map<std::string, int> counts;
    for (const Sale& sale : sales) ++counts[sale.currency];
    std::string chosen = asked;
    if (chosen.empty())
        for (const auto& [currency, count] : counts)
            if (chosen.empty() || count > counts[chosen]) chosen = currency;
    std::vector<Sale> out;
    for (const Sale& sale : sales)
        if (sale.currency == chosen) out.push_back(sale);
    for (const auto& [currency, count] : counts)
        if (currency != chosen)
            left_out.push_back({fmt::format("in {}; no exchange rate is assumed", currency), count});
    return out;
}

ordered_json history_json(const Prices& prices, const Things& things, const HistoryAsk& ask, double this_year) {
    std::vector<std::string> title;
    if (!ask.treatment.empty()) title.push_back(things.treatment_name(ask.treatment));
    if (!ask.shape.empty()) title.push_back(things.shape_name(ask.shape));
    if (!ask.form.empty()) title.push_back(things.form_name(ask.form));
    Thing thing;
    if (const auto ref = things.treatment(ask.treatment)) thing = things.of(ref, std::nullopt);
    thing.treatment = ask.treatment;
    thing.form = ask.form;
    if (!ask.shape.empty()) thing.shape = ask.shape;
    thing.condition = ask.condition;
    thing.market = ask.market == Market::kUnsaid ? prices.usual_market() : ask.market;
    ordered_json sales = ordered_json::array();
    for (std::size_t i = 0; i < prices.sales().size(); ++i) {
        const Sale& sale = prices.sales()[i];
        const Thing sold = things.of(sale);
        if ((!ask.form.empty() && sold.form != ask.form) ||
            (!ask.treatment.empty() && sold.treatment != ask.treatment) ||
            (!ask.shape.empty() && sold.shape != ask.shape) ||
            (ask.condition != Condition::kUnsaid && sold.condition != ask.condition) ||
            (ask.market != Market::kUnsaid && sold.market != ask.market))
            continue;
        sales.push_back({{"id", sale.id},
                         {"date", sale.date},
                         {"year", std::round(prices.year(i) * 100) / 100},
                         {"price", sale.price},
                         {"counted", fine(prices.counted(i))},
                         {"condition", name_of(sale.condition)},
                         {"grade", sale.grade},
                         {"market", name_of(sale.market)},
                         {"words", fmt::format("{}, {:.2f} {}", sale.date, sale.price, sale.currency)}});
    }
    ordered_json curve = ordered_json::array();
    const int first = static_cast<int>(std::floor(prices.first_year())),
              last = static_cast<int>(std::floor(this_year));
    for (int year = std::max(first, last - 60); year <= last; ++year) {
        const Interval i = interval(prices.outlook(thing, year + 0.5));
        ordered_json point = interval_json(i);
        curve.push_back(
            {{"year", year}, {"median", point["median"]}, {"fifty", point["fifty"]}, {"ninety", point["ninety"]}});
    }
    const std::size_t many = sales.size();
    return {{"title", title.empty() ? std::string("All sales") : fmt::format("{}", fmt::join(title, ", "))},
            {"currency", prices.currency()},
            {"sales", std::move(sales)},
            {"curve", std::move(curve)},
            {"words", fmt::format("{} {} of this kind; the line is what the model makes of all {} sales, {}.", many,
                                  many == 1 ? "sale" : "sales", prices.sales().size(),
                                  kMarkets[static_cast<std::size_t>(thing.market)].words)},
            {"defers", kDefers},
            {"notes", ordered_json::array()}};
}

}  // namespace footring::worth

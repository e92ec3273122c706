// Worth: estimates, price histories, what all pieces come to, lots under the hammer. Only sharing a lot's cost
// changes the store, and only when asked. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "base/json.h"
#include "base/text.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"
#include "worth/asked.h"
#include "worth/currencies.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;
using Identified = std::expected<worth::Identified, Problems>;
using exchange::Holdings;

Identified identify_file(App& app, const json& value, const worth::Manner& manner, const std::string& where) {
    std::vector<std::string> notes;
    const auto piece = looks::piece_from_value(value, where, notes);
    if (!piece) return refuse(piece.error());
    return exchange::identified(namer_of(app), app.market.things(), *piece, manner, where);
}

Identified identify_id(App& app, const json& value, const worth::Manner& manner, const std::string& where) {
    if (!value.is_string())
        return refuse(ProblemCode::kBadInput, where, "this is not the id of a piece",
                      "put the id in double quotes");
    const auto record = app.store->piece(value.get<std::string>());
    if (!record) return refuse(record.error());
    return exchange::identified(namer_of(app), app.market.things(), *record, manner, where);
}

std::expected<std::string, Problems> currency_named(const std::string& text, const char* where) {
    if (text.empty()) return text;
    auto code = worth::read_currency(text, where);
    if (!code) return refuse(code.error());
    return *code;
}

std::expected<Priced, Problems> prices_in(App& app, const std::string& currency, const char* where) {
    const auto code = currency_named(currency, where);
    if (!code) return refuse(code.error());
    auto priced = app.market.prices(*code);
    if (!priced) return refuse(priced.error());
    return *priced;
}

struct When {
    std::string date;
    double year;
};
std::expected<When, Problems> when_asked(const App& app, const std::string& date, const char* where) {
    const std::string today = app.now().substr(0, 10), asked = date.empty() ? today : date;
    const auto year = worth::year_asked(asked, today, where);
    if (!year) return refuse(year.error());
    return When{asked, *year};
}

Answered estimate(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    auto manner = worth::manner_from_json(*body, "body");
    if (!manner) return refuse(std::move(manner.error()));
    const auto currency = text_member(*body, "currency");
    if (!currency) return refuse(currency.error());
    const auto date = text_member(*body, "date");
    if (!date) return refuse(date.error());
    const auto when = when_asked(app, *date, "body: /date");
    if (!when) return refuse(when.error());
    const auto member = [&](const char* name) {
        const auto found = body->find(name);
        return found == body->end() || found->is_null() ? nullptr : &*found;
    };
    const json *file = member("piece"), *id = member("piece_id"), *thing = member("thing");
    if ((file != nullptr) + (id != nullptr) + (thing != nullptr) != 1)
        return refuse(ProblemCode::kBadInput, "body", "it has to say what is to be priced, once",
                      "give one of the members piece_id, piece and thing");
    const worth::Things& things = app.market.things();
    std::vector<worth::Identity> identities;
    std::string title;
    if (thing != nullptr) {
        const auto described = worth::described_from_json(*thing, app.book, *manner, "body: /thing");
        if (!described) return refuse(described.error());
        identities = worth::identities_of(things, *described, *manner);
        title = worth::words_of(things, *described);
    } else {
        auto found = file != nullptr ? identify_file(app, *file, *manner, "body: /piece")
                                     : identify_id(app, *id, *manner, "body: /piece_id");
        if (!found) return refuse(std::move(found.error()));
        identities = std::move(found->identities);
        title = std::move(found->words);
    }
    const auto priced = prices_in(app, *currency, "body: /currency");
    if (!priced) return refuse(priced.error());
    const worth::Estimate answer = worth::estimate(*priced->prices, things, std::move(identities), when->year);
    ordered_json out{{"title", title}};
    out.update(worth::estimate_json(answer, *priced->prices, things, priced->left_out, when->date));
    return json_reply(out);
}

Answered history(App& app, const Request& request) {
    const auto form = maybe_row_named<book::Form>(app.book, query_text(request, "form"), "query: form");
    if (!form) return refuse(form.error());
    const auto treatment =
        maybe_row_named<book::Treatment>(app.book, query_text(request, "treatment"), "query: treatment");
    if (!treatment) return refuse(treatment.error());
    const auto shape = maybe_row_named<book::Shape>(app.book, query_text(request, "shape"), "query: shape");
    if (!shape) return refuse(shape.error());
    const worth::Things& things = app.market.things();
    worth::HistoryAsk ask;
    ask.form = things.form_key(query_text(request, "form"));
    ask.treatment = things.treatment_key(query_text(request, "treatment"));
    ask.shape = things.shape_key(query_text(request, "shape"));
    const json said{{"condition", query_text(request, "condition")}, {"market", query_text(request, "market")}};
    const auto manner = worth::manner_from_json(said, "query");
    if (!manner) return refuse(manner.error());
    ask.condition = manner->condition;
    ask.market = manner->market;
    if (ask.form.empty() && ask.treatment.empty() && ask.shape.empty())
        return refuse(ProblemCode::kBadInput, "query", "nothing is asked for",
                      "name a form, a treatment or a shape");
    const auto when = when_asked(app, "", "date");
    if (!when) return refuse(when.error());
    const auto priced = prices_in(app, query_text(request, "currency"), "query: currency");
    if (!priced) return refuse(priced.error());
    return json_reply(worth::history_json(*priced->prices, things, ask, when->year));
}

Answered model(App& app, const Request& request) {
    const auto priced = prices_in(app, query_text(request, "currency"), "query: currency");
    if (!priced) return refuse(priced.error());
    return json_reply(worth::model_json(*priced->prices, app.market.things(), priced->left_out));
}

std::expected<Holdings, Problems> holdings_of(App& app, const worth::Prices& prices, worth::Market market,
                                              const std::string& lot, const std::string& place) {
    return exchange::holdings_of(namer_of(app), app.market.things(), *app.store, prices, market, lot, place);
}
ordered_json without_json(const Holdings& held) {
    return json_list(held.without, [](const Holdings::Without& one) {
        return ordered_json{{"piece", one.piece}, {"why", one.why}};
    });
}

std::expected<worth::Market, Problems> market_query(const Request& request) {
    const auto market = worth::market_named(query_text(request, "market"));
    if (!market)
        return refuse(ProblemCode::kBadInput, "query: market",
                      fmt::format("there is no market '{}'", query_text(request, "market")),
                      "use auction, dealer, fair, online or private");
    return *market;
}

ordered_json notes_of(const Holdings& held, const worth::Prices& prices) {
    ordered_json notes = ordered_json::array();
    if (held.other_currency > 0)
        notes.push_back(
            fmt::format("The cost of {} pieces is not in {} and is not counted: no exchange rate is assumed.",
                        held.other_currency, prices.currency()));
    if (!held.without.empty())
        notes.push_back(
            fmt::format("{} pieces are not counted: what they are is not known well enough.", held.without.size()));
    return notes;
}

Answered portfolio(App& app, const Request& request) {
    const auto market = market_query(request);
    if (!market) return refuse(market.error());
    const auto when = when_asked(app, "", "date");
    if (!when) return refuse(when.error());
    const auto priced = prices_in(app, query_text(request, "currency"), "query: currency");
    if (!priced) return refuse(priced.error());
    const worth::Prices& prices = *priced->prices;
    const auto held = holdings_of(app, prices, *market, "", "");
    if (!held) return refuse(held.error());
    ordered_json points = ordered_json::array();
    std::string words = "No piece can be priced yet.";
    for (const worth::HoldingsPoint& point : worth::over_time(prices, held->holdings, when->year)) {
        const bool now = point.year == when->year;
        points.push_back({{"date", now ? when->date : fmt::format("{:.0f}", std::floor(point.year))},
                          {"year", std::round(point.year * 100) / 100},
                          {"pieces", point.pieces},
                          {"priced", point.pieces},
                          {"costed", point.costed},
                          {"cost", worth::to_cents(point.cost)},
                          {"worth", point.worth ? worth::interval_json(*point.worth) : ordered_json()}});
        if (now && point.worth)
            words = fmt::format("{} pieces together: about {} {}, nine in ten {} to {}; {} of them cost {}.",
                                point.pieces, worth::money(point.worth->median), prices.currency(),
                                worth::money(point.worth->ninety[0]), worth::money(point.worth->ninety[1]),
                                point.costed, worth::money(point.cost));
    }
    struct Group {
        int pieces = 0;
        double median = 0;
    };
    std::map<std::string, Group> groups;
    for (std::size_t i = 0; i < held->holdings.size(); ++i) {
        worth::Thing thing = held->holdings[i].identities.front().thing;
        if (thing.market == worth::Market::kUnsaid) thing.market = prices.usual_market();
        Group& group = groups[held->records[i].piece.form];
        ++group.pieces;
        group.median += std::exp(prices.outlook(thing, when->year).log_middle);
    }
    ordered_json rows = ordered_json::array();
    const worth::Things& things = app.market.things();
    for (const auto& [form, group] : groups)
        rows.push_back(
            {{"form", form.empty() ? ordered_json()
                                   : ordered_json{{"id", form}, {"name", things.form_name(things.form_key(form))}}},
             {"pieces", group.pieces},
             {"median", worth::to_cents(group.median)}});
    return json_reply({{"currency", prices.currency()},
                       {"points", points},
                       {"groups", rows},
                       {"without", without_json(*held)},
                       {"words", words},
                       {"defers", worth::kDefers},
                       {"notes", notes_of(*held, prices)}});
}

Answered schedule(App& app, const Request& request) {
    const auto when = when_asked(app, "", "date");
    if (!when) return refuse(when.error());
    const auto priced = prices_in(app, query_text(request, "currency"), "query: currency");
    if (!priced) return refuse(priced.error());
    const worth::Prices& prices = *priced->prices;
    auto held =
        holdings_of(app, prices, worth::Market::kUnsaid, query_text(request, "lot"), query_text(request, "place"));
    if (!held) return refuse(held.error());
    const worth::Things& things = app.market.things();
    constexpr worth::Market kReplacement = worth::Market::kDealer, kSale = worth::Market::kAuction;
    ordered_json rows = ordered_json::array();
    for (std::size_t i = 0; i < held->holdings.size(); ++i) {
        const worth::Holding& holding = held->holdings[i];
        const store::PieceRecord& record = held->records[i];
        const worth::Identity& best = holding.identities.front();
        ordered_json treatment;
        if (best.treatment) {
            const book::Treatment& row = app.book[*best.treatment];
            treatment = {
                {"id", book::id_of(app.book, *best.treatment)}, {"number", row.number}, {"name", row.name}};
        }
        const std::string& form = record.piece.form;
        rows.push_back(
            {{"piece", holding.id},
             {"words", held->words[i]},
             {"form", form.empty() ? ordered_json()
                                   : ordered_json{{"id", form}, {"name", things.form_name(things.form_key(form))}}},
             {"treatment", treatment},
             {"probability", std::round(best.probability * 1e4) / 1e4},
             {"decided", record.decision.has_value()},
             {"place", record.place},
             {"condition", name_of(best.thing.condition)},
             {"replacement", worth::interval_json(exchange::in_market(prices, holding, kReplacement, when->year))},
             {"sale", worth::interval_json(exchange::in_market(prices, holding, kSale, when->year))},
             {"cost", holding.cost ? ordered_json(worth::to_cents(*holding.cost)) : ordered_json()}});
    }
    const auto total = [&](worth::Market market) -> ordered_json {
        if (held->holdings.empty()) return nullptr;
        for (worth::Holding& holding : held->holdings)
            for (worth::Identity& identity : holding.identities) identity.thing.market = market;
        return worth::interval_json(worth::total(prices, held->holdings, when->year));
    };
    ordered_json notes = notes_of(*held, prices);
    for (const worth::Market market : {kReplacement, kSale})
        if (prices.sales_at(market) == 0)
            notes.push_back(
                fmt::format("No sale {} is recorded: those figures are of the market as a whole, and wide.",
                            worth::kMarkets[static_cast<std::size_t>(market)].words));
    const std::size_t many = rows.size();
    return json_reply(
        {{"currency", prices.currency()},
         {"date", when->date},
         {"rows", rows},
         {"totals",
          {{"replacement", total(kReplacement)},
           {"sale", total(kSale)},
           {"pieces", many},
           {"without", without_json(*held)}}},
         {"markets", {{"replacement", name_of(kReplacement)}, {"sale", name_of(kSale)}}},
         {"words",
          "Replacement is what a dealer may ask for a like piece; sale is what a like piece may bring at auction, "
          "before selling costs. They are two figures, and neither stands for the other."},
         {"defers", worth::kDefers},
         {"notes", notes}});
}

Answered haul(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const worth::Things& things = app.market.things();
    const auto ask = worth::haul_from_json(
        *body, things,
        [&](const json& v, const worth::Manner& m, const std::string& w) { return identify_file(app, v, m, w); },
        [&](const json& v, const worth::Manner& m, const std::string& w) { return identify_id(app, v, m, w); },
        "body");
    if (!ask) return refuse(ask.error());
    const auto when = when_asked(app, ask->date, "body: /date");
    if (!when) return refuse(when.error());
    const auto priced = prices_in(app, ask->currency, "body: /currency");
    if (!priced) return refuse(priced.error());
    const worth::HaulAnswer answer = worth::haul(*priced->prices, ask->pieces, ask->costs, when->year);
    return json_reply(worth::haul_json(answer, ask->pieces, ask->costs, *priced->prices, things, priced->left_out));
}

Answered share(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    const auto apply = flag_member(*body, "apply");
    if (!apply) return refuse(apply.error());
    const auto lots = app.store->lots();
    if (!lots) return refuse(lots.error());
    const auto lot = std::ranges::find(*lots, request.values[0], &store::Lot::id);
    if (lot == lots->end())
        return refuse(ProblemCode::kNotFound, "lot", fmt::format("there is no lot '{}'", request.values[0]),
                      "see the list of lots");
    std::optional<double> cost = lot->cost;
    if (const auto said = body->find("cost"); said != body->end() && !said->is_null()) {
        if (!said->is_number() || !(said->get<double>() >= 0) || said->get<double>() > 1e9)
            return refuse(ProblemCode::kBadInput, "body: /cost", "this is no amount of money",
                          "give a number that is not negative, or leave it out");
        cost = said->get<double>();
    }
    if (!cost)
        return refuse(ProblemCode::kBadInput, "lot", "the lot has no cost to share out",
                      "record what it cost, or give 'cost'");
    // Worth is compared within the lot only, so the currency of the sales need not be that of the cost.
    const auto priced = prices_in(app, "", "currency");
    if (!priced) return refuse(priced.error());
    const auto when = when_asked(app, "", "date");
    if (!when) return refuse(when.error());
    const std::lock_guard lock(app.changing);
    auto held = holdings_of(app, *priced->prices, worth::Market::kUnsaid, lot->id, "");
    if (!held) return refuse(held.error());
    if (held->holdings.empty())
        return refuse(ProblemCode::kBadInput, "lot", "no piece of the lot can be priced",
                      "put pieces into the lot and say what form they are");
    std::vector<double> weights, medians;
    double whole = 0;
    for (const worth::Holding& holding : held->holdings) {
        std::vector<worth::Weighted> mixture;
        for (worth::Identity identity : holding.identities) {
            if (identity.thing.market == worth::Market::kUnsaid)
                identity.thing.market = priced->prices->usual_market();
            mixture.push_back({identity.probability, priced->prices->outlook(identity.thing, when->year)});
        }
        weights.push_back(worth::mean(mixture));
        medians.push_back(worth::interval(mixture).median);
        whole += weights.back();
    }
    const worth::Currency* currency = worth::currency_of(lot->currency);
    const auto parts = worth::share_out(*cost, weights, currency == nullptr ? 2 : currency->digits);
    ordered_json rows = ordered_json::array();
    std::vector<store::PieceRecord> records = held->records;
    for (std::size_t i = 0; i < records.size(); ++i) {
        rows.push_back({{"piece", records[i].piece.id},
                        {"words", held->words[i]},
                        {"median", worth::to_cents(medians[i])},
                        {"share", std::round(1e4 * weights[i] / whole) / 1e4},
                        {"cost", parts[i]},
                        {"before", records[i].cost ? ordered_json(*records[i].cost) : ordered_json()}});
        records[i].cost = parts[i];
        records[i].currency = lot->currency;
    }
    ordered_json batch;
    if (*apply) {
        const auto stored = app.store->put_all(records, fmt::format("Cost of {} shared out by worth.", lot->name));
        if (!stored) return refuse(stored.error());
        batch = app.store->own_batch();
        note_change(app);
    }
    ordered_json notes = ordered_json::array();
    if (!held->without.empty())
        notes.push_back(fmt::format("{} pieces of the lot could not be priced and bear no part of the cost.",
                                    held->without.size()));
    return json_reply({{"currency", lot->currency},
                       {"cost", *cost},
                       {"rows", rows},
                       {"applied", *apply},
                       {"batch", batch},
                       {"words", "Each piece bears the part of the cost that its expected price is of the lot's."},
                       {"notes", notes}});
}

}  // namespace

std::vector<Route> worth_routes() {
    return {{"POST", "/api/worth/estimate", Takes::kJson, Role::kReader, estimate},
            {"GET", "/api/worth/history", Takes::kNone, Role::kReader, history},
            {"GET", "/api/worth/model", Takes::kNone, Role::kReader, model},
            {"GET", "/api/worth/portfolio", Takes::kNone, Role::kContributor, portfolio},
            {"GET", "/api/worth/schedule", Takes::kNone, Role::kContributor, schedule},
            {"POST", "/api/worth/haul", Takes::kJson, Role::kContributor, haul},
            {"POST", "/api/worth/lots/{id}/share", Takes::kJson, Role::kContributor, share}};
}

}  // namespace footring::server

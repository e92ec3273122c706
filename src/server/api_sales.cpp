// Recorded sales: the list, one by one, and from spreadsheets. They are what estimates are made of.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>

#include "base/json.h"
#include "base/text.h"
#include "exchange/json_text.h"
#include "exchange/sales.h"
#include "server/app.h"
#include "server/records.h"
#include "server/routes.h"
#include "worth/currencies.h"

namespace footring::server {

namespace {

using exchange::KeptSale;
using nlohmann::json;
using nlohmann::ordered_json;

ordered_json row_json(App& app, const KeptSale& kept) {
    ordered_json out = worth::sale_row_json(kept.sale, app.market.things());
    out["revision"] = kept.revision;
    out["created"] = kept.created;
    out["changed"] = kept.changed;
    return out;
}

std::string words_of_row(const worth::Sale& sale, const worth::Things& things) {
    return lower(fmt::format("{} {} {} {} {} {} {} {} {}", sale.id, sale.date,
                             things.form_name(things.form_key(sale.form)), things.treatment_name(sale.treatment),
                             sale.venue, name_of(sale.market), sale.source, sale.note, name_of(sale.condition)));
}

bool wanted(const worth::Sale& sale, const Request& request, const worth::Things& things,
            const std::vector<std::string>& words) {
    const auto is = [&](const char* name, std::string_view value) {
        const std::string asked = query_text(request, name);
        return asked.empty() || asked == value;
    };
    const std::string form = query_text(request, "form"), treatment = query_text(request, "treatment"),
                      shape = query_text(request, "shape");
    if (!form.empty() && things.form_key(form) != things.form_key(sale.form)) return false;
    if (!treatment.empty() && things.treatment_key(treatment) != sale.treatment) return false;
    if (!shape.empty() && things.of(sale).shape != things.shape_key(shape)) return false;
    if (!is("condition", name_of(sale.condition)) || !is("grade", sale.grade) ||
        !is("market", name_of(sale.market)) || !is("currency", sale.currency))
        return false;
    if (words.empty()) return true;
    const std::string all = words_of_row(sale, things);
    return std::ranges::all_of(words, [&](const std::string& word) { return all.find(word) != std::string::npos; });
}

Answered list(App& app, const Request& request) {
    const auto limit = query_int(request, "limit", 100, 0, 1000);
    if (!limit) return refuse(limit.error());
    const auto offset = query_int(request, "offset", 0, 0, 10'000'000);
    if (!offset) return refuse(offset.error());
    const std::string sort = query_text(request, "sort").empty() ? "date" : query_text(request, "sort");
    const std::string order = query_text(request, "order").empty() ? "desc" : query_text(request, "order");
    static const std::set<std::string> kSaleSorts{"date", "price", "form", "treatment", "venue", "id"};
    if (!kSaleSorts.contains(sort))
        return refuse(ProblemCode::kBadInput, "query: sort", fmt::format("sales cannot be sorted by '{}'", sort),
                      fmt::format("use one of {}", fmt::join(kSaleSorts, ", ")));
    if (order != "asc" && order != "desc")
        return refuse(ProblemCode::kBadInput, "query: order", fmt::format("there is no order '{}'", order),
                      "use asc or desc");
    const auto sales = app.market.sales();
    if (!sales) return refuse(sales.error());
    const worth::Things& things = app.market.things();
    const std::vector<std::string> words = split(lower(query_text(request, "q")), ' ');
    std::vector<const KeptSale*> found;
    std::map<std::string, int> currencies, venues;
    for (const KeptSale& kept : (*sales)->sales) {
        ++currencies[kept.sale.currency];
        if (!kept.sale.venue.empty()) ++venues[kept.sale.venue];
        if (wanted(kept.sale, request, things, words)) found.push_back(&kept);
    }
    const auto before = [&](const KeptSale* a, const KeptSale* b) {
        const worth::Sale &x = a->sale, &y = b->sale;
        if (sort == "price") return x.price < y.price;
        if (sort == "form") return x.form < y.form;
        if (sort == "treatment") return x.treatment < y.treatment;
        if (sort == "venue") return x.venue < y.venue;
        if (sort == "date") return x.date < y.date;
        return false;  // ids are in order already
    };
    std::ranges::stable_sort(found, before);
    if (order == "desc") std::ranges::reverse(found);
    ordered_json rows = ordered_json::array();
    for (std::size_t i = static_cast<std::size_t>(*offset);
         i < found.size() && rows.size() < static_cast<std::size_t>(*limit); ++i)
        rows.push_back(row_json(app, *found[i]));
    std::vector<std::pair<std::string, int>> most(currencies.begin(), currencies.end());
    std::ranges::stable_sort(most, std::greater<>{}, &std::pair<std::string, int>::second);
    const ordered_json codes = json_list(most, [](const auto& one) {
        return ordered_json{{"code", one.first}, {"count", one.second}};
    });
    const ordered_json places = json_list(venues, [](const auto& one) { return ordered_json(one.first); });
    return json_reply({{"rows", rows}, {"total", found.size()}, {"currencies", codes}, {"venues", places}});
}

Expected<KeptSale> sale_named(const App& app, const std::string& id) {
    const auto record = app.store->record("sale", id);
    if (!record) return std::unexpected(record.error());
    return exchange::kept_sale(*record);
}

Answered one(App& app, const Request& request) {
    const auto kept = sale_named(app, request.values[0]);
    if (!kept) return refuse(kept.error());
    ordered_json row = row_json(app, *kept);
    const auto sales = app.market.sales();
    if (!sales) return refuse(sales.error());
    ordered_json alike = ordered_json::array();
    for (const KeptSale& other : (*sales)->sales)
        if (other.sale.id != kept->sale.id &&
            worth::likeness(other.sale, kept->sale) != worth::Likeness::kDifferent)
            alike.push_back(other.sale.id);
    if (!alike.empty()) row["look_alikes"] = alike;
    return json_reply(row);
}

struct Sent {
    worth::Sale sale;
    std::int64_t revision = 0;
};
std::expected<Sent, Problems> sale_of_body(const App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    auto sale = worth::sale_from_json(*body, app.now(), "body");
    if (!sale) return refuse(std::move(sale.error()));
    Sent out{std::move(*sale), 0};
    Problems problems;
    const exchange::Names names(app.book);
    exchange::settle_sale(
        out.sale, app.book, names, [](std::string_view field) { return fmt::format("body: /{}", field); },
        problems);
    if (const auto revision = body->find("revision"); revision != body->end() && !revision->is_null()) {
        if (revision->is_number_integer() && revision->get<std::int64_t>() >= 0)
            out.revision = revision->get<std::int64_t>();
        else
            problems.push_back({ProblemCode::kBadInput, "body: /revision", "this is no revision",
                                "give the number that came with the sale"});
    }
    if (!problems.empty()) return refuse(std::move(problems));
    return out;
}

Answered put(App& app, const Sent& sent, int status) {
    const std::lock_guard lock(app.changing);
    const auto stored = app.store->put(exchange::sale_record(sent.sale, sent.revision), "");
    if (!stored) return refuse(stored.error());
    return json_reply(row_json(app, exchange::kept_sale(*stored)), status);
}

Answered add(App& app, const Request& request) {
    const auto sent = sale_of_body(app, request);
    if (!sent) return refuse(sent.error());
    if (sent->revision != 0)
        return refuse(ProblemCode::kBadInput, "body: /revision", "a new sale has no revision yet",
                      "give 0, or change the sale with PUT");
    return put(app, *sent, 201);
}

Answered change(App& app, const Request& request) {
    auto sent = sale_of_body(app, request);
    if (!sent) return refuse(std::move(sent.error()));
    if (!sent->sale.id.empty() && sent->sale.id != request.values[0])
        return refuse(ProblemCode::kBadInput, "body: /id", "this is not the sale of the address",
                      "the id of a sale stays as it is; add a new sale instead");
    sent->sale.id = request.values[0];
    if (const auto known = sale_named(app, sent->sale.id); !known) return refuse(known.error());
    return put(app, *sent, 200);
}

Answered remove(App& app, const Request& request) {
    const std::lock_guard lock(app.changing);
    if (auto removed = app.store->remove_records("sale", {request.values[0]}, ""); !removed)
        return refuse(removed.error());
    return json_reply({{"removed", 1}, {"batch", app.store->own_batch()}});
}

// Records that agree in what was sold, when and for how much, unless notes that differ tell them apart: each list
// in the order of ids.
std::vector<std::vector<const KeptSale*>> repeats_of(const exchange::KeptSales& sales) {
    using Key = std::tuple<std::string_view, double, std::string_view, std::string_view, std::string_view,
                           std::string_view>;
    std::map<Key, std::vector<const KeptSale*>> alike;
    for (const KeptSale& kept : sales.sales) {
        const worth::Sale& s = kept.sale;
        alike[{s.date, s.price, s.currency, s.form, s.treatment, s.shape}].push_back(&kept);
    }
    std::vector<std::vector<const KeptSale*>> out;
    for (auto& [key, list] : alike) {
        std::set<std::string_view> notes;
        for (const KeptSale* one : list) notes.insert(one->sale.note);
        if (list.size() > 1 && (notes.size() < list.size() || notes.contains(""))) out.push_back(std::move(list));
    }
    std::ranges::sort(out, {}, [](const auto& list) { return list.front()->sale.id; });
    return out;
}

Answered doubtful(App& app, const Request&) {
    const auto sales = app.market.sales();
    if (!sales) return refuse(sales.error());
    const worth::Things& things = app.market.things();
    ordered_json repeats = ordered_json::array();
    for (const auto& list : repeats_of(**sales)) {
        const bool same = std::ranges::all_of(list, [&](const KeptSale* one) {
            return one == list.front() || worth::likeness(one->sale, list.front()->sale) == worth::Likeness::kSame;
        });
        repeats.push_back(
            {{"sales", json_list(list, [&](const KeptSale* one) { return row_json(app, *one); })},
             {"same", same},
             {"words",
              same ? "They agree in everything: one sale was entered more than once, or like pieces were sold."
                   : "They agree in date, price and what was sold: two lists may tell of one sale."}});
    }
    std::map<std::string, const KeptSale*> by_id;
    std::map<std::string, int> currencies;
    for (const KeptSale& kept : (*sales)->sales) by_id[kept.sale.id] = &kept, ++currencies[kept.sale.currency];
    ordered_json mistaken = ordered_json::array(), notes = ordered_json::array();
    for (const auto& [currency, count] : currencies) {
        const auto priced = app.market.prices(currency);
        if (!priced && priced.error().code != ProblemCode::kNotFound) return refuse(priced.error());
        if (!priced) {
            notes.push_back(fmt::format("In {} there {}: too few to tell a mistake, for which {} are needed.",
                                        currency, count == 1 ? "is one sale" : fmt::format("are {} sales", count),
                                        worth::kFewestSales));
            continue;
        }
        for (const worth::Mistaken& one : worth::mistaken(*priced->prices, things)) {
            const worth::Sale& sale = priced->prices->sales()[one.sale];
            mistaken.push_back({{"sale", row_json(app, *by_id.at(sale.id))},
                                {"counted", std::round(1e4 * priced->prices->counted(one.sale)) / 1e4},
                                {"expected", worth::interval_json(one.expected)},
                                {"words", worth::mistaken_words(sale, one.expected)}});
        }
    }
    const std::size_t total = repeats.size() + mistaken.size();
    return json_reply({{"repeats", std::move(repeats)},
                       {"mistaken", std::move(mistaken)},
                       {"total", total},
                       {"notes", std::move(notes)}});
}

Answered vocabulary(App& app, const Request&) {
    const auto words = [](const auto& all) {
        return json_list(all, [](const worth::Word& w) {
            return ordered_json{{"value", w.name}, {"words", w.words}};
        });
    };
    return json_reply({{"conditions", words(worth::kConditions)},
                       {"markets", words(worth::kMarkets)},
                       {"grades", worth::kSaleGrades},
                       {"currencies", json_list(worth::all_currencies(),
                                                [](const worth::Currency& c) {
                                                    return ordered_json{{"code", c.code}, {"name", c.name}};
                                                })},
                       {"today", app.now().substr(0, 10)}});
}

Answered download_sales(App& app, const Request&) {
    const auto sales = app.market.sales();
    if (!sales) return refuse(sales.error());
    std::vector<worth::Sale> all;
    for (const KeptSale& kept : (*sales)->sales) all.push_back(kept.sale);
    Reply reply;
    reply.type = "text/csv; charset=utf-8";
    reply.body = exchange::write_sales_csv(all);
    reply.headers.emplace_back("Content-Disposition", "attachment; filename=\"footring-sales.csv\"");
    return reply;
}

}  // namespace

std::vector<Route> sales_routes() {
    return {{"GET", "/api/sales", Takes::kNone, Role::kReader, list},
            {"POST", "/api/sales", Takes::kJson, Role::kContributor, add},
            {"GET", "/api/sales/vocabulary", Takes::kNone, Role::kReader, vocabulary},
            {"GET", "/api/sales/export", Takes::kNone, Role::kReader, download_sales},
            {"GET", "/api/sales/doubtful", Takes::kNone, Role::kContributor, doubtful},
            {"GET", "/api/sales/{id}", Takes::kNone, Role::kReader, one},
            {"PUT", "/api/sales/{id}", Takes::kJson, Role::kContributor, change},
            {"DELETE", "/api/sales/{id}", Takes::kNone, Role::kContributor, remove}};
}

}  // namespace footring::server

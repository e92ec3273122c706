// Allotments: asked for as jobs, shown as laid tables, and what follows from them: wants, parting, finds,
// comparison. Prices are estimates from the sales that are kept, unless others are handed in.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/json.h"
#include "exchange/json_text.h"
#include "exchange/reckoned.h"
#include "server/allots.h"
#include "server/routes.h"
#include "server/service_records.h"
#include "services/services_json.h"
#include "worth/currencies.h"

namespace footring::server {

namespace {

using nlohmann::json;
using nlohmann::ordered_json;

std::int64_t newest_change(const App& app) {
    const auto newest = app.store->recent(1);
    return newest && !newest->empty() ? newest->front().id : 0;
}

// Whether pieces, services or compositions were changed since.
bool stale(const App& app, const AllotDesk::Job& job) {
    if (job.packs != app.packs) return true;
    constexpr int kLookedAt = 200;
    const auto changes = app.store->recent(kLookedAt);
    if (!changes) return true;
    for (const store::Change& change : *changes) {
        if (change.id <= job.as_of) return false;
        if (change.entity == "piece" || change.entity == kServiceKind || change.entity == kCompositionKind)
            return true;
    }
    return changes->size() == kLookedAt;
}

ordered_json job_json(const App& app, const AllotDesk::Job& job, bool whole) {
    ordered_json out{{"id", job.id}, {"state", name_of(job.state)}, {"began", job.began}, {"ended", nullptr}};
    if (!job.ended.empty()) out["ended"] = job.ended;
    out["asked"] = {{"objective", services::kObjectiveNames[static_cast<std::size_t>(job.objective)]},
                    {"budget", job.budget ? ordered_json(*job.budget) : ordered_json(nullptr)},
                    {"services", job.asked}};
    out["stale"] = stale(app, job);
    out["progress"] = nullptr;
    if (job.progress && !job.finished()) {
        const services::Progress& p = *job.progress;
        const auto finite = [](double value) {  // before the first allotment is found there is no best
            return std::abs(value) < 1e15 ? ordered_json(value) : ordered_json(nullptr);
        };
        out["progress"] = {{"goal", p.goal},
                           {"at", p.at},
                           {"of", p.of},
                           {"nodes", p.nodes},
                           {"best", finite(p.best)},
                           {"bound", finite(p.bound)},
                           {"seconds", p.seconds}};
    }
    out["problems"] = json_list(job.problems, [](const Problem& p) { return exchange::problem_json(p); });
    if (whole && job.laid)
        out["allotment"] =
            services::allotment_json(*job.laid->fitting, job.laid->allotment, job.laid->options.prices);
    return out;
}

std::unexpected<Problems> no_job(const std::string& id) {
    return refuse(ProblemCode::kNotFound, "allotment", fmt::format("there is no allotment '{}' any more", id),
                  "ask for a new one: the last 20 are kept while the program runs");
}

// A number of the body, from `lowest` to `highest`.
std::expected<std::optional<double>, Problems> number_member(const json& body, const char* name, double lowest,
                                                             double highest) {
    const auto found = body.find(name);
    if (found == body.end() || found->is_null()) return std::optional<double>{};
    const double value = found->is_number() ? found->get<double>() : std::nan("");
    if (!(value >= lowest && value <= highest))
        return refuse(ProblemCode::kBadInput, fmt::format("body: /{}", name),
                      found->is_number() ? fmt::format("{:g} cannot be", value) : "this is not a number",
                      fmt::format("give a number from {:g} to {:g}", lowest, highest));
    return std::optional(value);
}

std::expected<services::AllotOptions, Problems> options_of(const App& app, const json& body) {
    services::AllotOptions out;
    Problems problems;
    const auto keep = [&](auto&& read) {
        if (!read) std::ranges::move(read.error(), std::back_inserter(problems));
        return read.has_value();
    };
    const auto objective = text_member(body, "objective");
    if (keep(objective) && !objective->empty()) {
        const auto at = std::ranges::find(services::kObjectiveNames, *objective);
        if (at == services::kObjectiveNames.end())
            problems.push_back({ProblemCode::kBadInput, "body: /objective",
                                fmt::format("'{}' is no objective", *objective),
                                "use settings, services, value or purchase"});
        else out.objective = static_cast<services::Objective>(at - services::kObjectiveNames.begin());
    }
    const auto budget = number_member(body, "budget", 0, 1e12);
    if (keep(budget)) out.budget = *budget;
    const auto gap = number_member(body, "gap", 0, 0.5);
    out.limits.gap = keep(gap) ? gap->value_or(app.settings.service_gap) : 0;
    const auto seconds = number_member(body, "seconds", 1, 86400);
    out.limits.seconds = keep(seconds) ? seconds->value_or(app.settings.service_most_seconds) : 0;
    out.limits.nodes = static_cast<int>(app.settings.service_most_nodes);
    if (const auto prices = body.find("prices"); prices != body.end() && !prices->is_null()) {
        auto read = services::prices_from_json(app.book, *prices, "body: /prices");
        if (keep(read)) out.prices = std::move(*read);
    }
    if (problems.empty() && out.budget && out.objective != services::Objective::kPurchase)
        problems.push_back({ProblemCode::kBadInput, "body: /budget", "a budget is for a purchase",
                            "give the objective purchase, or no budget"});
    if (!problems.empty()) return refuse(std::move(problems));
    return out;
}

std::expected<std::string, Problems> currency_member(const json& body) {
    const auto text = text_member(body, "currency");
    if (!text) return refuse(text.error());
    if (text->empty()) return *text;
    auto code = worth::read_currency(*text, "body: /currency");
    if (!code) return refuse(code.error());
    return *code;
}

// From the sales that are kept; none are known when these are too few and no currency was asked for.
std::expected<services::Prices, Problems> estimates_for(App& app, const services::Fitting& fitting,
                                                        const std::string& currency) {
    const auto priced = app.market.prices(currency);
    if (!priced && priced.error().code == ProblemCode::kNotFound && currency.empty()) return services::Prices{};
    if (!priced) return refuse(priced.error());
    const std::string today = app.now().substr(0, 10);
    const auto year = worth::year_asked(today, today, "today");
    if (!year) return refuse(year.error());
    return exchange::estimated_prices(fitting, *priced->prices, app.market.things(), *year);
}

Answered ask(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    auto options = options_of(app, *body);
    if (!options) return refuse(std::move(options.error()));
    const auto wanted = list_member(*body, "services");
    if (!wanted) return refuse(wanted.error());
    const auto currency = currency_member(*body);
    if (!currency) return refuse(currency.error());
    const auto given_prices = body->find("prices");
    const bool estimate = given_prices == body->end() || given_prices->is_null();
    AllotDesk::Job job;
    job.objective = options->objective;
    job.budget = options->budget;
    job.as_of = newest_change(app);
    job.packs = app.packs;
    const auto records = app.store->records(kServiceKind);
    if (!records) return refuse(records.error());
    const auto own = own_compositions(app);
    if (!own) return refuse(own.error());
    std::vector<services::Service> chosen;
    for (const store::Record& record : *records) {
        if (!wanted->empty() && std::ranges::find(*wanted, record.id) == wanted->end()) continue;
        auto service = service_of(record);
        if (!service) return refuse(std::move(service.error()));
        job.asked.push_back(record.id);
        chosen.push_back(std::move(*service));
    }
    for (const std::string& id : *wanted)
        if (std::ranges::find(job.asked, id) == job.asked.end())
            return refuse(ProblemCode::kNotFound, "body: /services", fmt::format("there is no service '{}'", id),
                          "see the list of services");
    if (chosen.empty())
        return refuse(ProblemCode::kBadInput, "services", "there is no service to build", "add one first");
    auto plan = services::plan(chosen, *own, app.book, app.settings, "services");
    if (!plan) return refuse(std::move(plan.error()));
    auto laid = std::make_shared<LaidOut>();
    laid->app = app.shared_from_this();
    laid->plan = std::move(*plan);
    laid->options = std::move(*options);
    const auto work = [laid, estimate, currency = *currency, working = app.shared_from_this()](
                          const AllotDesk::Tell& tell) -> std::expected<std::shared_ptr<const LaidOut>, Problems> {
        auto pieces = exchange::owned_pieces(namer_of(*working), *working->store);
        if (!pieces) return refuse(std::move(pieces.error()));
        laid->pieces = std::move(*pieces);
        laid->fitting.emplace(working->book, laid->plan, laid->pieces, working->settings);
        if (estimate) {
            auto prices = estimates_for(*working, *laid->fitting, currency);
            if (!prices) return refuse(std::move(prices.error()));
            laid->options.prices = std::move(*prices);
        }
        services::AllotOptions watched = laid->options;
        watched.limits.stop = tell;
        auto allotment = services::allot(*laid->fitting, watched);
        if (!allotment) return refuse(std::move(allotment.error()));
        laid->allotment = std::move(*allotment);
        return std::shared_ptr<const LaidOut>(laid);
    };
    const auto added = app.allots.add(std::move(job), work);
    if (!added) return refuse(added.error());
    return json_reply(job_json(app, *added, false), 202);
}

Answered list(App& app, const Request&) {
    ordered_json rows = ordered_json::array();
    for (const AllotDesk::Job& job : app.allots.jobs()) rows.push_back(job_json(app, job, false));
    const auto total = rows.size();
    return json_reply({{"rows", std::move(rows)}, {"total", total}});
}

Answered show(App& app, const Request& request) {
    const auto job = app.allots.job(request.values[0]);
    if (!job) return no_job(request.values[0]);
    return json_reply(job_json(app, *job, true));
}

Answered stop(App& app, const Request& request) {
    const auto job = app.allots.stop(request.values[0]);
    if (!job) return no_job(request.values[0]);
    return json_reply(job_json(app, *job, false));
}

Answered laid_table(App& app, const Request& request) {
    const auto laid = laid_out(app, request.values[0]);
    if (!laid) return refuse(laid.error());
    const auto& all = (*laid)->plan.services;
    const auto at = std::ranges::find(all, request.values[1], [](const auto& s) { return s.given.id; });
    if (at == all.end())
        return refuse(ProblemCode::kNotFound, "service",
                      fmt::format("the service '{}' is not part of this allotment", request.values[1]),
                      "ask for a new allotment");
    const auto s = static_cast<std::uint32_t>(at - all.begin());
    return json_reply(services::table_json(*(*laid)->fitting, (*laid)->allotment, s));
}

Answered wants(App& app, const Request& request) {
    const auto laid = laid_out(app, request.values[0]);
    if (!laid) return refuse(laid.error());
    const LaidOut& l = **laid;
    return json_reply(services::wants_json(*l.fitting, services::wants(*l.fitting, l.allotment, l.options.prices),
                                           l.options.prices));
}

Answered parting(App& app, const Request& request) {
    const auto laid = laid_out(app, request.values[0]);
    if (!laid) return refuse(laid.error());
    ordered_json rows =
        services::parting_json(*(*laid)->fitting, services::parting(*(*laid)->fitting, (*laid)->allotment));
    const auto total = rows.size();
    return json_reply({{"rows", std::move(rows)}, {"total", total}});
}

ordered_json summary(const std::string& id, const LaidOut& laid) {
    int filled = 0, bought = 0;
    for (const services::ServiceTable& one : laid.allotment.services) filled += one.filled;
    for (const services::Bought& one : laid.allotment.bought) bought += one.count;
    return {{"id", id},
            {"objective", services::kObjectiveNames[static_cast<std::size_t>(laid.allotment.objective)]},
            {"complete", laid.allotment.complete()},
            {"whole", laid.allotment.whole()},
            {"filled", filled},
            {"bought", bought},
            {"spent", laid.allotment.spent}};
}

Answered compare(App& app, const Request& request) {
    const std::string ids[] = {query_text(request, "a"), query_text(request, "b")};
    std::vector<std::shared_ptr<const LaidOut>> both;
    for (const std::string& id : ids) {
        const auto laid = laid_out(app, id);
        if (!laid) return refuse(laid.error());
        both.push_back(*laid);
    }
    std::vector<std::string> services_of_both;
    for (const auto& laid : both)
        for (const auto& service : laid->plan.services)
            if (std::ranges::find(services_of_both, service.given.id) == services_of_both.end())
                services_of_both.push_back(service.given.id);
    ordered_json rows = ordered_json::array(), sentences = ordered_json::array();
    for (const std::string& id : services_of_both) {
        ordered_json row{{"service", nullptr},
                         {"complete", ordered_json::array()},
                         {"filled", ordered_json::array()},
                         {"settings", 0}};
        int complete[2] = {-1, -1};
        for (std::size_t i = 0; i < 2; ++i) {
            const auto& all = both[i]->plan.services;
            const auto at = std::ranges::find(all, id, [](const auto& s) { return s.given.id; });
            if (at == all.end()) {
                row["complete"].push_back(nullptr);
                row["filled"].push_back(nullptr);
                continue;
            }
            const services::ServiceTable& one =
                both[i]->allotment.services[static_cast<std::size_t>(at - all.begin())];
            row["service"] = {{"id", id}, {"name", at->given.name.empty() ? id : at->given.name}};
            row["complete"].push_back(one.complete);
            row["filled"].push_back(one.filled);
            row["settings"] = one.settings;
            complete[i] = one.complete;
        }
        if (complete[0] >= 0 && complete[1] >= 0 && complete[0] != complete[1])
            sentences.push_back(fmt::format("{}: {} settings in the first, {} in the second.",
                                            row["service"]["name"].get<std::string>(), complete[0], complete[1]));
        rows.push_back(std::move(row));
    }
    const auto moved = services::moved(services::stands(*both[0]->fitting, both[0]->allotment),
                                       services::stands(*both[1]->fitting, both[1]->allotment));
    sentences.push_back(moved.empty() ? "Each piece stands in the same service in both."
                                      : fmt::format("{} piece{} otherwise in the second.", moved.size(),
                                                    moved.size() == 1 ? " stands" : "s stand"));
    return json_reply({{"a", summary(ids[0], *both[0])},
                       {"b", summary(ids[1], *both[1])},
                       {"services", std::move(rows)},
                       {"moved", services::moved_json(moved)},
                       {"sentences", std::move(sentences)}});
}

Answered found(App& app, const Request& request) {
    const auto body = body_object(request);
    if (!body) return refuse(body.error());
    std::vector<std::string> notes;
    auto piece = piece_member(*body, notes);
    if (!piece) return refuse(std::move(piece.error()));
    const auto id = text_member(*body, "allotment");
    if (!id) return refuse(id.error());
    const auto chosen = laid_out(app, *id);
    if (!chosen) return refuse(chosen.error());
    const LaidOut* laid = chosen->get();
    // Who knows what it is need not look: then that counts, as a decision does of a piece that is kept.
    const auto treatment = text_member(*body, "treatment");
    if (!treatment) return refuse(treatment.error());
    std::optional<store::Decision> known;
    if (!treatment->empty()) {
        // Of the allotment's Book, as everything that it speaks of.
        if (const auto row = row_named<book::Treatment>(laid->app->book, *treatment, "body: /treatment"); !row)
            return refuse(row.error());
        known.emplace().treatment = *treatment;
    }
    auto one = exchange::owned(namer_of(*laid->app), *piece, known, "body: /piece");
    if (!one) return refuse(std::move(one.error()));
    one->id = one->id.empty() ? "found" : one->id + " (found)";
    auto pieces = laid->pieces;
    pieces.push_back(std::move(*one));
    const services::Fitting with(laid->app->book, laid->plan, pieces, laid->app->settings);
    const auto added = services::found(with, laid->allotment, laid->options);
    if (!added) return refuse(added.error());
    return json_reply(services::found_json(with, *added));
}

}  // namespace

std::expected<std::shared_ptr<const LaidOut>, Problems> laid_out(const App& app, const std::string& id) {
    if (id.empty()) {
        if (auto laid = app.allots.newest()) return laid;
        return refuse(ProblemCode::kNotFound, "allotment", "there is no allotment yet",
                      "allot the pieces to the services first");
    }
    const auto job = app.allots.job(id);
    if (!job) return no_job(id);
    if (!job->laid)
        return refuse(ProblemCode::kNotFound, "allotment",
                      fmt::format("the allotment '{}' has no result: it is {}", id, name_of(job->state)),
                      job->finished() ? "ask for a new one" : "wait until it is done");
    return job->laid;
}

std::vector<Route> allotment_routes() {
    return {{"GET", "/api/allotments", Takes::kNone, Role::kReader, list},
            {"POST", "/api/allotments", Takes::kJson, Role::kReader, ask},
            {"GET", "/api/allotments/compare", Takes::kNone, Role::kReader, compare},
            {"POST", "/api/allotments/found", Takes::kJson, Role::kReader, found},
            {"GET", "/api/allotments/{id}", Takes::kNone, Role::kReader, show},
            {"POST", "/api/allotments/{id}/stop", Takes::kJson, Role::kReader, stop},
            {"GET", "/api/allotments/{id}/tables/{service}", Takes::kNone, Role::kReader, laid_table},
            {"GET", "/api/allotments/{id}/wants", Takes::kNone, Role::kReader, wants},
            {"GET", "/api/allotments/{id}/parting", Takes::kNone, Role::kReader, parting}};
}

}  // namespace footring::server

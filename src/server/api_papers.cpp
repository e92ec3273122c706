// Papers to print or to send: the same as `footring paper`. SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "exchange/letter.h"
#include "exchange/reckoned.h"
#include "papers/grids.h"
#include "papers/kinds.h"
#include "server/app.h"
#include "server/paper_reply.h"
#include "server/private_too.h"
#include "server/routes.h"
#include "server/service_records.h"
#include "worth/currencies.h"

namespace footring::server {

namespace {

using nlohmann::ordered_json;

Answered paper_kinds(App&, const Request&) {
    ordered_json kinds = ordered_json::array(), sheets = ordered_json::array();
    for (const papers::Kind& kind : papers::all_kinds())
        kinds.push_back({{"kind", kind.name},
                         {"title", kind.title},
                         {"sentence", kind.sentence},
                         {"takes", papers::name_of(kind.takes)}});
    for (const papers::NamedGrid& each : papers::all_grids())
        sheets.push_back({{"name", each.name},
                          {"paper", each.size == papers::PageSize::kA4 ? "a4" : "letter"},
                          {"columns", each.grid.columns},
                          {"rows", each.grid.rows},
                          {"width_mm", each.grid.width_mm},
                          {"height_mm", each.grid.height_mm}});
    return json_reply({{"kinds", std::move(kinds)}, {"sheets", std::move(sheets)}});
}

// The rows of a schedule or of a wants list, from what is kept.
std::expected<std::string, Problems> worked_out_rows(App& app, const Request& request, const std::string& kind,
                                                     const std::string& date) {
    if (kind == "wants") {
        const auto laid = laid_out(app, query_text(request, "allotment"));
        if (!laid) return refuse(laid.error());
        const LaidOut& l = **laid;
        const auto wants = services::wants(*l.fitting, l.allotment, l.options.prices);
        return exchange::want_rows(*l.fitting, l.allotment, wants, l.options.prices).dump();
    }
    const auto year = worth::year_asked(date, app.now().substr(0, 10), "date");
    if (!year) return refuse(year.error());
    std::string currency = query_text(request, "currency");
    if (!currency.empty()) {
        const auto code = worth::read_currency(currency, "query: currency");
        if (!code) return refuse(code.error());
        currency = *code;
    }
    const auto priced = app.market.prices(currency);
    if (!priced) return refuse(priced.error());
    const auto held =
        exchange::holdings_of(namer_of(app), app.market.things(), *app.store, *priced->prices,
                              worth::Market::kUnsaid, query_text(request, "lot"), query_text(request, "place"));
    if (!held) return refuse(held.error());
    return exchange::schedule_rows(*held, *priced->prices, *year).dump();
}

Answered paper(App& app, const Request& request) {
    papers::Order order;
    order.kind = request.values[0];
    order.of = query_text(request, "of");
    order.form = query_text(request, "form");
    order.pieces = split(query_text(request, "piece"), ',');
    order.lot = query_text(request, "lot");
    order.labels = query_text(request, "labels");
    order.sheet = query_text(request, "sheet");
    order.skip = query_text(request, "skip");
    order.prices = split(query_text(request, "price"), ',');
    order.marks = split(query_text(request, "mark"), '|');
    order.rows = query_text(request, "rows");
    order.address = query_text(request, "address");
    order.size = query_text(request, "paper");
    order.format = query_text(request, "format");
    order.date = query_text(request, "date");
    if (order.date.empty()) order.date = app.now().substr(0, 10);
    const papers::Kind* kind = papers::kind_named(order.kind);
    if (kind != nullptr && kind->takes == papers::Takes::kRows && order.rows.empty()) {
        auto rows = worked_out_rows(app, request, order.kind, order.date);
        if (!rows) return refuse(std::move(rows.error()));
        order.rows = std::move(*rows);
    }
    const auto all = private_too(app, request);
    if (!all) return refuse(all.error());
    const auto shown = exchange::on_paper(app.store, *all ? store::Sight::kAll : store::Sight::kReaders);
    if (!shown) return refuse(shown.error());
    auto made = papers::made(order, {app.book, app.settings, shown->store, &shown->others, shown->sight});
    if (!made) {
        Problem problem = made.error();
        if (problem.where == "size") problem.where = "paper";
        if (problem.where == "data") problem.where = "cupboard";
        return refuse(std::move(problem));
    }
    return paper_reply(std::move(*made));
}

Answered schedule(App& app, const Request& request) {
    Request same = request;
    same.values = {"schedule"};
    return paper(app, same);
}

}  // namespace

Reply paper_reply(papers::Made made) {
    Reply reply;
    reply.type = made.type;
    reply.headers = {{"Content-Disposition", fmt::format("inline; filename=\"{}\"", made.name)},
                     {"Cache-Control", "no-store"}};
    // A page of ours, and yet made of others' words and drawings: nothing in it may run or load. The page Papers
    // shows it in a frame; no page of others may.
    if (made.type.starts_with("text/html")) {
        reply.headers.emplace_back("Content-Security-Policy",
                                   "default-src 'none'; img-src data:; style-src 'unsafe-inline'; frame-ancestors "
                                   "'self'; sandbox");
        reply.headers.emplace_back("X-Frame-Options", "SAMEORIGIN");
    }
    reply.body = std::move(made.bytes);
    return reply;
}

std::vector<Route> paper_routes() {
    return {{"GET", "/api/papers", Takes::kNone, Role::kReader, paper_kinds},
            {"GET", "/api/papers/{kind}", Takes::kNone, Role::kReader, paper},
            // What one's things are worth to an insurer is no reader's business: a fixed path wins over {kind}.
            {"GET", "/api/papers/schedule", Takes::kNone, Role::kContributor, schedule}};
}

}  // namespace footring::server

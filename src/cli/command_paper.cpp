// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "exchange/kept_services.h"
#include "exchange/letter.h"
#include "exchange/reckoned.h"
#include "papers/kinds.h"

namespace footring::cli {

namespace {

// A problem with the name of an option in place of that of the order's field.
Problem as_option(Problem problem) {
    for (const char* field : {"of", "form", "piece", "lot", "labels", "sheet", "skip", "price", "mark", "rows",
                              "address", "size", "format", "date", "data"})
        if (problem.where == field)
            problem.where = fmt::format("--{}", std::string_view(field) == "size" ? "paper" : field);
    if (problem.where == "kind") problem.where = "footring paper";
    return problem;
}

// The rows of a schedule or of a wants list, worked out from what the cupboard keeps.
std::expected<std::string, std::vector<Problem>> worked_out_rows(const std::string& kind, const Call& call,
                                                                 const Reference& reference,
                                                                 const store::Store& store,
                                                                 const std::string& date) {
    FormViews views(reference);
    const exchange::Namer namer = namer_of(reference, views);
    const worth::Things things(reference.book);
    const std::string today = utc_now().substr(0, 10);
    const auto one = [](Problem problem) { return std::unexpected(std::vector{std::move(problem)}); };
    const auto year = worth::year_asked(date, today, "--date");
    if (!year) return one(year.error());
    const auto sales = exchange::kept_sales(store);
    if (!sales) return one(sales.error());
    const auto priced = exchange::priced(*sales, "", things, today);
    if (kind == "schedule") {
        if (!priced) return one(priced.error());
        const auto held = exchange::holdings_of(namer, things, store, *priced->prices, worth::Market::kUnsaid,
                                                call.one("--lot").value_or(""), "");
        if (!held) return std::unexpected(held.error());
        return exchange::schedule_rows(*held, *priced->prices, *year).dump();
    }
    const auto kept = exchange::kept_services(store);
    if (!kept) return std::unexpected(kept.error());
    if (kept->services.empty())
        return one({ProblemCode::kNotFound, "--data", "there is no service in this cupboard",
                    "begin one in the web app, or give --rows"});
    const auto plan =
        services::plan(kept->services, kept->compositions, reference.book, reference.settings, "--data");
    if (!plan) return std::unexpected(plan.error());
    const auto pieces = exchange::owned_pieces(namer, store);
    if (!pieces) return std::unexpected(pieces.error());
    const services::Fitting fitting(reference.book, *plan, *pieces, reference.settings);
    services::AllotOptions options;
    options.limits.gap = reference.settings.service_gap;
    options.limits.nodes = static_cast<int>(reference.settings.service_most_nodes);
    options.limits.seconds = reference.settings.service_most_seconds;
    if (priced) options.prices = exchange::estimated_prices(fitting, *priced->prices, things, *year);
    const auto allotment = services::allot(fitting, options);
    if (!allotment) return std::unexpected(allotment.error());
    const auto wants = services::wants(fitting, *allotment, options.prices);
    return exchange::want_rows(fitting, *allotment, wants, options.prices).dump();
}

Outcome paper(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    std::unique_ptr<store::Store> store;
    if (names_cupboard(call)) {
        auto opened = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!opened) return refuse(opened.error());
        store = std::move(*opened);
    }
    const auto text = [&](const char* option) { return call.one(option).value_or(""); };
    papers::Order order;
    order.kind = call.arguments[0];
    order.of = text("--of");
    order.form = text("--form");
    order.pieces = call.all("--piece");
    order.lot = text("--lot");
    order.prices = call.all("--price");
    order.marks = call.all("--mark");
    if (const auto rows = call.one("--rows")) {
        auto read = read_file_or_stdin(*rows, world);
        if (!read) return refuse(read.error());
        order.rows = std::move(*read);
    }
    order.labels = text("--labels");
    order.sheet = text("--sheet");
    order.skip = text("--skip");
    order.address = text("--address");
    order.size = text("--paper");
    order.format = text("--format");
    order.date = call.one("--date").value_or(utc_now().substr(0, 10));
    const papers::Kind* kind = papers::kind_named(order.kind);
    if (kind != nullptr && kind->takes == papers::Takes::kRows && !call.has("--rows") && store != nullptr) {
        auto rows = worked_out_rows(order.kind, call, *reference, *store, order.date);
        if (!rows) return refuse(std::move(rows.error()));
        order.rows = std::move(*rows);
    }
    const auto shown =
        exchange::on_paper(store.get(), call.has("--private") ? store::Sight::kAll : store::Sight::kReaders);
    if (!shown) return refuse(shown.error());
    if (shown->view)
        for (const std::string& id : order.pieces)
            if (!shown->store->piece(id) && store->piece(id))
                return refuse({ProblemCode::kBadInput, "--piece", fmt::format("piece {} is private", id),
                               "add --private to set the paper all the same"});
    const auto made =
        papers::made(order, {reference->book, reference->settings, shown->store, &shown->others, shown->sight});
    if (!made) return refuse(as_option(made.error()));
    const auto file = call.one("--out");
    if (!file) {
        if (call.json())
            return refuse({ProblemCode::kBadInput, "--json", "a paper is no JSON",
                           "add --out FILE, and the answer names the file"});
        return page(made->bytes);
    }
    if (auto written = write_file(*file, made->bytes); !written) return refuse(written.error());
    if (call.json())
        return page(json_line(
            {{"file", *file}, {"kind", order.kind}, {"type", made->type}, {"bytes", made->bytes.size()}}));
    return page(wrapped(fmt::format("The paper is in {} ({} kB).", *file, (made->bytes.size() + 999) / 1000),
                        world.width, "", ""));
}

}  // namespace

Command paper_command() {
    std::vector<std::string> kinds;
    std::vector<std::string> detail;
    for (const papers::Kind& kind : papers::all_kinds()) {
        kinds.emplace_back(kind.name);
        detail.push_back(fmt::format("{}: {}", kind.name, kind.sentence));
    }
    detail.emplace_back("Without --out the paper goes to standard output.");
    return {
        .name = "paper",
        .sentence = "Sets a paper to be printed or sent: PDF, or HTML.",
        .detail = std::move(detail),
        .arguments =
            {{.name = "KIND", .sentence = "Which paper.", .takes = Takes::kChoice, .choices = std::move(kinds)}},
        .options = {pack_option(),
                    {.name = "--data",
                     .value = "DIR",
                     .sentence = "The folder that holds your pieces, for papers about them.",
                     .takes = Takes::kCupboard},
                    {.name = "--of",
                     .value = "THING",
                     .sentence = "What it is about: ornament:ID, treatment:ID or shape:ID."},
                    {.name = "--form",
                     .value = "FORM",
                     .sentence = "The form of the pieces. Absent: the form "
                                 "that tells most."},
                    {.name = "--piece",
                     .value = "ID",
                     .sentence = "A piece; may be repeated. Absent: all, or those of the lot.",
                     .repeats = true},
                    {.name = "--lot", .value = "ID", .sentence = "The pieces of one lot."},
                    {.name = "--private",
                     .value = "",
                     .sentence = "Private pieces are in it, and in an inventory what was paid."},
                    {.name = "--labels",
                     .value = "WHAT",
                     .sentence = "What the labels are for: shelf or price; shelf when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"shelf", "price"}},
                    {.name = "--sheet",
                     .value = "SHEET",
                     .sentence = "Of labels: a name, as a4-3x7-63.5x38.1, or columns x rows, label, first corner "
                                 "and step in mm, as 3x7,63.5x38.1,7.2x15.1,66x38.1."},
                    {.name = "--skip", .value = "N", .sentence = "Labels of the first sheet that are gone."},
                    {.name = "--price",
                     .value = "ID=TEXT",
                     .sentence = "A price on a label; may be repeated. A piece without one gets a line.",
                     .repeats = true},
                    {.name = "--address",
                     .value = "URL",
                     .sentence = "Where QR codes lead, before /cupboard/ID. Absent: this machine."},
                    {.name = "--mark",
                     .value = "X,Y,TEXT",
                     .sentence = "A mark on the first photograph of a condition report, in shares of its width and "
                                 "height, as 0.40,0.62,chip at the rim; may be repeated.",
                     .repeats = true},
                    {.name = "--rows",
                     .value = "FILE",
                     .sentence = "The rows of a schedule or of a wants list, as JSON; - is standard input. Without "
                                 "it, what the sales and the services of --data come to.",
                     .takes = Takes::kFile},
                    {.name = "--format",
                     .value = "FORMAT",
                     .sentence = "pdf or html; pdf when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"pdf", "html"}},
                    {.name = "--paper",
                     .value = "SIZE",
                     .sentence = "a4 or letter; a4 when absent.",
                     .takes = Takes::kChoice,
                     .choices = {"a4", "letter"}},
                    {.name = "--date",
                     .value = "DATE",
                     .sentence = "The date that it bears. Absent: today. With the same date the same file comes "
                                 "out."},
                    {.name = "--out", .value = "FILE", .sentence = "Where to write it.", .takes = Takes::kFile},
                    set_option()},
        .run = paper};
}

}  // namespace footring::cli

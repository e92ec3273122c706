// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <cmath>

#include "base/text.h"
#include "book/json_text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/piece_files.h"
#include "cli/prices_input.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "exchange/sales_csv.h"
#include "naming/examine.h"
#include "worth/asked.h"
#include "worth/worth_json.h"

namespace footring::cli {

namespace {

using nlohmann::ordered_json;

std::string amount(double value) { return worth::money(value); }

std::string band(const worth::Interval& i) {
    return fmt::format("{}  half {} to {}, nine in ten {} to {}", padded_left(amount(i.median), 7),
                       amount(i.fifty[0]), amount(i.fifty[1]), amount(i.ninety[0]), amount(i.ninety[1]));
}

std::string based_on(const worth::Prices& prices, const std::vector<worth::LeftOut>& left_out) {
    std::string text =
        fmt::format("From {} sales in {}, {:.0f} to {:.0f}.", prices.sales().size(), prices.currency(),
                    std::floor(prices.first_year()), std::floor(prices.last_year()));
    for (const worth::LeftOut& out : left_out) text += fmt::format(" Left out: {} {}.", out.count, out.why);
    return text;
}

std::string estimate_page(const std::string& title, const worth::Estimate& e, const worth::Prices& prices,
                          const worth::Things& things, const std::vector<worth::LeftOut>& left_out,
                          const World& world) {
    const Ink ink{world.colour};
    const auto line = [&](std::string_view text) { return wrapped(text, world.width, "  ", "  "); };
    std::string text = ink.strong(title) + "\n" + line(worth::in_words(e.worth, prices.currency()));
    if (e.identities.size() > 1) {
        text += "\n" + ink.strong("What it may be") + "\n";
        for (std::size_t i = 0; i < std::min<std::size_t>(e.identities.size(), 6); ++i)
            text += fmt::format("  {} {}  {}\n", padded_left(percent(e.identities[i].probability), 5),
                                padded_left(amount(e.medians[i]), 7), e.identities[i].words);
    }
    text += "\n" + ink.strong("What moved it") + "\n";
    text += fmt::format("  {}  the middle of all sales\n", padded_left(amount(e.base), 8));
    for (const worth::Part& part : e.parts) {
        const double factor = std::exp(part.effect);
        if (std::abs(part.effect) < 0.01) continue;
        text += fmt::format("  {}  {} ({}, {} {})\n", padded_left(fmt::format("x {:.2f}", factor), 8),
                            worth::level_words(things, part), part.term, part.sales,
                            part.sales == 1 ? "sale" : "sales");
    }
    if (!e.comparables.empty())
        text += "\n" + ink.strong("Comparable sales, and what they come to for this one") + "\n";
    for (const worth::Comparable& one : e.comparables) {
        const worth::Sale& sale = prices.sales()[one.sale];
        const std::string what = sale.treatment.empty() ? "" : " " + things.treatment_name(sale.treatment);
        text += wrapped(
            fmt::format("{} {} -> {}  {}{}, {}{}", padded(sale.date, 10),
                        padded_left(fmt::format("{:.2f}", sale.price), 9), padded_left(amount(one.adjusted), 6),
                        things.form_name(things.form_key(sale.form)), what, fmt::join(one.because, ", "),
                        prices.counted(one.sale) < 0.5 ? " (doubtful)" : ""),
            world.width, "  ", "      ");
    }
    text += "\n";
    for (const std::string& note : e.notes) text += wrapped(note, world.width, "", "");
    text += wrapped(based_on(prices, left_out), world.width, "", "");
    return text + wrapped(worth::kDefers, world.width, "", "");
}

std::string haul_page(const worth::HaulAsk& ask, const worth::HaulAnswer& a, const worth::Prices& prices,
                      const std::vector<worth::LeftOut>& left_out, const World& world) {
    const Ink ink{world.colour};
    const auto line = [&](std::string_view text) { return wrapped(text, world.width, "  ", "  "); };
    std::string text = ink.strong(ask.name.empty() ? "Haul" : ask.name) +
                       fmt::format("  {} {}\n", a.pieces, a.pieces == 1 ? "piece" : "pieces");
    text += line(worth::in_words(a.worth, prices.currency()));
    text += line(worth::top_bid_words(a, ask.costs, prices.currency()));
    if (a.at_bid)
        text += line(fmt::format("Outlay then {}; what is gained: {}.", amount(a.at_bid->outlay),
                                 trim(band(a.at_bid->gain))));
    text += "\n" + ink.strong("Pieces") + "\n";
    for (std::size_t i = 0; i < ask.pieces.size(); ++i) {
        const std::string count = ask.pieces[i].count == 1 ? "" : fmt::format("{} x ", ask.pieces[i].count);
        text += wrapped(fmt::format("{}{}", count, ask.pieces[i].words), world.width, "  ", "    ");
        text += fmt::format("    {}; {} of the lot, cost {:.2f}\n", trim(band(a.shares[i].worth)),
                            percent(a.shares[i].share), a.shares[i].cost_share);
    }
    text += "\n" + ink.strong("Bids") + "\n";
    for (std::size_t k = 0; k < a.curve.size(); k += 4)
        text += fmt::format("  {}  loss {}  margin {}\n", padded_left(amount(a.curve[k].bid), 7),
                            padded_left(percent(a.curve[k].loss_chance), 5),
                            padded_left(percent(a.curve[k].margin_chance), 5));
    text += "\n" + wrapped(based_on(prices, left_out), world.width, "", "");
    return text + wrapped(worth::kDefers, world.width, "", "");
}

std::string model_page(const ordered_json& model, const std::string& basis, const World& world) {
    const Ink ink{world.colour};
    std::string text = wrapped(basis + " " + model["words"].get<std::string>(), world.width, "", "");
    text += "\n" + ink.strong("How far prices differ by each term") + "\n";
    for (const auto& term : model["terms"])
        text += fmt::format("  {} {:5.0f} %  {} known\n", padded(term["term"].get<std::string>(), 24),
                            term["sd_percent"].get<double>(), term["levels"].get<int>());
    if (!model["doubtful"].empty()) text += "\n" + ink.strong("Records that look mistaken") + "\n";
    for (const auto& one : model["doubtful"])
        text += wrapped(fmt::format("{} {}: {}", one["sale"]["id"].get<std::string>(),
                                    one["sale"]["date"].get<std::string>(), one["words"].get<std::string>()),
                        world.width, "  ", "    ");
    return text + "\n" + wrapped(worth::kDefers, world.width, "", "");
}

struct Ask {
    worth::Manner manner;
    std::optional<worth::Described> described;
    std::string currency, date;
    double year = 0;
};

Ask read_ask(const Call& call, const book::Book& book, const std::string& today, std::vector<Problem>& problems) {
    Ask ask;
    const auto take = [&](auto read, std::string_view option, auto& into, std::string_view words) {
        const auto text = call.one(option);
        if (!text) return;
        if (const auto known = read(*text)) into = *known;
        else
            problems.push_back({ProblemCode::kBadInput, std::string(option),
                                fmt::format("'{}' is none of its words", *text), fmt::format("use {}", words)});
    };
    take(worth::condition_named, "--condition", ask.manner.condition, "mint, good, fair, poor or damaged");
    take(worth::grade_named, "--grade", ask.manner.grade, "first or second");
    take(worth::market_named, "--market", ask.manner.market, "auction, dealer, fair, online or private");
    if (const auto size = call.one("--size")) {
        if (const auto mm = worth::read_size_mm(*size, "--size")) ask.manner.size_mm = *mm;
        else problems.push_back(mm.error());
    }
    if (const auto currency = call.one("--currency")) {
        if (const auto code = worth::read_currency(*currency, "--currency")) ask.currency = *code;
        else problems.push_back(code.error());
    }
    ask.date = call.one("--date").value_or(today.substr(0, 10));
    if (const auto year = worth::year_asked(ask.date, today, "--date")) ask.year = *year;
    else problems.push_back(year.error());
    worth::Described described;
    const auto row = [&]<class T>(std::string_view option, std::optional<book::Ref<T>>& into) {
        const auto id = call.one(option);
        if (!id) return;
        if (auto found = asked<T>(book, *id, std::string(option))) into = *found;
        else problems.push_back(found.error());
    };
    row("--form", described.form);
    row("--treatment", described.treatment);
    row("--shape", described.shape);
    if (described.form || described.treatment || described.shape) ask.described = described;
    return ask;
}

std::map<std::string, std::string> read_mapping(const Call& call, std::vector<Problem>& problems) {
    std::map<std::string, std::string> mapping;
    for (const std::string& pair : call.all("--map")) {
        const std::size_t equals = pair.rfind('=');  // the last one: a field never has one
        if (equals == std::string::npos || equals == 0)
            problems.push_back({ProblemCode::kBadInput, "--map", fmt::format("'{}' is not COLUMN=FIELD", pair),
                                "write --map \"Column of the file=field\", or --map COLUMN= to leave it out"});
        else mapping[pair.substr(0, equals)] = pair.substr(equals + 1);
    }
    return mapping;
}

Outcome worth_of(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    const std::string today = utc_now();
    std::vector<Problem> problems;
    const Ask ask = read_ask(call, book, today, problems);
    const std::vector<Asked> pieces = read_pieces(call, world, *reference, problems);

    exchange::SalesReading reading;
    reading.mapping = read_mapping(call, problems);
    reading.currency = ask.currency;
    reading.today = today;
    exchange::ReadSales read = read_sales(call.all("--sales"), reading, world, book, problems);
    const worth::Things things(book);
    FormViews views(*reference);
    const auto identify = [&](const nlohmann::json& piece, const worth::Manner& manner,
                              const std::string& where) -> std::expected<worth::Identified, worth::Problems> {
        std::vector<std::string> notes;
        const auto read_piece = looks::piece_from_value(piece, where, notes);
        if (!read_piece) return std::unexpected(read_piece.error());
        const auto findings = looks::resolve(*read_piece, book, reference->settings, where);
        if (!findings) return std::unexpected(findings.error());
        const naming::Answer answer = naming::examine(views.of(findings->form), *findings,
                                                      {.reasons = false, .next = false, .conflicts = false});
        return worth::Identified{piece_title(book, *read_piece, *findings, Ink{false}),
                                 worth::identities_of(things, *read_piece, *findings, answer, manner)};
    };
    std::optional<worth::HaulAsk> haul;
    if (const auto path = call.one("--haul")) {
        const auto no_store = [](const nlohmann::json&, const worth::Manner&,
                                 const std::string& where) -> std::expected<worth::Identified, worth::Problems> {
            return std::unexpected(
                worth::Problems{{ProblemCode::kBadInput, where, "a command has no cupboard to look in",
                                 "give the piece file as the member 'piece'"}});
        };
        const std::string name = *path == "-" ? "standard input" : *path;
        const auto text = read_file_or_stdin(*path, world);
        if (!text) problems.push_back(text.error());
        else if (const auto value = book::json_from_text(*text, name); !value) problems.push_back(value.error());
        else if (auto found = worth::haul_from_json(*value, things, identify, no_store, name))
            haul = std::move(*found);
        else std::ranges::move(found.error(), std::back_inserter(problems));
    }
    if (!problems.empty()) return refuse(std::move(problems));

    std::vector<worth::Sale> sales;
    for (exchange::SaleRow& row : read.rows) sales.push_back(std::move(row.sale));
    std::vector<worth::LeftOut> left_out;
    if (!read.duplicates.empty())
        left_out.push_back({"that repeat others", static_cast<int>(read.duplicates.size())});
    const std::string currency = haul && !haul->currency.empty() ? haul->currency : ask.currency;
    std::vector<worth::Sale> chosen = worth::in_one_currency(sales, currency, left_out);
    if (chosen.empty() && !currency.empty())
        return refuse(Problem{ProblemCode::kNotFound, "--currency",
                              fmt::format("there are no sales in {}", currency),
                              "name a currency of the sales; no exchange rate is assumed"});
    const auto prices = worth::Prices::fit(std::move(chosen), things, today);
    if (!prices) return refuse(prices.error());

    Outcome outcome;
    const auto add = [&](const std::string& title, const std::string& id, std::vector<worth::Identity> identities) {
        const worth::Estimate e = worth::estimate(**prices, things, std::move(identities), ask.year);
        if (call.json()) {
            ordered_json out{{"piece", id.empty() ? ordered_json() : ordered_json(id)}};
            out.update(worth::estimate_json(e, **prices, things, left_out, ask.date));
            outcome.page += json_line(out);
        } else {
            if (!outcome.page.empty())
                outcome.page += "\n" + repeat("─", static_cast<std::size_t>(world.width)) + "\n\n";
            outcome.page += estimate_page(title, e, **prices, things, left_out, world);
        }
    };
    for (const Asked& one : pieces) {
        const naming::Answer answer = naming::examine(views.of(one.findings.form), one.findings,
                                                      {.reasons = false, .next = false, .conflicts = false});
        add(piece_title(book, one.piece, one.findings, Ink{false}), one.piece.id,
            worth::identities_of(things, one.piece, one.findings, answer, ask.manner));
    }
    if (ask.described)
        add(worth::words_of(things, *ask.described), "", worth::identities_of(things, *ask.described, ask.manner));
    if (haul) {
        double year = ask.year;
        if (!haul->date.empty()) {
            const auto said = worth::year_asked(haul->date, today, "--haul: /date");
            if (!said) return refuse(said.error());
            year = *said;
        }
        const worth::HaulAnswer answer = worth::haul(**prices, haul->pieces, haul->costs, year);
        if (call.json())
            outcome.page +=
                json_line(worth::haul_json(answer, haul->pieces, haul->costs, **prices, things, left_out));
        else outcome.page += haul_page(*haul, answer, **prices, left_out, world);
    }
    if (outcome.page.empty()) {
        const ordered_json model = worth::model_json(**prices, things, left_out);
        outcome.page = call.json() ? json_line(model) : model_page(model, based_on(**prices, left_out), world);
    }
    return outcome;
}

}  // namespace

Command worth_command() {
    return {
        .name = "worth",
        .sentence = "Estimates what pieces or a box lot may bring, from recorded sales.",
        .detail =
            {"SALES.csv has one row a sale; docs/worth.md tells the columns. Every fault in it is reported, and "
             "nothing is "
             "answered then. An estimate is made from the sales of one currency: the one of --currency, else that "
             "of "
             "most sales. No exchange rate is assumed.",
             "For each piece, or for a thing described by --form, --treatment and --shape, the page has the middle "
             "price with the intervals that hold half and nine in ten of such sales, what moved it, and the "
             "comparable "
             "sales. --haul reads a lot of pieces from a file and tells the top bid and the chance of a loss. "
             "Without "
             "any of these it tells what the sales say as a whole, and which records look mistaken.",
             "An estimate is no valuation: where it matters, ask a qualified appraiser."},
        .arguments = {{.name = "PIECE.json",
                       .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                       .takes = Takes::kFile,
                       .least = 0,
                       .repeats = true}},
        .options = {pack_option(),
                    {.name = "--sales",
                     .value = "FILE.csv",
                     .sentence = "Recorded sales; may be repeated. - is standard input.",
                     .takes = Takes::kFile,
                     .required = true,
                     .repeats = true},
                    {.name = "--form", .value = "FORM", .sentence = "What is to be priced: its form."},
                    {.name = "--treatment", .value = "TREATMENT", .sentence = "Its treatment."},
                    {.name = "--shape",
                     .value = "SHAPE",
                     .sentence = "Its shape, when the treatment is not known."},
                    {.name = "--size",
                     .value = "SIZE",
                     .sentence = "Its longest measure: 241, \"24.1 cm\" or \"9 1/2 in\"."},
                    {.name = "--condition",
                     .value = "CONDITION",
                     .sentence = "mint, good, fair, poor or damaged; else the wear of the piece."},
                    {.name = "--grade", .value = "GRADE", .sentence = "first or second; else as the piece looks."},
                    {.name = "--market",
                     .value = "MARKET",
                     .sentence = "auction, dealer, fair, online or private; else where most sales were."},
                    {.name = "--currency", .value = "CODE", .sentence = "ISO 4217; also that of rows without one."},
                    {.name = "--date", .value = "DATE", .sentence = "The day of the estimate; else today."},
                    {.name = "--haul",
                     .value = "FILE.json",
                     .sentence = "A lot of pieces with its costs; - is standard input.",
                     .takes = Takes::kFile},
                    {.name = "--map",
                     .value = "COLUMN=FIELD",
                     .sentence = "Takes a column of the sales for a field; nothing after = leaves the column out.",
                     .repeats = true},
                    set_option()},
        .run = worth_of};
}

}  // namespace footring::cli

// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "base/json.h"
#include "base/text.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/prices_input.h"
#include "cli/services_input.h"
#include "cli/text_page.h"
#include "services/services_json.h"

namespace footring::cli {

namespace {

using Json = nlohmann::ordered_json;
using services::Fitting;

std::optional<double> amount(const Call& call, const char* option, double lowest, double highest,
                             std::vector<Problem>& problems) {
    const auto word = call.one(option);
    if (!word) return std::nullopt;
    const auto number = to_number(*word);
    if (number && *number >= lowest && *number <= highest) return number;
    problems.push_back({ProblemCode::kBadInput, option,
                        number ? fmt::format("{} cannot be", *word) : fmt::format("'{}' is not a number", *word),
                        fmt::format("write a number from {:g} to {:g}", lowest, highest)});
    return std::nullopt;
}

services::AllotOptions options_of(const Call& call, World& world, const Reference& reference,
                                  std::vector<Problem>& problems) {
    services::AllotOptions out;
    if (const auto word = call.one("--objective"))
        out.objective = static_cast<services::Objective>(std::ranges::find(services::kObjectiveNames, *word) -
                                                         services::kObjectiveNames.begin());
    out.budget = amount(call, "--budget", 0, 1e12, problems);
    if (call.has("--budget") && out.objective != services::Objective::kPurchase)
        problems.push_back({ProblemCode::kBadInput, "--budget", "a budget is for a purchase",
                            "add --objective purchase, or leave --budget out"});
    out.limits.gap = reference.settings.service_gap;
    out.limits.nodes = static_cast<int>(reference.settings.service_most_nodes);
    out.limits.seconds = reference.settings.service_most_seconds;
    if (const auto path = call.one("--prices")) {
        const auto text = read_file_or_stdin(*path, world);
        if (!text) {
            problems.push_back(text.error());
            return out;
        }
        auto prices = services::prices_from_csv(reference.book, *text, *path == "-" ? "standard input" : *path);
        if (prices) out.prices = std::move(*prices);
        else problems.insert(problems.end(), prices.error().begin(), prices.error().end());
    }
    return out;
}

// Whether anything that is asked for depends on what pieces cost.
bool prices_matter(const Call& call, const services::AllotOptions& options) {
    return call.has("--wants") || call.has("--sales") || options.objective == services::Objective::kValue ||
           options.objective == services::Objective::kPurchase;
}

std::string sign_of(const services::PlaceTaken& place) {
    if (place.bought) return "+";
    if (!place.piece) return "·";
    constexpr std::string_view kSigns[] = {"●", "◐", "?"};
    return std::string(kSigns[static_cast<std::size_t>(place.state)]);
}

// One line of the table: "Dinner plate   ● p-0003   ? p-0004   ·".
std::string table_page(const Fitting& fitting, std::uint32_t s, const services::ServiceTable& table,
                       const World& world, Ink ink) {
    const auto& service = fitting.plan().services[s];
    std::string text = ink.strong(services::service_name(fitting.plan(), s));
    std::vector<std::string> treatments;
    for (const auto treatment : service.treatments) treatments.push_back(called(fitting.book(), treatment));
    text += ink.faint(fmt::format("  {}", fmt::join(treatments, ", "))) + "\n";
    if (table.settings > 0)
        text += fmt::format("  {} of {} settings complete, {} of {} places filled\n", table.complete,
                            table.settings, table.filled, table.places);
    else text += fmt::format("  {} of {} places filled\n", table.filled, table.places);
    std::size_t width = 0;
    for (const auto& line : service.lines) width = std::max(width, width_of(line.name));
    width = std::min<std::size_t>(width, 28);
    for (std::uint32_t l = 0; l < service.lines.size(); ++l) {
        std::string row;
        for (const auto& place : table.taken) {
            if (place.line != l) continue;
            if (!row.empty()) row += " ";
            row += sign_of(place);
            if (place.piece) row += " " + fitting.pieces()[*place.piece].id;
        }
        if (row.empty()) continue;
        const std::string first = "  " + padded(shortened(service.lines[l].name, width), width) + "  ";
        text += wrapped(row, world.width, first, std::string(width + 4, ' '));
    }
    return text;
}

std::string wants_page(const Fitting& fitting, const services::Wants& wants, const services::Prices& prices,
                       const World& world, Ink ink) {
    std::string text = ink.strong("Wants") + "\n";
    if (wants.steps.empty()) return text + "  nothing: each place that can be filled is filled\n";
    for (const auto& step : wants.steps) {
        // An estimate is not told to the cent.
        const int digits = prices.basis.empty() ? 2 : 0;
        const std::string money = prices.known()
                                      ? fmt::format("{:>9.{}f} {:>9.{}f}", step.cost, digits, step.so_far, digits)
                                      : fmt::format("{:>3} piece{} ", step.pieces, step.pieces == 1 ? " " : "s");
        text += wrapped(step.sentence, world.width, "  " + money + "  ", std::string(money.size() + 4, ' '));
    }
    text += "\n" + ink.strong("To carry") + "\n";
    for (const std::string& row : split(carried_text(fitting, wants, prices), '\n'))
        text += wrapped(row, world.width, "  ", row.starts_with("[") ? "      " : "  ");
    for (const std::string& sentence : wants.never) text += wrapped(sentence, world.width, "  ", "  ");
    return text;
}

Json compositions_json() {
    return json_list(services::supplied_compositions(), [](const services::Composition& c) {
        Json out = services::to_json(c);
        out["places"] = services::places_of(c, c.settings);
        return out;
    });
}

std::string compositions_page(const World& world) {
    const Ink ink{world.colour};
    std::string text;
    for (const services::Composition& c : services::supplied_compositions()) {
        text += ink.strong(c.id) + fmt::format("  {}, {} places\n", c.name, services::places_of(c, c.settings));
        for (const auto* list : {&c.setting, &c.serving}) {
            std::vector<std::string> names;
            for (const services::Line& line : *list) names.push_back(lower(line.name));
            if (!names.empty())
                text += wrapped(fmt::format("{}: {}", list == &c.setting ? "for each person" : "serving",
                                            fmt::join(names, ", ")),
                                world.width, "  ", "    ");
        }
        text += wrapped(c.note, world.width, "  ", "  ");
    }
    return text;
}

Outcome run_services(const Call& call, World& world) {
    if (call.has("--compositions"))
        return page(call.json() ? json_line({{"compositions", compositions_json()}}) : compositions_page(world));
    std::vector<Problem> problems;
    for (const char* needed : {"--pack", "--pieces"})
        if (!call.has(needed))
            problems.push_back({ProblemCode::kBadInput, "footring services", fmt::format("{} is missing", needed),
                                fmt::format("add {} DIR", needed)});
    if (!problems.empty()) return refuse(std::move(problems));
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    FormViews views(*reference);
    auto options = options_of(call, world, *reference, problems);
    if (call.has("--prices") && call.has("--sales"))
        problems.push_back({ProblemCode::kBadInput, "--sales", "prices are given already",
                            "leave --sales or --prices out: estimates come from the one, prices from the other"});
    exchange::KeptSales sales;
    if (!call.has("--prices") && prices_matter(call, options))
        sales = sales_for_services(call, world, *reference, problems);
    ServicesInput input = read_services_input(call, world, *reference, views, problems);
    std::optional<services::Owned> find;
    if (const auto path = call.one("--found"); path && problems.empty()) {
        auto one = read_found_piece(*path, world, *reference, views, problems);
        if (one) find = std::move(*one);
        else if (problems.empty()) problems.push_back(one.error());
        // It is not in the cupboard yet, whatever it is called.
        if (find && (find->id.empty() ||
                     std::ranges::find(input.pieces, find->id, &services::Owned::id) != input.pieces.end()))
            find->id = find->id.empty() ? "found" : find->id + " (found)";
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const auto plan = services::plan(input.given.services, input.given.compositions, reference->book,
                                     reference->settings, input.where);
    if (!plan) return refuse(plan.error());
    const Fitting fitting(reference->book, *plan, input.pieces, reference->settings);
    if (!call.has("--prices") && prices_matter(call, options)) {
        auto prices = prices_for_services(call, *reference, fitting, sales);
        if (!prices) return refuse(prices.error());
        options.prices = std::move(*prices);
    }
    const auto allotment = services::allot(fitting, options);
    if (!allotment) return refuse(allotment.error());

    Json out = services::allotment_json(fitting, *allotment, options.prices);
    const Ink ink{world.colour};
    std::string text;
    for (std::uint32_t s = 0; s < allotment->services.size(); ++s)
        text += table_page(fitting, s, allotment->services[s], world, ink) + "\n";
    text += ink.faint("● filled  ◐ interchangeable  ? doubtful  + to buy  · missing") + "\n";
    for (const std::string& note : allotment->notes) text += wrapped(note, world.width, "", "  ");
    if (call.has("--wants")) {
        const auto wants = services::wants(fitting, *allotment, options.prices);
        out["wants"] = services::wants_json(fitting, wants, options.prices);
        text += "\n" + wants_page(fitting, wants, options.prices, world, ink);
    }
    if (call.has("--part")) {
        const auto parted = services::parting(fitting, *allotment);
        out["parting"] = services::parting_json(fitting, parted);
        text += "\n" + ink.strong("To part with") + "\n";
        if (parted.empty()) text += "  nothing\n";
        for (const auto& one : parted)
            text += wrapped(fmt::format("{}: {}: {}", fitting.pieces()[one.piece].id,
                                        one.stray ? "stray" : "duplicate", one.sentence),
                            world.width, "  ", "    ");
    }
    if (find) {
        auto pieces = input.pieces;
        pieces.push_back(std::move(*find));
        const Fitting with(reference->book, *plan, pieces, reference->settings);
        const auto found = services::found(with, *allotment, options);
        if (!found) return refuse(found.error());
        out["found"] = services::found_json(with, *found);
        text += "\n" + ink.strong("Found") + "\n" + wrapped(found->sentence, world.width, "  ", "  ");
        for (const auto& place : found->places)
            if (place.sentence != found->sentence) text += wrapped(place.sentence, world.width, "  ", "    ");
    }
    return page(call.json() ? json_line(out) : text);
}

}  // namespace

Command services_command() {
    Option set = set_option();
    Option pack = pack_option(false);
    return {
        .name = "services",
        .sentence = "Lays the pieces of a cupboard out over the services being built, as well as can be.",
        .detail =
            {"Says what stands at each place and why, what is missing, what to buy, and what to part with. A "
             "piece may serve when the odds reach service_least_odds or when it cannot be told from what is "
             "asked for at its form. The allotment is the best there is, with its proof, or says how far it "
             "may be from it.",
             "Objectives: settings (most complete place settings), services (most services without a gap), "
             "value (complete settings and serving pieces worth most), purchase (with what may be bought "
             "within --budget: most complete settings, then most serving places, then the fewest pieces, then "
             "the least money).",
             "What pieces may cost is estimated from recorded sales (`footring worth`): such prices are no "
             "valuation.",
             "docs/services.md is the format of services and of compositions, and the program that is solved."},
        .arguments = {},
        .options = {pack,
                    {.name = "--pieces",
                     .value = "DIR",
                     .sentence = "A cupboard, or a folder of piece files.",
                     .takes = Takes::kFolder},
                    {.name = "--service",
                     .value = "FILE",
                     .sentence = "A file of services (- is standard input); may be repeated. Without it, the "
                                 "services that are kept in the cupboard.",
                     .takes = Takes::kFile,
                     .repeats = true},
                    {.name = "--objective",
                     .value = "WHAT",
                     .sentence = "What the best allotment has most of; settings when it is left out.",
                     .takes = Takes::kChoice,
                     .choices = {services::kObjectiveNames.begin(), services::kObjectiveNames.end()}},
                    {.name = "--budget",
                     .value = "AMOUNT",
                     .sentence = "What a purchase may cost at most; no limit when it is left out."},
                    {.name = "--prices",
                     .value = "FILE.csv",
                     .sentence = "What pieces cost, with the columns treatment, form, price.",
                     .takes = Takes::kFile},
                    {.name = "--sales",
                     .value = "FILE.csv",
                     .sentence =
                         "Recorded sales to estimate prices from; may be repeated. Without it and --prices, "
                         "the sales that are kept with the pieces; all pieces cost 1 when these are too few.",
                     .takes = Takes::kFile,
                     .repeats = true},
                    {.name = "--currency",
                     .value = "CODE",
                     .sentence = "ISO 4217: of the sales that count; else that of most."},
                    {.name = "--date", .value = "DATE", .sentence = "The day of the estimates; else today."},
                    {.name = "--wants",
                     .value = "",
                     .sentence = "Adds what to look for: the cheapest next setting first, and a list to carry."},
                    {.name = "--part", .value = "", .sentence = "Adds duplicates and strays to part with."},
                    {.name = "--found",
                     .value = "PIECE.json",
                     .sentence = "Tells what a piece that one does not have yet would complete.",
                     .takes = Takes::kFile},
                    {.name = "--compositions",
                     .value = "",
                     .sentence = "Lists the compositions that come with the program, and does nothing else."},
                    set},
        .run = run_services};
}

}  // namespace footring::cli

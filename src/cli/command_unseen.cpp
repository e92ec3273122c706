// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/unseen_book.h"
#include "server/pieces_in_years.h"

namespace footring::cli {

namespace {

constexpr std::size_t kMostRuns = 40;  // of missing numbers on a page; --json has all

// "1 number", "2 numbers".
std::string several(std::int64_t count, std::string_view one, std::string_view many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string unseen_page(const book::Book& book, const dating::Unseen& found, const Settings& settings,
                        const World& world) {
    const Ink ink{world.colour};
    std::string text;
    const auto line = [&](const std::string& words, std::string_view indent = "  ") {
        text += wrapped(words, world.width, indent, indent);
    };
    const double share = 100 * settings.unseen_interval;
    for (const dating::ShapeSequence& one : found.sequences) {
        text += ink.strong(fmt::format("{}{}{}", shape_name(book, one.shape),
                                       one.prefix.empty() ? "" : ", numbers " + one.prefix + "…",
                                       one.seconds ? ", seconds" : "")) +
                "\n";
        if (one.apart) line("These stand behind a gap that is too wide for chance: a sequence of their own.");
        if (one.numbers.size() == 1)
            line(fmt::format("1 number is recorded, {}: nothing can be said of others.", one.numbers.front()));
        else
            line(fmt::format("{} numbers are recorded, {} to {}.", one.numbers.size(), one.numbers.front(),
                             one.numbers.back()));
        if (one.left_out > 0)
            line(fmt::format("{} below the first that is given: left out.",
                             one.left_out == 1 ? "1 of them lies" : fmt::format("{} of them lie", one.left_out)));
        if (one.estimate && one.estimate->median)
            line(
                fmt::format("The highest ever given out is about {:.0f}; as likely as not up to {}; {:g} chances "
                            "in 100 up to {}.",
                            one.estimate->unbiased, *one.estimate->median, share, *one.estimate->upper));
        std::vector<std::string> runs;
        for (const auto& run : one.missing)
            runs.push_back(run.first == run.last ? fmt::format("{}", run.first)
                                                 : fmt::format("{}–{}", run.first, run.last));
        if (runs.size() > kMostRuns) {
            const std::size_t more = runs.size() - kMostRuns;
            runs.resize(kMostRuns);
            runs.push_back("and " + several(static_cast<std::int64_t>(more), "more run", "more runs"));
        }
        if (!runs.empty())
            line(fmt::format("To look for, {}: {}.", several(one.missing_count, "number", "numbers"),
                             fmt::join(runs, ", ")));
        else if (one.numbers.size() > 1) line("None is missing between them.");
        text += "\n";
    }
    if (!found.sequences.empty()) line(found.maximum_assumes, ""), text += "\n";

    text += ink.strong("Treatments, by sightings") + "\n";
    if (found.estimates.empty()) {
        line(
            fmt::format("None of {} has a dated use or a decided piece: nothing can be said.",
                        several(static_cast<std::int64_t>(found.listed), "listed treatment", "listed treatments")));
        return text;
    }
    line(fmt::format("{} of {} {} seen, {}, in {}.", found.times.kinds(),
                     several(static_cast<std::int64_t>(found.listed), "listed treatment", "listed treatments"),
                     found.times.kinds() == 1 ? "was" : "were", several(found.times.sightings(), "time", "times"),
                     several(static_cast<std::int64_t>(found.finds.kinds.size()), "find", "finds")));
    for (const dating::Richness& r : found.estimates)
        text += fmt::format("  {:<11} {:>7.1f}{}{}\n", r.estimator, r.value,
                            r.standard_error ? fmt::format("  error {:.1f}", *r.standard_error) : "",
                            r.interval ? fmt::format("  {:g} in 100: {:.0f} to {:.0f}", share, r.interval->first,
                                                     r.interval->second)
                                       : "");
    text += "\n";
    std::vector<std::string> told;
    for (const dating::Richness& r : found.estimates) {
        if (std::ranges::find(told, r.assumes) != told.end()) continue;
        told.push_back(r.assumes);
        line(r.estimator + ": " + r.assumes);
    }
    text += "\n" + ink.strong("Curve of discovery") + "\n";
    for (const dating::Discovered& d : dating::discovery(found.times, 8))
        text += fmt::format("  {:>6} {}  {:>7.1f}{}\n", d.sightings, d.sightings == 1 ? "sighting " : "sightings",
                            d.kinds, d.sightings > found.times.sightings() ? "  expected" : "");
    return text;
}

Outcome unseen(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<Problem> problems;
    dating::UnseenOf of;
    const auto look_up = [&]<class T>(std::string_view option, std::optional<book::Ref<T>>& into) {
        const auto id = call.one(option);
        if (!id) return;
        if (const auto row = asked<T>(book, *id, option)) into = *row;
        else problems.push_back(row.error());
    };
    look_up("--shape", of.shape);
    look_up("--maker", of.maker);
    look_up("--ornament", of.ornament);
    std::optional<std::int64_t> from;
    if (const auto word = call.one("--from")) {
        const auto number = to_int(*word);
        if (number && *number >= 1) from = *number;
        else
            problems.push_back({ProblemCode::kBadInput, "--from",
                                fmt::format("'{}' is not a number from 1 on", *word),
                                "write the first number that was given out, such as 101"});
    }
    if (!problems.empty()) return refuse(std::move(problems));
    std::vector<dating::SeenTreatment> seen;
    if (names_cupboard(call)) {
        const auto store = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!store) return refuse(store.error());
        auto decided = server::decided_treatments(**store);
        if (!decided) return refuse(decided.error());
        seen = std::move(*decided);
    }
    const dating::Unseen found = dating::unseen_of(book, of, seen, from, settings);
    if (call.json()) return page(json_line(dating::unseen_json(book, found)));
    return page(unseen_page(book, found, settings, world));
}

}  // namespace

Command unseen_command() {
    Option data = cupboard_option();
    data.required = false;
    data.sentence = "The folder that holds your pieces: decided ones count as sightings.";
    return {
        .name = "unseen",
        .sentence = "Estimates how many treatments exist beyond those recorded, and lists the numbers to look for.",
        .detail =
            {"From the numbers of each shape: the highest that was given out, and those missing in between. From "
             "sightings (dated uses in the packs, decided pieces of a cupboard): how many treatments there are "
             "in all, by several estimators, and how many further sightings would show. Every estimate says "
             "what it assumes."},
        .arguments = {},
        .options = {pack_option(),
                    {.name = "--shape", .value = "SHAPE", .sentence = "Only the treatments of this shape."},
                    {.name = "--maker", .value = "MAKER", .sentence = "Only those of this maker's shapes."},
                    {.name = "--ornament", .value = "ORNAMENT", .sentence = "Only those that carry this ornament."},
                    {.name = "--from",
                     .value = "NUMBER",
                     .sentence =
                         "The first number that was given out; else the lowest recorded is taken as it is."},
                    data,
                    set_option()},
        .run = unseen};
}

}  // namespace footring::cli

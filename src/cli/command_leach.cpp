// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "care/leaching.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/text_page.h"

namespace footring::cli {

namespace {

std::string leach_page(const care::LeachReport& report, const World& world) {
    const Ink ink{world.colour};
    std::string text =
        ink.strong(fmt::format("{} unit{} tested", report.units, report.units == 1 ? "" : "s")) + "\n";
    if (!report.categories.empty())
        text += wrapped(fmt::format("Taken as {}.", fmt::join(report.categories, "; ")), world.width, "  ", "  ");
    const auto section = [&](bool in_force, std::string_view heading) {
        bool begun = false;
        for (const care::LimitVerdict& v : report.verdicts) {
            if (v.limit->in_force != in_force) continue;
            if (!begun) text += "\n" + ink.strong(heading) + "\n";
            begun = true;
            const std::string verdict(care::name_of(v.verdict));
            const std::string head = fmt::format("{}  {}, {}: {} {:g} {}", padded(verdict, 11), v.limit->authority,
                                                 care::name_of(v.limit->substance), v.limit->category_words,
                                                 v.limit->limit, care::unit_of(v.limit->measure));
            text += wrapped(head, world.width, "  ", "               ");
            text += wrapped(fmt::format("{}. Rule: {}{}.", v.because, care::rule_of(v.limit->sampling),
                                        v.limit->sampling_verified || v.limit->sampling == care::Sampling::kNotGiven
                                            ? ""
                                            : " (unverified)"),
                            world.width, "               ", "               ");
            text += wrapped(
                fmt::format("{}{}{}", v.limit->document, v.limit->value_verified ? "" : "; limit UNVERIFIED",
                            v.limit->note.empty() ? "" : "; " + std::string(v.limit->note)),
                world.width, "               ", "               ");
        }
    };
    section(true, "Limits");
    section(false, "Earlier levels, for comparison");
    text += "\n";
    for (const std::string& note : report.notes) text += wrapped(note, world.width, "", "");
    return text;
}

std::optional<double> measure(const Call& call, std::string_view option, double most,
                              std::vector<Problem>& problems) {
    const auto word = call.one(option);
    if (!word) return std::nullopt;
    const auto value = to_number(*word);
    if (value && *value >= 0 && *value <= most) return value;
    problems.push_back({ProblemCode::kBadInput, std::string(option),
                        fmt::format("'{}' is not a number from 0 to {:g}", *word, most),
                        "write it without its unit, as in 24.5"});
    return std::nullopt;
}

Outcome leach(const Call& call, World& world) {
    std::vector<Problem> problems;
    care::Vessel vessel;
    vessel.depth_mm = measure(call, "--depth-mm", care::kMostDepthMm, problems);
    vessel.volume_ml = measure(call, "--volume-ml", care::kMostVolumeMl, problems);
    vessel.use = care::use_named(call.one("--category").value_or("table")).value_or(care::Use::kTable);
    const std::string& path = call.arguments.front();
    const auto text = read_file_or_stdin(path, world);
    if (!text) problems.push_back(text.error());
    std::vector<care::UnitResult> results;
    if (text) {
        auto read = care::read_results(*text, path == "-" ? "standard input" : path);
        if (read) results = std::move(*read);
        else problems.insert(problems.end(), read.error().begin(), read.error().end());
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const care::LeachReport report = care::compare(vessel, results);
    if (call.json()) return page(json_line(care::leach_json(report)));
    return page(leach_page(report, world));
}

}  // namespace

Command leach_command() {
    return {
        .name = "leach",
        .sentence = "Holds a laboratory's results for lead and cadmium to each published limit.",
        .detail =
            {"RESULTS.csv has one row a unit that was tested, with the columns unit, lead_mg_per_l, "
             "cadmium_mg_per_l, lead_mg_per_dm2, cadmium_mg_per_dm2 (as many of them as were measured; <0.02 is "
             "less than could be measured). Limits per volume and per area are kept apart.",
             "Each limit is judged by its own rule for samples: pass, fail, or cannot tell. A pass is about that "
             "rule alone; whether a piece can be used for food is for an accredited laboratory and the rules of "
             "your place to say."},
        .arguments = {{.name = "RESULTS.csv",
                       .sentence = "What the laboratory measured; - is standard input.",
                       .takes = Takes::kFile}},
        .options = {{.name = "--depth-mm",
                     .value = "MM",
                     .sentence =
                         "Depth inside, from the lowest point to the plane of the rim. Up to 25 is flat ware."},
                    {.name = "--volume-ml", .value = "ML", .sentence = "Volume to the brim."},
                    {.name = "--category",
                     .value = "USE",
                     .sentence = "What it is for, where limits differ by use; table when it is left out.",
                     .takes = Takes::kChoice,
                     .choices = {"table", "cup", "pitcher", "storage", "cooking"}}},
        .run = leach};
}

}  // namespace footring::cli

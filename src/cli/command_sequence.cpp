// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/sequence.h"

namespace footring::cli {

namespace {

using Where = dating::NumberYear::Where;

int year(double value) { return static_cast<int>(std::lround(value)); }
std::string sequence_page(const dating::Sequence& s, const std::vector<dating::NumberYear>& asked,
                          const Settings& settings, const World& world) {
    const Ink ink{world.colour};
    std::string text;
    for (const dating::NumberYear& one : asked) {
        text += ink.strong(fmt::format("{}", one.number)) + "\n";
        text += wrapped(
            fmt::format("About {}; {:.0f} chances in 100 that it lies within {} to {} (EDTF {}).", year(one.year),
                        100 * settings.sequence_interval, static_cast<int>(std::floor(one.low)),
                        static_cast<int>(std::ceil(one.high)), dating::edtf_of(one)),
            world.width, "  ", "  ");
        if (one.where != Where::kBetween)
            text += wrapped(fmt::format("It lies {} every dated number: only that side of the interval holds.",
                                        dating::name_of(one.where)),
                            world.width, "  ", "  ");
    }
    if (!asked.empty()) text += "\n";
    text += ink.strong(fmt::format("{} dated numbers", s.dated.size())) + "\n";
    for (std::size_t i = 0; i < s.dated.size(); ++i) {
        const dating::DatedNumber& d = s.dated[i];
        const bool outlier = std::ranges::any_of(s.outliers, [&](const auto& o) { return o.at == i; });
        text += fmt::format("  {:>6}  {:<11}  line {:<6.0f}  {}{}\n", d.number,
                            edtf::from_years(year(d.first), year(d.last)), s.line[i], d.name,
                            outlier ? ink.warm("  out of step, left out") : "");
    }
    return text;
}

Outcome sequence(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    std::vector<Problem> problems;
    std::optional<book::Ref<book::Shape>> shape;
    std::optional<book::Ref<book::Maker>> maker;
    if (const auto id = call.one("--shape")) {
        if (const auto found = asked<book::Shape>(book, *id, "--shape")) shape = *found;
        else problems.push_back(found.error());
    }
    if (const auto id = call.one("--maker")) {
        if (const auto found = asked<book::Maker>(book, *id, "--maker")) maker = *found;
        else problems.push_back(found.error());
    }
    std::optional<std::string> prefix;
    std::vector<std::int64_t> numbers;
    for (const std::string& word : call.arguments) {
        const auto number = dating::sequence_number(word);
        if (!number)
            problems.push_back({ProblemCode::kBadInput, "number " + word, "does not end in up to nine digits",
                                "write it as in 117 or H-117"});
        else if (prefix && *prefix != number->sequence)
            problems.push_back({ProblemCode::kBadInput, "number " + word, "is of another sequence than the first",
                                "ask for one sequence at a time"});
        else prefix = number->sequence, numbers.push_back(number->number);
    }
    if (!problems.empty()) return refuse(std::move(problems));
    const dating::SequenceOf of{shape, maker, prefix.value_or(""), call.has("--seconds")};
    const auto fit =
        dating::fit_sequence(dating::dated_numbers(book, of, reference->settings), reference->settings);
    if (!fit) return refuse(fit.error());
    const std::vector<dating::NumberYear> answers = dating::years_of_numbers(*fit, numbers, reference->settings);
    if (call.json()) return page(json_line(dating::sequence_json(book, *fit, answers)));
    return page(sequence_page(*fit, answers, reference->settings, world));
}

}  // namespace

Command sequence_command() {
    return {
        .name = "sequence",
        .sentence = "Dates an undated number from the dated ones of its shape or maker.",
        .detail = {"Numbers were given out in order, so years never fall as numbers rise. The line that fits the "
                   "dated treatments best under that rule gives the year, resampling its interval; a dated number "
                   "far off the line is named and left out. Without NUMBER the line is shown.",
                   "Name a shape or a maker: numbers of different sequences do not belong on one line."},
        .arguments =
            {{.name = "NUMBER", .sentence = "A number as it stands on the piece.", .least = 0, .repeats = true}},
        .options = {pack_option(),
                    {.name = "--shape", .value = "SHAPE", .sentence = "Only the numbers of this shape."},
                    {.name = "--maker", .value = "MAKER", .sentence = "Only the numbers of this maker's shapes."},
                    {.name = "--seconds", .value = "", .sentence = "Numbers of second-grade ware."},
                    set_option()},
        .run = sequence};
}

}  // namespace footring::cli

// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/codes.h"

namespace footring::cli {

namespace {

std::string code_page(const book::Book& book, const dating::CodeAnswer& answer, const World& world) {
    const Ink ink{world.colour};
    std::string text = ink.strong(answer.code) + "\n";
    for (const dating::CodeMeaning& one : answer.readings) {
        const auto date = edtf::parse(one.reading.date);
        text += wrapped(fmt::format("{}: {}{}", percent(one.reading.weight),
                                    date ? edtf::in_words(*date) : "says nothing of the year",
                                    date ? fmt::format(" (EDTF {})", one.reading.date) : ""),
                        world.width, "  ", "    ");
        std::vector<std::string> parts;
        for (const book::CodePart& part : one.reading.parts)
            parts.push_back(
                fmt::format("{} {}{}", part.group, part.token, part.meaning.empty() ? "" : " = " + part.meaning));
        if (!parts.empty()) text += wrapped(fmt::format("{}", fmt::join(parts, "; ")), world.width, "    ", "    ");
        if (!one.reading.note.empty()) text += wrapped(one.reading.note, world.width, "    ", "    ");
        std::vector<std::string> marks;
        for (const auto mark : one.marks) marks.push_back(book::id_of(book, mark));
        text += wrapped(
            fmt::format(
                "{}{}{}", book::id_of(book, one.scheme),
                book[one.scheme].sources.empty() ? "" : "; " + book::source_ids(book, book[one.scheme].sources),
                marks.empty() ? "" : fmt::format("; on marks {}", fmt::join(marks, ", "))),
            world.width, "    ", "    ");
    }
    if (answer.outside_marks)
        text += wrapped(
            "No mark that bears this scheme was struck in any of these years: look at the code, or the mark, "
            "again.",
            world.width, "  ", "  ");
    return text;
}

Outcome code(const Call& call, World& world) {
    const auto reference = open_reference_with_law(call, world);
    if (!reference) return refuse(reference.error());
    const book::Book& book = reference->book;
    std::vector<Problem> problems;
    const auto schemes = dating::schemes_named(book, call.arguments.front(), "scheme " + call.arguments.front());
    if (!schemes) problems.push_back(schemes.error());
    std::optional<book::Ref<book::Mark>> mark;
    if (const auto id = call.one("--mark")) {
        if (const auto found = asked<book::Mark>(book, *id, "--mark")) mark = *found;
        else problems.push_back(found.error());
    }
    if (!problems.empty()) return refuse(std::move(problems));

    // `registration-diamond IV X 12 3 C` without quotation marks is one code, if it is one.
    std::vector<std::string> codes(call.arguments.begin() + 1, call.arguments.end());
    const std::string joined = fmt::format("{}", fmt::join(codes, " "));
    if (codes.size() > 1 && dating::read_code(book, *schemes, joined, mark, reference->settings)) codes = {joined};

    Outcome outcome;
    for (const std::string& one : codes) {
        const auto answer = dating::read_code(book, *schemes, one, mark, reference->settings);
        if (!answer) {
            outcome.problems.push_back(answer.error());
            continue;
        }
        if (call.json()) outcome.page += json_line(dating::code_json(book, *answer));
        else outcome.page += (outcome.page.empty() ? "" : "\n") + code_page(book, *answer, world);
    }
    return outcome;
}

}  // namespace

Command code_command() {
    return {.name = "code",
            .sentence = "Reads codes beside a mark: months, years, works, and the registration diamond.",
            .detail =
                {"SCHEME is a code scheme of the open packs, or what the ids of several begin with. The pack "
                 "law-and-marks is always open, with registration-diamond: write the class in the circle, then the "
                 "corners clockwise from the top, as in \"IV X 12 3 C\", with ? for what is not legible.",
                 "A code can have several readings; their weights sum to 1. Where marks bear the scheme, readings "
                 "outside their years weigh nothing.",
                 "When one code is wrong nothing is answered: every fault is told."},
            .arguments = {{.name = "SCHEME", .sentence = "The id of a code scheme, or the beginning of several."},
                          {.name = "CODE", .sentence = "A code, as it stands beside the mark.", .repeats = true}},
            .options = {pack_option(false),
                        {.name = "--mark", .value = "MARK", .sentence = "The mark that the piece bears."},
                        set_option()},
            .run = code};
}

}  // namespace footring::cli

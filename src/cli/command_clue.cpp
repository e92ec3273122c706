// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "cli/commands.h"
#include "cli/files.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/clues.h"

namespace footring::cli {

namespace {

std::string in_words(const std::string& date) {
    const auto parsed = edtf::parse(date);
    return parsed ? edtf::in_words(*parsed) : date;
}

std::string sources_in_words(const book::Book& book, const std::vector<book::Ref<book::Source>>& sources) {
    std::vector<std::string> list;
    for (const auto source : sources)
        list.push_back(fmt::format("{} ({})", book[source].title.empty() ? book[source].kind : book[source].title,
                                   book::id_of(book, source)));
    return fmt::format("{}", fmt::join(list, "; "));
}

void add_clue(std::string& text, const book::Book& book, const dating::FoundClue& clue, const World& world) {
    const Ink ink{world.colour};
    const auto line = [&](const std::string& words) { text += wrapped(words, world.width, "  ", "  "); };
    text += "\n" + ink.strong(clue.name) + "\n";
    if (clue.number) {
        const std::string& given = clue.number->given;
        line(given.empty() ? fmt::format("Number {}: no table tells when it was given out.", clue.number->number)
                           : fmt::format("Number {}, given out {} (EDTF {}).", clue.number->number,
                                         given.starts_with("..")
                                             ? fmt::format("before {}", to_int(given.substr(3)).value_or(0) + 1)
                                             : in_words(given),
                                         given));
    }
    if (!clue.years.empty()) line(fmt::format("Made: {} (EDTF {}).", in_words(clue.years), clue.years));
    if (!clue.rarely.empty()) line(fmt::format("Seldom: {} (EDTF {}).", in_words(clue.rarely), clue.rarely));
    line(fmt::format("Reads \"{}\", characters {} to {}{}.", clue.text, clue.span.begin + 1, clue.span.end,
                     clue.likeness < 1 ? fmt::format(", {} alike", percent(clue.likeness)) : ""));
    line(fmt::format("{}{}: {}", clue.kind, clue.jurisdiction.empty() ? "" : ", " + clue.jurisdiction, clue.rule));
    if (!clue.note.empty()) line(clue.note);
    const std::string checked = clue.verified == book::Verified::kYes      ? "Verified"
                                : clue.verified == book::Verified::kPartly ? "Partly verified"
                                                                           : "NOT verified";
    line(fmt::format("{}{}; it counts {}. {}", checked, clue.trust ? fmt::format(", trust {:g}", *clue.trust) : "",
                     percent(clue.weight), sources_in_words(book, clue.sources)));
}

std::string clue_page(const book::Book& book, const dating::ClueAnswer& answer, const World& world) {
    const Ink ink{world.colour};
    const auto counts = [](const dating::FoundClue& c) { return c.within.empty(); };
    if (answer.clues.empty())
        return wrapped("No wording of the open packs is in this text. That tells nothing of its date.", world.width,
                       "", "");
    std::string head;
    if (!answer.conflict.empty() && answer.years.empty())
        head =
            fmt::format("These cannot all hold: {}. One of them was read wrongly, or does not hold for this piece.",
                        fmt::join(answer.conflict, ", "));
    else if (!answer.conflict.empty())
        head = fmt::format("These cannot all hold: {}. Without {}, which {} less: {} (EDTF {}).",
                           fmt::join(answer.conflict, ", "), fmt::join(answer.set_aside, ", "),
                           answer.set_aside.size() == 1 ? "counts" : "count", in_words(answer.years), answer.years);
    else if (answer.years.empty()) head = "It tells no year.";
    else
        head = fmt::format("Together: {} (EDTF {}){}.", in_words(answer.years), answer.years,
                           answer.only_rarely ? ", and only if one of them is met seldom" : "");
    std::string text = answer.conflict.empty() ? ink.strong(trim(wrapped(head, world.width, "", ""))) + "\n"
                                               : wrapped(head, world.width, "", "");
    for (const dating::FoundClue& clue : answer.clues)
        if (counts(clue)) add_clue(text, book, clue, world);
    std::vector<std::string> held;
    for (const dating::FoundClue& clue : answer.clues)
        if (!counts(clue)) held.push_back(fmt::format("{} (in {})", clue.clue, clue.within));
    if (!held.empty())
        text +=
            "\n" + wrapped(fmt::format("Not counted, for longer wording holds them: {}.", fmt::join(held, ", ")),
                           world.width, "", "");
    return text;
}

Outcome clue(const Call& call, World& world) {
    std::vector<std::string> words = call.arguments;
    if (words.size() == 1 && words[0] == "-") {
        auto text = read_file_or_stdin("-", world);
        if (!text) return refuse(text.error());
        words = {std::move(*text)};
    }
    const auto reference = open_reference_with_law(call, world);
    if (!reference) return refuse(reference.error());
    const auto answer =
        dating::find_clues(reference->book, fmt::format("{}", fmt::join(words, "\n")), reference->settings);
    if (!answer) return refuse(answer.error());
    if (call.json()) return page(json_line(dating::clues_json(reference->book, *answer)));
    return page(clue_page(reference->book, *answer, world));
}

}  // namespace

Command clue_command() {
    return {
        .name = "clue",
        .sentence = "Tells what the wording on an underside says of when a piece was made.",
        .detail = {"Looks for wording that a law or a habit asked for, for registered design and patent numbers, "
                   "for the potters' counts, and for the marks of the open packs. Case, spaces, line breaks and a "
                   "few wrong letters make "
                   "no difference. The pack law-and-marks is always open; --pack opens others besides.",
                   "Rows that were not compared with what they cite say so."},
        .arguments = {{.name = "TEXT",
                       .sentence = "What stands there; several are lines of it; - is standard input.",
                       .repeats = true}},
        .options = {pack_option(false), set_option()},
        .run = clue};
}

}  // namespace footring::cli

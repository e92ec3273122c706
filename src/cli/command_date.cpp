// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/piece_files.h"
#include "cli/text_page.h"
#include "dating/clue_statements.h"
#include "dating/piece_years.h"
#include "naming/examine.h"
#include "server/wording.h"

namespace footring::cli {

namespace {

constexpr int kMargin = 12;                // years shown on either side of nineteen in twenty
constexpr std::size_t kLabel = 26;         // columns
constexpr std::size_t kMostQuarrels = 12;  // on a page; --json has all

std::vector<std::string> quarrel(const book::Book& book, const dating::PieceYears& dated,
                                 const std::vector<std::size_t>& set) {
    std::vector<std::string> sentences;
    for (const std::size_t i : set) {
        const std::string sources = book::source_ids(book, dated.statements[i].sources);
        sentences.push_back(dating::sentence(dated.statements[i]) + (sources.empty() ? "" : " (" + sources + ")"));
    }
    return sentences;
}

std::string page_of(const book::Book& book, const Asked& asked, const dating::PieceYears& dated,
                    const World& world) {
    const Ink ink{world.colour};
    const naming::DateAnswer& d = dated.date;
    std::string text = piece_title(book, asked.piece, asked.findings, ink) + "\n";
    text +=
        wrapped(fmt::format("Most likely made about {}: two chances in three {}, nineteen in twenty {} (EDTF {}).",
                            d.median, years_in_words(d.hpd68), years_in_words(d.hpd95), d.edtf),
                world.width, "", "");

    const int last_year = d.first_year + static_cast<int>(d.by_year.size()) - 1;
    const int first = std::max(d.first_year, d.hpd95.first - kMargin),
              last = std::min(last_year, d.hpd95.second + kMargin);
    const auto lane = [&](const std::vector<double>& values) {
        const std::vector<double> shown(values.begin() + (first - d.first_year),
                                        values.begin() + (last - d.first_year) + 1);
        const auto room = static_cast<std::size_t>(std::max(12, world.width - static_cast<int>(kLabel) - 16));
        return skyline(shown, room);
    };
    text += "\n" + ink.strong("Statements") +
            ink.faint(fmt::format("  {} to {}, and what each cuts off before and after", first, last)) + "\n";
    for (std::size_t i = 0; i < dated.statements.size(); ++i) {
        const dating::YearStatement& s = dated.statements[i];
        const dating::Heard& heard = dated.together.heard[i];
        text += "  " + padded(shortened(s.subject, kLabel - 2), kLabel - 2) + "  " + lane(s.agrees) + "  " +
                padded_left(percent(heard.cut_before), 5) + " " + padded_left(percent(heard.cut_after), 5) + "\n";
        std::string sources;
        for (const auto source : s.sources) sources += (sources.empty() ? "" : ", ") + book::id_of(book, source);
        text += wrapped(fmt::format("{}; trusted {}{}{}", s.what, percent(s.trust),
                                    heard.holds < s.trust - 0.05
                                        ? fmt::format(", holds {} beside the others", percent(heard.holds))
                                        : "",
                                    sources.empty() ? "" : "; " + sources),
                        world.width, "    ", "    ");
    }
    text += "  " + padded("together", kLabel - 2) + "  " + ink.strong(lane(d.by_year)) + "\n";

    const auto& quarrels = dated.together.contradictions;
    if (!quarrels.smallest.empty()) {
        text += "\n" + ink.warm("These cannot all hold") + "\n";
        for (std::size_t i = 0; i < std::min(quarrels.smallest.size(), kMostQuarrels); ++i)
            text += wrapped(fmt::format("{}", fmt::join(quarrel(book, dated, quarrels.smallest[i]), "; ")),
                            world.width, "  - ", "    ");
        if (quarrels.smallest.size() > kMostQuarrels)
            text += fmt::format("    and {} more\n", quarrels.smallest.size() - kMostQuarrels);
        for (const std::size_t i : quarrels.frees)
            text += wrapped(fmt::format("The rest would hold if this were wrong: {} {}.",
                                        dated.statements[i].subject, dated.statements[i].what),
                            world.width, "  ", "  ");
    }
    return text;
}

Outcome date(const Call& call, World& world) {
    // Without a clue nothing is missed where the pack of laws is not beside the program.
    const auto reference =
        call.has("--clue") || law_is_there(world) ? open_reference_with_law(call, world) : open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<dating::WordingText> wording;
    for (const std::string& text : call.all("--clue")) wording.push_back({text, "the wording given", 1});
    std::vector<Problem> problems;
    const std::vector<Asked> asked = read_pieces(call, world, *reference, problems);
    if (!problems.empty()) return refuse(std::move(problems));

    // Photographs were read by the web app; what was read is in the cupboard.
    std::unique_ptr<store::Store> cupboard;
    if (names_cupboard(call)) {
        auto opened = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!opened) return refuse(opened.error());
        cupboard = std::move(*opened);
    }

    FormViews views(*reference);
    const dating::ClueFinder finder(book);
    std::string text;
    for (const Asked& one : asked) {
        std::vector<dating::WordingText> words = wording;
        if (cupboard) {
            auto read = server::wordings_of_piece(*cupboard, one.piece.id);
            if (!read) return refuse(read.error());
            words.insert(words.end(), read->begin(), read->end());
        }
        const naming::FormView& view = views.of(one.findings.form);
        const naming::Answer answer = naming::examine(view, one.findings, {false, false, false});
        const auto further =
            dating::clue_statements(finder, words, dating::range_of(view), !one.findings.mark, settings);
        if (!further) return refuse(further.error());
        const auto dated = dating::date_piece(view, one.findings, answer, *further);
        if (!dated) {
            Problem problem = dated.error();
            problem.where = one.piece.id.empty() ? "piece" : one.piece.id;
            problems.push_back(std::move(problem));
        } else if (call.json()) {
            text += json_line(dating::date_json(book, one.piece.id, *dated, one.notes));
        } else {
            text += (text.empty() ? "" : "\n") + page_of(book, one, *dated, world);
        }
    }
    if (!problems.empty()) return refuse(std::move(problems));
    return page(std::move(text));
}

}  // namespace

Command date_command() {
    Option data = cupboard_option();
    data.required = false;
    data.sentence = "The folder that holds your pieces: the wording read on a piece's photographs is heard too.";
    return {
        .name = "date",
        .sentence = "Dates pieces from every statement about them, each as far as its source is trusted.",
        .detail =
            {"Puts together when maker, shape, glaze, ornaments and treatment were in use, dated uses, the mark "
             "and the date code, for every treatment that the piece may be. The answer has the years, what "
             "each statement cut off, every smallest set of statements that cannot all hold, and which one "
             "would free the rest if it were wrong."},
        .arguments = {{.name = "PIECE.json",
                       .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                       .takes = Takes::kFile,
                       .repeats = true}},
        .options = {pack_option(),
                    {.name = "--clue",
                     .value = "TEXT",
                     .sentence = "Wording on the underside, as it stands there; may be repeated.",
                     .repeats = true},
                    data,
                    set_option()},
        .run = date};
}

}  // namespace footring::cli

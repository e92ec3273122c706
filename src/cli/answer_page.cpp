// SPDX-License-Identifier: Apache-2.0
#include "cli/answer_page.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/odds.h"
#include "care/cautions.h"
#include "cli/piece_files.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "naming/apart.h"

namespace footring::cli {

namespace {

// A page is for a glance; --json has every candidate.
constexpr std::size_t kMostCandidates = 8, kFewestCandidates = 3;
constexpr double kFaint = 0.01;  // fainter ones are counted together
constexpr std::size_t kMostNext = 5;

struct Page {
    const book::Book& book;
    const looks::Piece& piece;
    const looks::Findings& findings;
    const naming::Answer& answer;
    Ink ink;
    int width;
    std::string text;

    void heading(std::string_view words) { text += "\n" + ink.strong(words) + "\n"; }
    void line(std::string_view words, std::string_view indent = "  ") {
        text += wrapped(words, width, indent, indent);
    }

    // Each line inked on its own, so that the colour codes do not count as characters.
    void faint(std::string_view words) {
        std::string lines = wrapped(words, width, "  ", "  ");
        lines.pop_back();
        for (std::string::size_type at = 0; at != std::string::npos;) {
            const auto end = lines.find('\n', at);
            text += ink.faint(lines.substr(at, end - at)) + "\n";
            at = end == std::string::npos ? end : end + 1;
        }
    }

    void title() {
        text += piece_title(book, piece, findings, ink) + "\n";
        line(answer.verdict, "");
    }

    // One line of odds: label, words, figure, bar. Narrow pages go without the bar, the narrowest without words.
    void odds(std::string_view label, double share) {
        const bool words = width >= 56, bars = width >= 76;
        const int label_width = width - 2 - 2 - 5 - (words ? 18 : 0) - (bars ? 22 : 0);
        const auto cells = static_cast<std::size_t>(std::min(label_width, 50));
        std::string row = padded(shortened(label, cells), cells) + "  ";
        if (words) row += padded(odds_in_words(share), 18);
        row += padded_left(percent(share), 5);
        if (bars) row += "  " + bar(share, 20);
        while (row.ends_with(' ')) row.pop_back();
        text += "  " + row + "\n";
    }

    // Candidates that no look at this form can tell apart bear the same letter, which a line below explains.
    void candidates() {
        heading("Treatment");
        std::vector<std::vector<book::Ref<book::Treatment>>> groups;
        const auto letter = [&](const naming::Candidate& candidate) -> std::string {
            if (candidate.twins.empty()) return "";
            std::size_t at = 0;
            while (at < groups.size() && std::ranges::find(groups[at], candidate.treatment) == groups[at].end())
                ++at;
            if (at == groups.size()) {
                groups.push_back({candidate.treatment});
                groups.back().insert(groups.back().end(), candidate.twins.begin(), candidate.twins.end());
                std::ranges::sort(groups.back());
            }
            return std::string(1, static_cast<char>('a' + at % 26));
        };
        const bool any_twins =
            std::ranges::any_of(answer.candidates, [](const auto& c) { return !c.twins.empty(); });
        std::size_t shown = 0;
        double rest = 0;
        for (const naming::Candidate& candidate : answer.candidates) {
            if (shown == kMostCandidates || (shown >= kFewestCandidates && candidate.probability < kFaint)) {
                rest += candidate.probability;
                continue;
            }
            ++shown;
            odds((any_twins ? padded(letter(candidate), 2) : "") + called(book, candidate.treatment),
                 candidate.probability);
        }
        const std::string indent = any_twins ? "  " : "";
        if (answer.candidates.size() > shown)
            odds(indent + fmt::format("{} more together", answer.candidates.size() - shown), rest);
        odds(indent + "a treatment no pack lists", answer.open.unlisted);
        odds(indent + "made or decorated elsewhere", answer.open.elsewhere);
        for (std::size_t at = 0; at < groups.size(); ++at) twins(groups[at], static_cast<char>('a' + at % 26));
    }

    void twins(const std::vector<book::Ref<book::Treatment>>& group, char letter) {
        std::vector<std::string> names, forms;
        for (const auto twin : group)
            names.push_back(book[twin].number.empty() ? called(book, twin) : book[twin].number);
        for (const auto form : naming::apart(book, findings.form, group).telling_forms)
            forms.push_back(form_name(book, form));
        constexpr std::size_t kMostForms = 5;
        const std::size_t more = forms.size() - std::min(forms.size(), kMostForms);
        forms.resize(forms.size() - more);
        text += wrapped(fmt::format("No look at this form tells {} apart; {}.", fmt::join(names, ", "),
                                    forms.empty() ? "no other form does either"
                                                  : fmt::format("these forms {}: {}{}",
                                                                group.size() == 2 ? "do" : "tell some of them",
                                                                fmt::join(forms, "; "),
                                                                more > 0 ? fmt::format(" and {} more", more) : "")),
                        width, fmt::format("  {} ", letter), "    ");
    }

    void grade() {
        heading("Grade");
        odds("first run", answer.grade.first);
        odds("second", answer.grade.second);
    }

    void date() {
        heading("Date");
        const naming::DateAnswer& d = answer.date;
        line(fmt::format("Median {}; two chances in three {}; nineteen in twenty {} (EDTF {}).", d.median,
                         years_in_words(d.hpd68), years_in_words(d.hpd95), d.edtf));
        density();
    }

    // The years that carry weight, one cell a year where they fit.
    void density() {
        const auto& p = answer.date.by_year;
        if (p.empty()) return;
        constexpr double kVisible = 1e-4;
        std::size_t from = 0, to = p.size();
        while (from + 1 < to && p[from] < kVisible) ++from;
        while (to > from + 1 && p[to - 1] < kVisible) --to;
        const int first = answer.date.first_year + static_cast<int>(from);
        const int last = answer.date.first_year + static_cast<int>(to) - 1;
        const std::size_t room = static_cast<std::size_t>(width) - 14;
        text += fmt::format("  {} {} {}\n", first, skyline(std::span(p).subspan(from, to - from), room), last);
    }

    void reasons() {
        if (answer.reasons.empty()) return;
        heading("Reasons");
        faint("for the first candidate against all the rest, in decibans: 10 is ten to one");
        double heaviest = 10;  // below this the bars would make little look like much
        std::size_t name_width = 0;
        for (const naming::Reason& reason : answer.reasons) {
            heaviest = std::max(heaviest, std::abs(reason.weight.value));
            name_width = std::max(name_width, width_of(reason.look) + 2 + width_of(reason.value));
        }
        name_width = std::min<std::size_t>(name_width, static_cast<std::size_t>(width) / 3);
        for (const naming::Reason& reason : answer.reasons) {
            std::vector<std::string> sources;
            for (const naming::Support& support : reason.supports)
                for (const auto source : support.sources)
                    if (const auto id = book::id_of(book, source); std::ranges::find(sources, id) == sources.end())
                        sources.push_back(id);
            const std::string row = padded(shortened(reason.look + ": " + reason.value, name_width), name_width) +
                                    "  " + padded_left(fmt::format("{:+.1f}", reason.weight.value), 6) + "  " +
                                    signed_bar(reason.weight.value / heaviest, 8);
            std::string line = "  " + row;
            const std::string beside = fmt::format("{}", fmt::join(sources, ", "));
            if (width_of(line) + 2 + width_of(beside) <= static_cast<std::size_t>(width)) {
                line += "  " + beside;
                while (line.ends_with(' ')) line.pop_back();
                text += line + "\n";
            } else {
                while (line.ends_with(' ')) line.pop_back();
                text += line + "\n" + wrapped(beside, width, "      ", "      ");
            }
        }
    }

    void next() {
        // Looks that tell nothing of anything are left to --json.
        std::vector<naming::NextLook> telling;
        for (const naming::NextLook& look : answer.next)
            if (telling.size() < kMostNext && look.treatment.value + look.grade.value + look.year.value >= 0.005)
                telling.push_back(look);
        if (telling.empty()) return;
        heading("Next look");
        faint("what it is expected to tell of the treatment, and how long it takes");
        std::size_t name_width = 0;
        for (const naming::NextLook& look : telling) name_width = std::max(name_width, width_of(look.look));
        for (const naming::NextLook& look : telling)
            text += wrapped(fmt::format("{:.2f} bits in {:g} min (grade {:.2f}, year {:.2f})", look.treatment.value,
                                        look.effort.value, look.grade.value, look.year.value),
                            width, "  " + padded(look.look, name_width) + "  ", std::string(name_width + 4, ' '));
    }

    void conflicts() {
        if (answer.conflicts.empty()) return;
        text += "\n" + ink.warm("Cannot all hold") + "\n";
        for (const naming::Conflict& conflict : answer.conflicts)
            text += wrapped(fmt::format("{}", fmt::join(conflict.statements, "; ")), width, "  - ", "    ");
    }

    void cautions() {
        heading("Care");
        for (const care::Caution& caution : care::cautions(book, findings, answer))
            text +=
                wrapped(fmt::format("{}: {} ({}{})", caution.title, caution.text, fmt::join(caution.because, "; "),
                                    caution.chance < 1 ? ", " + percent(caution.chance) : ""),
                        width, "  - ", "    ");
        text += wrapped(std::string(care::kDefers), width, "  ", "  ");
    }
};

}  // namespace

std::string answer_page(const book::Book& book, const looks::Piece& piece, const looks::Findings& findings,
                        const naming::Answer& answer, const std::vector<std::string>& notes, const World& world) {
    Page page{book, piece, findings, answer, Ink{world.colour}, world.width, {}};
    page.title();
    page.candidates();
    page.grade();
    page.date();
    page.reasons();
    page.next();
    page.conflicts();
    page.cautions();
    if (!notes.empty() || !answer.notes.empty()) page.heading("Notes");
    for (const std::string& note : notes) page.line(note);
    for (const std::string& note : answer.notes) page.line(note);
    return page.text;
}

}  // namespace footring::cli

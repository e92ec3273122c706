// SPDX-License-Identifier: Apache-2.0
#include "cli/reading_page.h"

#include <fmt/format.h>

#include "base/words.h"
#include "book/colour.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "looks/piece.h"
#include "photo/suggest.h"

namespace footring::cli {

namespace {

constexpr std::size_t kMostIds = 3;  // of ornaments, glazes, sizes, marks: the rest is in --json
constexpr double kThere = 0.5;       // a chance above it is said as presence
constexpr std::size_t kLabelWidth = 12;

// The name of a row, else its id as it was written.
template <class T>
std::string name_of(const book::Book& book, const std::string& id) {
    const auto found = book::find<T>(book, id, "reading");
    return found && !book[*found].name.empty() ? book[*found].name : id;
}

struct Page {
    const photo::Reading& reading;
    const book::Book& book;
    Ink ink;
    int width;
    std::string text;

    void heading(std::string_view words) { text += "\n" + ink.strong(words) + "\n"; }
    void row(std::string_view label, const std::string& words) {
        text += wrapped(words, width, "  " + padded(label, kLabelWidth), std::string(2 + kLabelWidth, ' '));
    }

    void title() {
        text += ink.strong(reading.file) +
                ink.faint(fmt::format("  {} x {}, {}", reading.width, reading.height,
                                      reading.side == photo::Side::kBack ? "underside" : "front")) +
                "\n";
    }

    void outline() {
        const photo::Outline& o = reading.outline;
        if (o.kind == photo::OutlineKind::kNone) return row("outline", "no piece was found");
        std::string words = std::string(photo::name_of(o.kind));
        if (o.long_mm && o.short_mm)
            words += fmt::format(", {:.1f} x {:.1f} mm", *o.long_mm, *o.short_mm) +
                     (o.sigma_mm ? fmt::format(" (give or take {:.1f})", *o.sigma_mm) : "");
        words += fmt::format(", seen from {:.0f} degrees, {} of the rim in view", o.tilt_deg, percent(o.seen));
        row("outline", words);
        std::string sizes;
        for (std::size_t i = 0; i < std::min(o.sizes.size(), kMostIds); ++i) {
            const photo::SizeCandidate& size = o.sizes[i];
            sizes += fmt::format("{}{}, {}{} ({})", i == 0 ? "" : "; ", name_of<book::Form>(book, size.form),
                                 name_of<book::Shape>(book, size.shape),
                                 size.trade_size.empty() ? "" : ", " + size.trade_size, percent(size.chance));
        }
        if (!sizes.empty()) row("size", sizes);
    }

    std::string scored(const std::vector<photo::Scored>& list) const {
        std::string words;
        for (std::size_t i = 0; i < std::min(list.size(), kMostIds); ++i)
            words += fmt::format("{}{} ({})", i == 0 ? "" : ", ", name_of<book::Ornament>(book, list[i].id),
                                 percent(list[i].score));
        return words;
    }
    static std::string presence(double chance) {
        return chance > kThere ? fmt::format("there ({})", percent(chance))
                               : fmt::format("none ({})", percent(1 - chance));
    }

    void decoration() {
        const photo::Border& border = reading.border;
        row("border", border.present <= kThere
                          ? presence(border.present)
                          : joined({presence(border.present), border.finish,
                                    border.repeats ? fmt::format("{} repeats", *border.repeats) : "",
                                    fmt::format("{} lost to wear", percent(border.wear)), scored(border.ornaments)},
                                   "; "));
        const auto line = [&](std::string_view label, const photo::Line& l) {
            row(label, l.present <= kThere ? presence(l.present)
                                           : joined({presence(l.present), l.colour,
                                                     l.width_mm ? fmt::format("{:.1f} mm wide", *l.width_mm) : "",
                                                     scored(l.ornaments)},
                                                    "; "));
        };
        line("edge line", reading.edge_line);
        line("verge line", reading.verge_line);
        const photo::Centre& centre = reading.centre;
        row("centre", centre.present <= kThere
                          ? presence(centre.present)
                          : joined({presence(centre.present), centre.finish, scored(centre.ornaments)}, "; "));
        if (reading.glaze.lab) {
            const auto& lab = *reading.glaze.lab;
            std::string words = fmt::format("L*a*b* {:.1f} {:.1f} {:.1f}", lab[0], lab[1], lab[2]);
            for (std::size_t i = 0; i < std::min(reading.glaze.nearest.size(), kMostIds); ++i) {
                const auto& near = reading.glaze.nearest[i];
                words += fmt::format("{}{} ({:.1f} dE00 away)", i == 0 ? "; " : ", ",
                                     name_of<book::Glaze>(book, near.id), near.delta_e00);
            }
            row("glaze", words);
        }
        row("faults",
            fmt::format("{:.1f} specks in a square decimetre; unevenness {:.2f}; {}", reading.faults.specks_per_dm2,
                        reading.faults.unevenness, photo::crazing_in_words(reading.faults)));
    }

    void wording() {
        const photo::Wording& w = reading.wording;
        std::string words;
        for (const photo::Words& one : w.words)
            words += fmt::format("{}{} ({})", words.empty() ? "" : ", ", one.text, percent(one.confidence));
        row("wording", words.empty() ? "none could be read" : words);
        std::string marks;
        for (std::size_t i = 0; i < std::min(w.marks.size(), kMostIds); ++i) {
            const auto found = book::find<book::Mark>(book, w.marks[i].id, "reading");
            marks += fmt::format("{}{} {} ({})", i == 0 ? "" : "; ", w.marks[i].id,
                                 found ? book[*found].wording : "", percent(w.marks[i].score));
        }
        if (!marks.empty()) row("mark", marks);
        if (!w.numbers.empty()) row("number", fmt::format("{}", fmt::join(w.numbers, ", ")));
        if (!w.date_codes.empty()) row("date code", fmt::format("{}", fmt::join(w.date_codes, ", ")));
    }

    void suggestions() {
        if (reading.suggestions.empty()) return;
        heading("Suggested, for you to accept");
        for (const photo::Suggestion& s : reading.suggestions) {
            std::string words = s.value;
            if (s.sure) words += fmt::format(", {}", looks::kSureNames[static_cast<std::size_t>(*s.sure)]);
            row(s.field == "looks" ? s.place : s.field, fmt::format("{}. {}", words, s.why));
        }
    }
};

}  // namespace

std::string reading_page(const photo::Reading& reading, const book::Book& book, const World& world) {
    Page page{reading, book, {world.colour}, world.width, {}};
    page.title();
    page.outline();
    if (reading.side == photo::Side::kBack) page.wording();
    else if (reading.outline.kind != photo::OutlineKind::kNone) page.decoration();
    page.suggestions();
    if (!reading.notes.empty()) {
        page.heading("Notes");
        for (const std::string& note : reading.notes) page.text += wrapped(note, world.width, "  ", "  ");
    }
    return std::move(page.text);
}

}  // namespace footring::cli

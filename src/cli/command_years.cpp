// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/chronology.h"
#include "naming/examine.h"
#include "server/pieces_in_years.h"

namespace footring::cli {

namespace {

constexpr std::size_t kLabel = 30;     // columns
constexpr std::size_t kMostBars = 60;  // on a page; --json has all
constexpr std::string_view kFirm = "█", kSoft = "░", kNothing = "·", kUse = "│";

// The years of a chronology as columns of a page.
class Axis {
  public:
    Axis(int first, int last, std::size_t room)
        : first_(first), years_(std::max(1, last - first + 1)), room_(room) {}
    std::string line(const dating::SoftSpan& span, const std::vector<dating::SoftSpan>& uses) const {
        std::vector<std::string_view> cells(room_, kNothing);
        const auto fill = [&](int from, int to, std::string_view with) {
            for (std::size_t at = column(from); at <= column(to); ++at) cells[at] = with;
        };
        fill(span.soft_first, span.soft_last, kSoft);
        fill(span.first, span.last, kFirm);
        for (const dating::SoftSpan& use : uses) cells[column((use.first + use.last) / 2)] = kUse;
        std::string out;
        for (const std::string_view cell : cells) out += cell;
        return out;
    }

  private:
    std::size_t column(int year) const {
        const double share = (std::clamp(year, first_, first_ + years_ - 1) - first_ + 0.5) / years_;
        return std::min(room_ - 1, static_cast<std::size_t>(share * static_cast<double>(room_)));
    }
    int first_, years_;
    std::size_t room_;
};

std::string years_page(const book::Book& book, const dating::Chronology& c, const World& world) {
    const Ink ink{world.colour};
    const auto room = static_cast<std::size_t>(std::max(20, world.width - static_cast<int>(kLabel) - 4));
    const Axis axis(c.first, c.last, room);
    std::string text = ink.strong(c.title) + "\n";
    if (!c.words.empty()) text += wrapped("In use " + c.words + ".", world.width, "  ", "  ");
    const std::string from = std::to_string(c.first), to = std::to_string(c.last);
    text += "  " + std::string(kLabel, ' ') +
            ink.faint(from + std::string(room - std::min(room, from.size() + to.size()), ' ') + to) + "\n";
    std::size_t shown = 0, left = 0;
    for (const dating::Lane& lane : c.lanes) {
        const book::Shape& shape = book[lane.shape];
        text += ink.strong(shape_name(book, lane.shape)) +
                ink.faint(fmt::format("{}{}", shape.maker ? ", " + book[*shape.maker].name : "",
                                      shape.years ? ", " + edtf::in_words(*shape.years) : "")) +
                "\n";
        for (const dating::Bar& bar : lane.bars) {
            if (shown >= kMostBars) {
                ++left;
                continue;
            }
            ++shown;
            std::vector<dating::SoftSpan> uses;
            for (const dating::Tick& tick : c.ticks)
                if (tick.treatment == bar.treatment) uses.push_back(tick.span);
            text += "  " + padded(shortened(called(book, bar.treatment), kLabel - 1), kLabel) +
                    axis.line(bar.span, uses) + "\n";
        }
    }
    if (left > 0) text += fmt::format("  and {} more treatments\n", left);
    std::vector<std::string> glazes;
    for (const dating::ShownGlaze& glaze : c.glazes)
        if (book[glaze.glaze].years)
            glazes.push_back(
                fmt::format("{} {}", book[glaze.glaze].name, edtf::in_words(*book[glaze.glaze].years)));
    if (!glazes.empty())
        text += "\n" + ink.strong("Glazes") + "\n" +
                wrapped(fmt::format("{}", fmt::join(glazes, "; ")), world.width, "  ", "  ");
    std::vector<std::string> outliers;
    for (const dating::NumberPoint& point : c.numbers)
        if (point.outlier)
            outliers.push_back(fmt::format("{} (line {})", called(book, point.treatment), std::lround(point.line)));
    if (!outliers.empty())
        text += "\n" + ink.strong("Numbers out of step") + "\n" +
                wrapped(fmt::format("{}", fmt::join(outliers, "; ")), world.width, "  ", "  ");
    if (!c.pieces.empty()) {
        text +=
            "\n" + ink.strong(fmt::format("{} piece{}", c.pieces.size(), c.pieces.size() == 1 ? "" : "s")) + "\n";
        for (std::size_t i = 0; i < std::min(c.pieces.size(), kMostBars); ++i) {
            const dating::ChronologyPiece& piece = c.pieces[i];
            text += fmt::format("  {}  about {}, {} to {}{}\n", padded(piece.id, 10), piece.median,
                                piece.hpd95.first, piece.hpd95.second, piece.decided ? " (decided)" : "");
        }
        if (c.pieces.size() > kMostBars) text += fmt::format("  and {} more\n", c.pieces.size() - kMostBars);
    }
    if (!c.notes.empty()) text += "\n";
    for (const std::string& note : c.notes) text += wrapped(note, world.width, "", "");
    return text;
}

Outcome years(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    auto of = dating::chronology_of(book, call.one("--of").value_or(""), "--of");
    if (!of) return refuse(of.error());
    const auto* own = std::get_if<dating::OwnPieces>(&*of);
    if (own != nullptr && !names_cupboard(call))
        return refuse(
            Problem{ProblemCode::kBadInput, "--of", "asks for your pieces without --data", "add --data DIR"});
    server::PiecesInYears pieces;
    if (names_cupboard(call)) {
        const auto store = open_cupboard(call, world, WhenMissing::kRefuse);
        if (!store) return refuse(store.error());
        if (const auto named = server::name_lot(**store, *of, "--of"); !named) return refuse(named.error());
        FormViews views(*reference);
        auto found = server::pieces_in_years(
            book, **store, own == nullptr ? "" : own->lot, settings,
            [&](const looks::Findings& findings) -> Expected<naming::Answer> {
                return naming::examine(views.of(findings.form), findings, {false, false, false});
            },
            nullptr);
        if (!found) return refuse(found.error());
        pieces = std::move(*found);
    }
    dating::Chronology made = dating::chronology(book, *of, std::move(pieces.pieces), settings);
    if (pieces.left_out > 0)
        made.notes.push_back(fmt::format("{} piece{} of packs that are not open {} left out.", pieces.left_out,
                                         pieces.left_out == 1 ? "" : "s", pieces.left_out == 1 ? "is" : "are"));
    if (call.json()) return page(json_line(dating::chronology_json(book, made)));
    return page(years_page(book, made, world));
}

}  // namespace

Command years_command() {
    Option data = cupboard_option();
    data.required = false;
    data.sentence = "The folder that holds your pieces: they are shown where they belong.";
    return {.name = "years",
            .sentence = "Lays out the years of an ornament across shapes, of a shape, a maker, or your own pieces.",
            .detail =
                {"Lanes by shape, a bar for each treatment with soft ends where its dates are, dated uses, glazes, "
                 "and the years of numbers: what the page Years draws. --json has all of it with sources."},
            .arguments = {},
            .options = {pack_option(),
                        {.name = "--of",
                         .value = "WHAT",
                         .sentence = "ornament:ID, shape:ID, maker:ID, glaze:ID, treatment:ID, lot:ID or cupboard.",
                         .required = true},
                        data,
                        set_option()},
            .run = years};
}

}  // namespace footring::cli

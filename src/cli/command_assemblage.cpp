// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/assemblage.h"
#include "exchange/cupboard.h"
#include "looks/resolve.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

struct Member {
    looks::Piece piece;
    looks::Findings findings;
    std::string decided;  // EDTF that the person decided on; empty: examine it
};

void add(Member member, const std::string& where, const Reference& reference, std::vector<Member>& members,
         std::vector<Problem>& problems) {
    auto findings = looks::resolve(member.piece, reference.book, reference.settings, where);
    if (!findings) {
        problems.insert(problems.end(), findings.error().begin(), findings.error().end());
        return;
    }
    member.findings = std::move(*findings);
    members.push_back(std::move(member));
}

std::vector<Member> read_files(const Call& call, World& world, const Reference& reference,
                               std::vector<Problem>& problems) {
    std::vector<Member> members;
    for (const std::string& path : call.arguments) {
        const std::string name = path == "-" ? "standard input" : path;
        const auto text = read_file_or_stdin(path, world);
        if (!text) {
            problems.push_back(text.error());
            continue;
        }
        std::vector<std::string> notes;
        auto pieces = looks::pieces_from_json(*text, name, notes);
        if (!pieces) problems.insert(problems.end(), pieces.error().begin(), pieces.error().end());
        else
            for (looks::Piece& piece : *pieces) {
                const std::string where = piece.id.empty() || pieces->size() < 2 ? name : name + ", " + piece.id;
                add({std::move(piece), {}, ""}, where, reference, members, problems);
            }
    }
    return members;
}

Expected<std::vector<store::PieceRecord>> of_lot(const store::Place& place, const std::optional<std::string>& lot) {
    const auto store = open_cupboard(place, WhenMissing::kRefuse);
    if (!store) return std::unexpected(store.error());
    if (lot) {
        const auto lots = (*store)->lots();
        if (!lots) return std::unexpected(lots.error());
        if (std::ranges::find(*lots, *lot, &store::Lot::id) == lots->end())
            return fail(ProblemCode::kNotFound, "--lot", fmt::format("there is no lot '{}' in this cupboard", *lot),
                        "check its id on the Cupboard page, or leave --lot out for all pieces");
    }
    return exchange::all_pieces(**store, lot.value_or(""));
}

std::string assemblage_page(const std::vector<Member>& members, const dating::Assemblage& a, const World& world) {
    const Ink ink{world.colour};
    const auto id = [&](std::size_t i) {
        return members[i].piece.id.empty() ? fmt::format("piece {}", i + 1) : members[i].piece.id;
    };
    std::string text =
        ink.strong(fmt::format("{} piece{} together", members.size(), members.size() == 1 ? "" : "s")) + "\n";
    text += wrapped(
        fmt::format("Mean date {:.1f}{}.", a.mean_date.mean,
                    a.mean_date.standard_error ? fmt::format(", give or take {:.1f}; spread {:.1f} years",
                                                             *a.mean_date.standard_error, a.mean_date.spread)
                                               : ""),
        world.width, "  ", "  ");
    text += wrapped(fmt::format("They cannot have come together before {}: {} is not older.", a.terminus_post_quem,
                                id(a.terminus_piece)),
                    world.width, "  ", "  ");
    std::size_t first = 0, last = a.pieces_by_year.size() - 1;
    while (first < last && a.pieces_by_year[first] < 0.005) ++first;
    while (last > first && a.pieces_by_year[last] < 0.005) --last;
    const std::vector<double> shown(a.pieces_by_year.begin() + static_cast<std::ptrdiff_t>(first),
                                    a.pieces_by_year.begin() + static_cast<std::ptrdiff_t>(last) + 1);
    text += "\n" + ink.strong("Pieces by year") + "\n";
    text +=
        fmt::format("  {} {} {}\n", a.first_year + static_cast<int>(first),
                    skyline(shown, std::min<std::size_t>(shown.size(), static_cast<std::size_t>(world.width) - 16)),
                    a.first_year + static_cast<int>(last));
    text += "\n" + ink.strong("Out of step") + "\n";
    if (a.out_of_step.empty()) text += "  none\n";
    for (const dating::PieceStep& s : a.out_of_step)
        text +=
            wrapped(fmt::format("{}: about {}, {} than the rest; {} of its years fall within theirs.", id(s.piece),
                                a.medians[s.piece], s.earlier ? "earlier" : "later", percent(s.within)),
                    world.width, "  ", "    ");
    text += "\n" + ink.strong("Pieces") + "\n";
    std::size_t width = 0;
    for (std::size_t i = 0; i < members.size(); ++i) width = std::max(width, width_of(id(i)));
    for (std::size_t i = 0; i < members.size(); ++i)
        text += fmt::format("  {}  about {}, not before {}{}\n", padded(id(i), width), a.medians[i],
                            a.not_before[i], members[i].decided.empty() ? "" : " (decided)");
    return text;
}

Outcome assemblage(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto& [book, settings] = *reference;
    std::vector<Problem> problems;
    const auto lot = call.one("--lot");
    const bool cupboard = names_cupboard(call);
    if (lot && !cupboard)
        problems.push_back({ProblemCode::kBadInput, "--lot", "is given without --data", "add --data DIR"});
    if (!cupboard && call.arguments.empty())
        problems.push_back({ProblemCode::kBadInput, "footring assemblage", "no piece is given",
                            "name piece files, or a cupboard with --data DIR"});
    std::vector<Member> members;
    if (problems.empty()) members = read_files(call, world, *reference, problems);
    if (cupboard && problems.empty()) {
        const auto place = place_of(call, world);
        auto records = place ? of_lot(*place, lot) : std::unexpected(place.error());
        if (!records) problems.push_back(records.error());
        else
            for (store::PieceRecord& record : *records) {
                const std::string where = name_of(*place) + ", " + record.piece.id;
                add({std::move(record.piece), {}, record.decision ? record.decision->date : ""}, where, *reference,
                    members, problems);
            }
    }
    if (!problems.empty()) return refuse(std::move(problems));

    FormViews views(*reference);
    std::vector<dating::Member> dated;
    for (Member& member : members) {
        auto one = member.decided.empty() ? std::nullopt : dating::shares_of_date(member.decided, settings);
        if (!one) {
            member.decided.clear();
            auto odds = naming::examine(views.of(member.findings.form), member.findings,
                                        {.reasons = false, .next = false, .conflicts = false});
            one = {odds.date.first_year, std::move(odds.date.by_year)};
        }
        dated.push_back({member.piece.id, !member.decided.empty(), std::move(*one)});
    }
    const auto answer = dating::assemble(dated, settings);
    if (!answer) return refuse(answer.error());
    if (call.json()) return page(json_line(dating::assemblage_json(dated, *answer)));
    return page(assemblage_page(members, *answer, world));
}

}  // namespace

Command assemblage_command() {
    Option data = cupboard_option();
    data.required = false;
    return {
        .name = "assemblage",
        .sentence = "Dates pieces that came together: a lot, an estate, a dig.",
        .detail =
            {"Gives the mean ceramic date, the year before which they cannot have come together, how many pieces "
             "each year has, and the pieces that are out of step with the rest. Pieces come from piece files, or "
             "from a cupboard (all, or one lot), where a decided date goes before what examine says."},
        .arguments = {{.name = "PIECES.json",
                       .sentence = "A piece file, or a list of pieces in one file; - is standard input.",
                       .takes = Takes::kFile,
                       .least = 0,
                       .repeats = true}},
        .options = {pack_option(),
                    data,
                    {.name = "--lot", .value = "LOT", .sentence = "Only the pieces of this lot."},
                    set_option()},
        .run = assemblage};
}

}  // namespace footring::cli

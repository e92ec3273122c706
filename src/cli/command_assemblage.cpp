// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "base/json.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/files.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "cli/text_page.h"
#include "dating/assemblage.h"
#include "looks/resolve.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

using Json = nlohmann::ordered_json;

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

Expected<std::vector<store::PieceRecord>> of_lot(const std::string& folder, const std::optional<std::string>& lot) {
    const auto store = open_cupboard(folder, WhenMissing::kRefuse);
    if (!store) return std::unexpected(store.error());
    if (lot) {
        const auto lots = (*store)->lots();
        if (!lots) return std::unexpected(lots.error());
        if (std::ranges::find(*lots, *lot, &store::Lot::id) == lots->end())
            return fail(ProblemCode::kNotFound, "--lot", fmt::format("there is no lot '{}' in this cupboard", *lot),
                        "check its id on the Cupboard page, or leave --lot out for all pieces");
    }
    store::Query query;
    query.lot = lot.value_or("");
    query.sort = store::Query::Sort::kId;
    query.descending = false;
    query.limit = 1000;
    std::vector<store::PieceRecord> out;
    for (query.offset = 0;; query.offset += query.limit) {
        auto found = (*store)->find(query);
        if (!found) return std::unexpected(found.error());
        const bool last = found->rows.size() < static_cast<std::size_t>(query.limit);
        std::ranges::move(found->rows, std::back_inserter(out));
        if (last) return out;
    }
}

// How likely each year is, from `first` on.
struct Years {
    int first;
    std::vector<double> share;
};

Years decided_years(const std::string& date, const Settings& settings) {
    const auto parsed = edtf::parse(date);
    Years out{static_cast<int>(settings.first_year), {}};
    if (!parsed) return out;
    int first = static_cast<int>(settings.first_year), last = static_cast<int>(settings.last_year);
    for (const edtf::Span& span : parsed->spans()) {
        if (span.first) first = std::min<int>(first, static_cast<int>(std::max<std::int64_t>(*span.first, 0)));
        if (span.last) last = std::max<int>(last, static_cast<int>(std::min<std::int64_t>(*span.last, 2100)));
    }
    out.first = first;
    out.share = edtf::year_weights(*parsed, first, last, settings);
    const double sum = std::accumulate(out.share.begin(), out.share.end(), 0.0);
    if (sum <= 0) out.share.clear();
    for (double& one : out.share) one /= sum;
    return out;
}

Json assemblage_json(const std::vector<Member>& members, const dating::Assemblage& a) {
    std::vector<std::size_t> at(members.size());
    std::iota(at.begin(), at.end(), 0);
    const auto id = [&](std::size_t i) { return members[i].piece.id; };
    Json mean = {{"mean", a.mean_date.mean}, {"spread", a.mean_date.spread}, {"standard_error", nullptr}};
    if (a.mean_date.standard_error) mean["standard_error"] = *a.mean_date.standard_error;
    return {{"pieces", members.size()},
            {"mean_date", std::move(mean)},
            {"terminus_post_quem", {{"year", a.terminus_post_quem}, {"piece", id(a.terminus_piece)}}},
            {"by_year", {{"first_year", a.first_year}, {"pieces", a.pieces_by_year}}},
            {"out_of_step", json_list(a.out_of_step,
                                      [&](const dating::PieceStep& s) {
                                          return Json{{"piece", id(s.piece)},
                                                      {"median", a.medians[s.piece]},
                                                      {"within", s.within},
                                                      {"side", s.earlier ? "earlier" : "later"}};
                                      })},
            {"dates", json_list(at, [&](std::size_t i) {
                 return Json{{"piece", id(i)},
                             {"median", a.medians[i]},
                             {"not_before", a.not_before[i]},
                             {"decided", !members[i].decided.empty()}};
             })}};
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
    const auto folder = call.one("--data"), lot = call.one("--lot");
    if (lot && !folder)
        problems.push_back({ProblemCode::kBadInput, "--lot", "is given without --data", "add --data DIR"});
    if (!folder && call.arguments.empty())
        problems.push_back({ProblemCode::kBadInput, "footring assemblage", "no piece is given",
                            "name piece files, or a cupboard with --data DIR"});
    std::vector<Member> members;
    if (problems.empty()) members = read_files(call, world, *reference, problems);
    if (folder && problems.empty()) {
        auto records = of_lot(*folder, lot);
        if (!records) problems.push_back(records.error());
        else
            for (store::PieceRecord& record : *records) {
                const std::string where = *folder + ", " + record.piece.id;
                add({std::move(record.piece), {}, record.decision ? record.decision->date : ""}, where, *reference,
                    members, problems);
            }
    }
    if (!problems.empty()) return refuse(std::move(problems));

    FormViews views(*reference);
    std::vector<Years> years;
    for (Member& member : members) {
        Years one = decided_years(member.decided, settings);
        if (one.share.empty()) {
            member.decided.clear();
            auto answer = naming::examine(views.of(member.findings.form), member.findings,
                                          {.reasons = false, .next = false, .conflicts = false});
            one = {answer.date.first_year, std::move(answer.date.by_year)};
        }
        years.push_back(std::move(one));
    }
    int first = 9999, last = -9999;
    for (const Years& one : years) {
        first = std::min(first, one.first);
        last = std::max(last, one.first + static_cast<int>(one.share.size()) - 1);
    }
    std::vector<dating::DatedPiece> pieces;
    for (std::size_t i = 0; i < members.size(); ++i) {
        dating::DatedPiece piece{members[i].piece.id, 1,
                                 std::vector<double>(static_cast<std::size_t>(last - first + 1), 0.0)};
        std::ranges::copy(years[i].share, piece.by_year.begin() + (years[i].first - first));
        pieces.push_back(std::move(piece));
    }
    const auto answer = dating::assemble(pieces, first, settings);
    if (!answer) return refuse(answer.error());
    if (call.json()) return page(json_line(assemblage_json(members, *answer)));
    return page(assemblage_page(members, *answer, world));
}

}  // namespace

Command assemblage_command() {
    Option data = data_option();
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

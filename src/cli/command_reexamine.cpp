// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "book/pack.h"
#include "cli/commands.h"
#include "cli/cupboard.h"
#include "cli/form_views.h"
#include "cli/json_page.h"
#include "cli/reference.h"
#include "exchange/reexamine.h"
#include "looks/resolve.h"
#include "naming/answer_json.h"
#include "naming/examine.h"

namespace footring::cli {

namespace {

std::string packs_line(const book::Book& book) {
    std::string out;
    for (const book::Pack& pack : book.packs)
        out += fmt::format("{}{}@{} {}", out.empty() ? "" : "; ", pack.id, pack.version, pack.digest);
    return out;
}

std::string page_of(const exchange::Reexamination& done) {
    std::string text;
    for (const exchange::Reexamined& one : done.changed) {
        text += one.record.decision
                    ? fmt::format("{}, decided as {}\n", one.record.piece.id, one.record.decision->treatment)
                    : fmt::format("{}, not decided\n", one.record.piece.id);
        for (const std::string& what : one.shifted.what) text += fmt::format("  {}\n", what);
        for (const Problem& problem : one.problems) text += fmt::format("  {}\n", to_line(problem));
        for (const auto& why : one.shifted.why)
            text +=
                fmt::format("  because of {} {}: {:+.1f} decibans, was {:+.1f}{}\n", why.look, why.value, why.after,
                            why.before, why.rows.empty() ? "" : fmt::format(" ({})", fmt::join(why.rows, ", ")));
        for (const std::string& note : one.shifted.notes) text += fmt::format("  {}\n", note);
        text += "\n";
    }
    text += fmt::format("{} {}: {} changed, {} say the same, {} decided with these very packs\n", done.seen,
                        done.seen == 1 ? "piece" : "pieces", done.changed.size(), done.same, done.up_to_date);
    if (done.unknown > 0)
        text +=
            fmt::format("{} with nothing to compare with: name the packs as they were, --was DIR\n", done.unknown);
    return text;
}

Outcome reexamine(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto store = open_cupboard(call, world, WhenMissing::kRefuse);
    if (!store) return refuse(store.error());
    std::optional<Reference> was;
    if (const auto folders = call.all("--was"); !folders.empty()) {
        auto book = book::read_packs({folders.begin(), folders.end()});
        if (!book) return refuse(book.error());
        was = Reference{std::move(*book), reference->settings};
    }
    FormViews views(*reference);
    std::optional<FormViews> views_then;
    if (was) views_then.emplace(*was);
    const auto with = [](const Reference& open, FormViews& of) -> exchange::Examine {
        return [&](const looks::Piece& piece) -> std::expected<nlohmann::json, std::vector<Problem>> {
            const auto findings = looks::resolve(piece, open.book, open.settings, piece.id);
            if (!findings) return std::unexpected(findings.error());
            return nlohmann::json(
                naming::answer_json(open.book, piece.id, naming::examine(of.of(findings->form), *findings)));
        };
    };
    const auto done =
        exchange::reexamine(**store, reference->book, packs_line(reference->book), with(*reference, views),
                            was ? with(*was, *views_then) : exchange::Examine{},
                            [](int, int, const exchange::Reexamined*) { return true; });
    if (!done) return refuse(done.error());
    if (!call.json()) return page(page_of(*done));
    auto changed = nlohmann::ordered_json::array();
    for (const exchange::Reexamined& one : done->changed) changed.push_back(exchange::reexamined_json(one));
    return page(json_line({{"pieces", done->seen},
                           {"up_to_date", done->up_to_date},
                           {"same", done->same},
                           {"unknown", done->unknown},
                           {"changed", std::move(changed)}}));
}

}  // namespace

Command reexamine_command() {
    Option data = cupboard_option();
    return {
        .name = "reexamine",
        .sentence = "Tells which pieces would be answered otherwise with the packs as they are now.",
        .detail = {"Every decision keeps what was said when it was made, and with which packs. This examines each "
                   "piece again and lists those whose answer changed: before, after, and the looks and rows of the "
                   "packs that made it so. Pieces that are not decided are compared with the packs of --was. "
                   "Nothing is stored."},
        .arguments = {},
        .options = {std::move(data),
                    pack_option(),
                    {.name = "--was",
                     .value = "DIR",
                     .sentence =
                         "The packs as they were, an older copy of each: what undecided pieces are compared "
                         "with. May be repeated.",
                     .takes = Takes::kFolder,
                     .repeats = true},
                    set_option()},
        .run = reexamine};
}

}  // namespace footring::cli

// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

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
        text += fmt::format("{}, decided as {}\n", one.record.piece.id, one.record.decision->treatment);
        for (const std::string& what : one.shifted.what) text += fmt::format("  {}\n", what);
        for (const Problem& problem : one.problems) text += fmt::format("  {}\n", to_line(problem));
        for (const auto& why : one.shifted.why)
            text +=
                fmt::format("  because of {} {}: {:+.1f} decibans, was {:+.1f}{}\n", why.look, why.value, why.after,
                            why.before, why.rows.empty() ? "" : fmt::format(" ({})", fmt::join(why.rows, ", ")));
        for (const std::string& note : one.shifted.notes) text += fmt::format("  {}\n", note);
        text += "\n";
    }
    return text + fmt::format("{} decided {}: {} changed, {} say the same, {} decided with these very packs\n",
                              done.seen, done.seen == 1 ? "piece" : "pieces", done.changed.size(), done.same,
                              done.up_to_date);
}

Outcome reexamine(const Call& call, World& world) {
    const auto reference = open_reference(call);
    if (!reference) return refuse(reference.error());
    const auto store = open_cupboard(call, world, WhenMissing::kRefuse);
    if (!store) return refuse(store.error());
    const auto& [book, settings] = *reference;
    FormViews views(*reference);
    const auto examine = [&](const looks::Piece& piece) -> std::expected<nlohmann::json, std::vector<Problem>> {
        const auto findings = looks::resolve(piece, book, settings, piece.id);
        if (!findings) return std::unexpected(findings.error());
        return nlohmann::json(
            naming::answer_json(book, piece.id, naming::examine(views.of(findings->form), *findings)));
    };
    const auto done = exchange::reexamine(**store, book, packs_line(book), examine,
                                          [](int, int, const exchange::Reexamined*) { return true; });
    if (!done) return refuse(done.error());
    if (!call.json()) return page(page_of(*done));
    auto changed = nlohmann::ordered_json::array();
    for (const exchange::Reexamined& one : done->changed) changed.push_back(exchange::reexamined_json(one));
    return page(json_line({{"pieces", done->seen},
                           {"up_to_date", done->up_to_date},
                           {"same", done->same},
                           {"changed", std::move(changed)}}));
}

}  // namespace

Command reexamine_command() {
    Option data = cupboard_option();
    return {
        .name = "reexamine",
        .sentence = "Tells which decided pieces would be answered otherwise with the packs as they are now.",
        .detail = {"Every decision keeps what was said when it was made, and with which packs. This examines each "
                   "decided piece again and lists those whose answer changed: before, after, and the looks and "
                   "rows of the packs that made it so. Nothing is stored."},
        .arguments = {},
        .options = {std::move(data), pack_option(), set_option()},
        .run = reexamine};
}

}  // namespace footring::cli

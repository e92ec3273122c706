// Years: what is known of the years of a decoration, a shape, a maker, or of one's own pieces, as lanes and bars.
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "dating/chronology.h"
#include "server/app.h"
#include "server/routes.h"

namespace footring::server {

namespace {

Answered years(App& app, const Request& request) {
    auto of = dating::chronology_of(app.book, query_text(request, "of"), "query: of");
    if (!of) return refuse(of.error());
    if (const auto named = name_lot(*app.store, *of, "query: of"); !named) return refuse(named.error());
    const auto with_pieces = query_flag(request, "pieces", true);
    if (!with_pieces) return refuse(with_pieces.error());
    const auto* own = std::get_if<dating::OwnPieces>(&*of);
    PiecesInYears pieces;
    if (*with_pieces || own != nullptr) {
        // Which treatments a lot or the cupboard has follows from its pieces.
        const bool counted = app.settings.prior_cupboard_counts != 0;
        auto found = pieces_in_years(
            app.book, *app.store, own == nullptr ? "" : own->lot, app.settings,
            [&](const looks::Findings& findings) { return odds_of(app, findings); },
            counted ? nullptr : &app.dated_pieces);
        if (!found) return refuse(found.error());
        pieces = std::move(*found);
    }
    dating::Chronology made = dating::chronology(app.book, *of, std::move(pieces.pieces), app.settings);
    if (!*with_pieces) made.pieces.clear();
    if (pieces.left_out > 0)
        made.notes.push_back(fmt::format("{} piece{} of packs that are not open {} left out.", pieces.left_out,
                                         pieces.left_out == 1 ? "" : "s", pieces.left_out == 1 ? "is" : "are"));
    return json_reply(dating::chronology_json(app.book, made));
}

}  // namespace

std::vector<Route> years_routes() { return {{"GET", "/api/years", Takes::kNone, Role::kReader, years}}; }

}  // namespace footring::server

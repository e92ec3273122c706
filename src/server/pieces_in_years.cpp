// SPDX-License-Identifier: Apache-2.0
#include "server/pieces_in_years.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "exchange/cupboard.h"
#include "exchange/letter.h"

namespace footring::server {

std::optional<dating::ChronologyPiece> YearsCache::get(const std::string& id, std::int64_t revision) const {
    const std::lock_guard lock(mutex_);
    const auto found = kept_.find(id);
    if (found == kept_.end() || found->second.first != revision) return std::nullopt;
    return found->second.second;
}

void YearsCache::put(std::int64_t revision, const dating::ChronologyPiece& piece) {
    const std::lock_guard lock(mutex_);
    kept_.insert_or_assign(piece.id, std::pair(revision, piece));
}

void YearsCache::forget() {
    const std::lock_guard lock(mutex_);
    kept_.clear();
}

Expected<PiecesInYears> pieces_in_years(const book::Book& book, const store::Store& store, const std::string& lot,
                                        const Settings& settings, const Odds& odds, YearsCache* cache) {
    auto records = exchange::all_pieces(store, lot);
    if (!records) return std::unexpected(records.error());
    PiecesInYears out;
    for (const store::PieceRecord& record : *records) {
        if (cache != nullptr)
            if (auto kept = cache->get(record.piece.id, record.revision)) {
                out.pieces.push_back(std::move(*kept));
                continue;
            }
        const auto findings = looks::resolve(record.piece, book, settings, record.piece.id);
        if (!findings) {
            ++out.left_out;
            continue;
        }
        const auto answer = odds(*findings);
        if (!answer) return std::unexpected(answer.error());
        std::optional<dating::DecidedAs> decided;
        if (record.decision) {
            decided.emplace(std::nullopt, record.decision->date);
            if (const auto treatment = book::find<book::Treatment>(book, record.decision->treatment, "decision"))
                decided->treatment = *treatment;
        }
        out.pieces.push_back(dating::place_piece(book, record.piece.id, *findings, *answer, decided, settings));
        if (cache != nullptr) cache->put(record.revision, out.pieces.back());
    }
    return out;
}

Expected<std::vector<dating::SeenTreatment>> decided_treatments(const store::Store& store) {
    const auto records = exchange::all_pieces(store);
    if (!records) return std::unexpected(records.error());
    // A piece of a letter counts only when its person agreed.
    auto left_out = exchange::borrowed(store);
    if (!left_out) return std::unexpected(left_out.error());
    const auto agreed = exchange::sightings(store);
    if (!agreed) return std::unexpected(agreed.error());
    for (const exchange::Sighting& one : *agreed) left_out->erase(one.piece);
    std::vector<dating::SeenTreatment> out;
    for (const store::PieceRecord& record : *records)
        if (record.decision && !left_out->contains(record.piece.id))
            out.push_back({record.decision->treatment, record.lot.empty() ? "" : "lot " + record.lot});
    return out;
}

Expected<void> name_lot(const store::Store& store, dating::ChronologyOf& of, std::string_view where) {
    auto* own = std::get_if<dating::OwnPieces>(&of);
    if (own == nullptr || own->lot.empty()) return {};
    const auto lots = store.lots();
    if (!lots) return std::unexpected(lots.error());
    const auto lot = std::ranges::find(*lots, own->lot, &store::Lot::id);
    if (lot == lots->end())
        return fail(ProblemCode::kNotFound, std::string(where), fmt::format("there is no lot '{}'", own->lot),
                    "check its id on the Cupboard page");
    own->name = lot->name;
    return {};
}

}  // namespace footring::server

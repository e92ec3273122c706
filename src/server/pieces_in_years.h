// server/pieces_in_years.h - the pieces of a store, dated, for a chronology and for assemblages.
//   A decided date goes before what the engine says. Pieces that name rows of packs that are not open are left out
//   and counted. Dating thousands of pieces takes seconds the first time; a cache keeps each until it changes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <mutex>
#include <optional>
#include <string>
#include <unordered_map>
#include <vector>

#include "base/settings.h"
#include "dating/chronology.h"
#include "dating/unseen_book.h"
#include "looks/resolve.h"
#include "naming/answer.h"
#include "store/store.h"

namespace footring::server {

using Odds = std::function<Expected<naming::Answer>(const looks::Findings&)>;

// By id and revision, so that a changed piece is dated anew. Thread rule: any thread may call anything.
class YearsCache {
  public:
    std::optional<dating::ChronologyPiece> get(const std::string& id, std::int64_t revision) const;
    void put(std::int64_t revision, const dating::ChronologyPiece&);
    void forget();  // the counts of the prior changed

  private:
    mutable std::mutex mutex_;
    std::unordered_map<std::string, std::pair<std::int64_t, dating::ChronologyPiece>> kept_;
};

struct PiecesInYears {
    std::vector<dating::ChronologyPiece> pieces;  // by id
    int left_out = 0;                             // of other packs
};
// `lot` empty: all. `cache` may be null.
Expected<PiecesInYears> pieces_in_years(const book::Book&, const store::Store&, const std::string& lot,
                                        const Settings&, const Odds&, YearsCache* cache);
// The treatments of decided pieces, by piece, each with its lot as the find.
Expected<std::vector<dating::SeenTreatment>> decided_treatments(const store::Store&);
// Gives OwnPieces its name; kNotFound when the store has no such lot. `where` names the place of its id.
Expected<void> name_lot(const store::Store&, dating::ChronologyOf&, std::string_view where);

}  // namespace footring::server

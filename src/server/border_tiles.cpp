// SPDX-License-Identifier: Apache-2.0
#include "server/border_tiles.h"

#include <algorithm>
#include <set>

namespace footring::server {

namespace {
constexpr const char* kKind = "tile";
constexpr double kLeastLikeness = 0.5;
}  // namespace

std::optional<photo::BorderTile> BorderTiles::tile(const store::Store& store, const std::string& sha256,
                                                   const std::string& digest) {
    {
        const std::lock_guard lock(mutex_);
        if (const auto at = kept_.find(digest); at != kept_.end()) return at->second;
    }
    const auto bytes = store.reading_picture(sha256, kKind);
    if (!bytes) return std::nullopt;
    auto made = photo::BorderTile::from_png(*bytes);
    if (!made) return std::nullopt;
    const std::lock_guard lock(mutex_);
    if (kept_.size() >= kMostKept) kept_.clear();
    kept_.emplace(digest, *made);
    return made;
}

Expected<std::vector<BorderTiles::Alike>> BorderTiles::like(const store::Store& store, const std::string& sha256,
                                                            std::size_t most) {
    const auto reading = store.reading(sha256);
    if (!reading) return std::unexpected(reading.error());
    const auto digest = reading->pictures.find(kKind);
    if (digest == reading->pictures.end()) return std::vector<Alike>{};
    const auto own = tile(store, sha256, digest->second);
    if (!own) return std::vector<Alike>{};
    const auto made = store.pictures_made(kKind, store::Sight::kAll);
    if (!made) return std::unexpected(made.error());
    std::set<std::string> of_it;
    for (const store::PictureMade& one : *made)
        if (one.sha256 == sha256) of_it.insert(one.piece);
    std::map<std::string, Alike> best;
    for (const store::PictureMade& one : *made) {
        if (of_it.contains(one.piece)) continue;
        const auto other = tile(store, one.sha256, one.digest);
        if (!other) continue;
        const double likeness = own->likeness(*other);
        if (likeness < kLeastLikeness) continue;
        if (Alike& kept = best[one.piece]; likeness > kept.likeness) kept = {one.piece, one.sha256, likeness};
    }
    std::vector<Alike> out;
    for (auto& [piece, alike] : best) out.push_back(std::move(alike));
    std::ranges::stable_sort(out, std::ranges::greater{}, &Alike::likeness);
    if (out.size() > most) out.resize(most);
    return out;
}

}  // namespace footring::server

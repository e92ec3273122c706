// SPDX-License-Identifier: Apache-2.0
#include "naming/prior_counts.h"

#include <unordered_map>

namespace footring::naming {

std::vector<double> prior_counts(const book::Book& book, const Settings& settings,
                                 std::span<const std::pair<std::string, std::int64_t>> decided) {
    const bool of_packs = settings.prior_pack_counts != 0, of_cupboard = settings.prior_cupboard_counts != 0;
    if (!of_packs && !of_cupboard) return {};
    std::vector<double> counts(book.treatments.size(), 0.0);
    // Most subjects are no treatments: a map tells so at once, where find() would look for a name that is near.
    std::unordered_map<std::string, std::size_t> at;
    for (std::size_t i = 0; i < book.treatments.size(); ++i) {
        const book::Treatment& row = book.treatments[i];
        const bool in_pack = row.origin.pack < book.packs.size();
        at.emplace(in_pack ? book.packs[row.origin.pack].id + ":" + row.id : row.id, i);
    }
    const auto add = [&](const std::string& id, double weight) {
        if (const auto found = at.find(id); found != at.end()) counts[found->second] += weight;
    };
    // Between 0 and 1 the settings weigh a sighting in the packs against a piece in the hand.
    if (of_packs)
        for (const book::DatedUse& use : book.dated_uses) add(use.subject, settings.prior_pack_counts);
    if (of_cupboard)
        for (const auto& [id, pieces] : decided)
            add(id, settings.prior_cupboard_counts * static_cast<double>(pieces));
    return counts;
}

}  // namespace footring::naming

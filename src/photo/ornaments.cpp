// SPDX-License-Identifier: Apache-2.0
#include "photo/ornaments.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "base/text.h"
#include "photo/candidates.h"

namespace footring::photo {

namespace {
constexpr std::size_t kMostAnswers = 10;

// A softmax with "none of them" at 0.
std::vector<Scored> chances(const OrnamentShelf& shelf, const std::vector<Candidate>& candidates) {
    double most = 0;
    for (const Candidate& c : candidates) most = std::max(most, c.odds);
    double sum = std::exp(-most);
    for (const Candidate& c : candidates) sum += std::exp(c.odds - most);
    std::vector<Scored> out;
    for (const Candidate& c : candidates) {
        if (out.size() == kMostAnswers) break;
        out.push_back({shelf.all()[c.drawing].id, std::exp(c.odds - most) / sum});
    }
    return out;
}
}  // namespace

struct Ornaments::Inside {
    explicit Inside(const book::Book& the_book) : book(the_book), shelf(the_book) {}
    const book::Book& book;
    OrnamentShelf shelf;
};

Ornaments::Ornaments(const book::Book& book) : inside_(std::make_unique<Inside>(book)) {}
Ornaments::~Ornaments() = default;
const std::vector<std::string>& Ornaments::notes() const { return inside_->shelf.notes(); }

BorderMatch Ornaments::border(const Repeat& seen) const {
    if ((seen.mean.ink.empty() && seen.strip_ink.empty()) || inside_->shelf.all().empty()) return {};
    const auto candidates = border_candidates(inside_->shelf, seen);
    BorderMatch out{chances(inside_->shelf, candidates), std::nullopt};
    // A drawing that hardly fits tells nothing of how often it repeats.
    constexpr double kFits = -3;
    if (!candidates.empty() && candidates.front().count > 1 && candidates.front().odds > kFits)
        out.repeats = candidates.front().count;
    return out;
}

CentreMatch Ornaments::centre(const Ink& seen) const {
    if (seen.ink.empty() || inside_->shelf.all().empty()) return {};
    const auto candidates = centre_candidates(inside_->shelf, seen);
    return {chances(inside_->shelf, candidates), candidates.empty() ? 0 : candidates.front().angle_deg};
}

std::vector<Scored> Ornaments::line(const Line& seen) const {
    if (seen.colour.empty()) return {};
    const OrnamentShelf& shelf = inside_->shelf;
    const Colours colours{seen.colour, std::nullopt, {}};
    // Half a long diameter is some 125 mm on an ordinary plate.
    const double width = seen.width_mm.value_or(125 * seen.width);
    std::vector<Candidate> candidates;
    for (std::uint32_t i = 0; i < shelf.all().size(); ++i) {
        const Shelved& s = shelf.all()[i];
        const book::Ornament& o = inside_->book[s.ornament];
        const bool line = o.kind == book::OrnamentKind::kLine;
        if (!line && o.kind != book::OrnamentKind::kBand) continue;
        const auto says = [&](std::string_view word) {
            return lower(o.name).find(word) != std::string::npos || o.id.find(word) != std::string::npos;
        };
        // Widths of the trade, in mm: common practice, no published source.
        double usual = line ? 1.2 : 6, spread = 0.55;
        if (says("hairline") || says("hair line")) usual = 0.4;
        else if (says("broad") || says("wide")) usual = 2.5;
        else if (line && (says("double") || says("two"))) usual = 3;
        else if (line && says("triple")) usual = 4;
        const double off = std::log(std::max(0.1, width) / usual) / spread;
        constexpr double kSeenAsOne = 1;  // what has several lines seldom looks like one
        const double several = line && usual >= 3 ? kSeenAsOne : 0;
        Candidate c{i, {}, 3 + 1.5 * agreement(colours, s.colours) - 0.5 * off * off - several, 0, 0};
        candidates.push_back(c);
    }
    std::ranges::stable_sort(candidates, [](const Candidate& a, const Candidate& b) { return a.odds > b.odds; });
    return chances(shelf, candidates);
}

std::string Ornaments::recorded_finish(const std::vector<Scored>& found) const {
    constexpr double kMoreThanHalf = 0.5;
    std::map<std::string, double> chances;
    for (const Scored& one : found)
        for (const Shelved& s : inside_->shelf.all())
            if (s.id == one.id) chances[inside_->book[s.ornament].finish] += one.score;
    for (const auto& [finish, chance] : chances)
        if (chance > kMoreThanHalf) return finish;
    return {};
}

}  // namespace footring::photo

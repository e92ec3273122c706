// SPDX-License-Identifier: Apache-2.0
#include "photo/ornaments.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <opencv2/imgproc.hpp>

#include "base/text.h"
#include "photo/ornament_shelf.h"
#include "photo/row_search.h"
#include "photo/seen_centre.h"

namespace footring::photo {

namespace {
constexpr std::size_t kMostAnswers = 10, kRefined = 12;

// Chances from worths: a softmax in which "none of them" stands at kNone. Fitted on synthesised ribbons and
// photographs of packs with and without the ornament (ornaments_test.cpp).
constexpr double kSteepness = 22, kNone = 0.66;

struct Judged {
    std::uint32_t drawing;
    double evidence;  // natural logarithm of the odds against "none of them"
    int count = 0;
    double angle_deg = 0;
};

std::vector<Scored> chances(const OrnamentShelf& shelf, std::vector<Judged>& judged) {
    std::ranges::stable_sort(judged, [](const Judged& a, const Judged& b) { return a.evidence > b.evidence; });
    double most = 0;
    for (const Judged& j : judged) most = std::max(most, j.evidence);
    double sum = std::exp(-most);
    for (const Judged& j : judged) sum += std::exp(j.evidence - most);
    std::vector<Scored> out;
    for (const Judged& j : judged) {
        if (out.size() == kMostAnswers) break;
        out.push_back({shelf.all()[j.drawing].id, std::exp(j.evidence - most) / sum});
    }
    return out;
}

// A smaller plate carries fewer tiles than recorded, a platter more: soft, and no more than a tie-breaker.
double count_agrees(int count, std::optional<int> recorded) {
    if (!recorded || *recorded < 1 || count < 1) return 0;
    return -std::min(1.0, 0.8 * std::max(0.0, std::abs(std::log(static_cast<double>(count) / *recorded)) - 0.1));
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
    const OrnamentShelf& shelf = inside_->shelf;
    if ((seen.mean.ink.empty() && seen.strip_ink.empty()) || shelf.all().empty()) return {};
    const SeenBorder border(seen);
    const Colours colours = colours_of(seen.mean.finish, seen.mean.ink, seen.mean.bgr);

    std::vector<int> counts = border.counts();
    if (counts.empty()) counts.push_back(1);
    double most_periodic = 1e-9;
    for (const int n : counts) most_periodic = std::max(most_periodic, border.periodic(n));
    struct Candidate {
        std::uint32_t drawing;
        int count;
        RowMap map;
        double rough;
    };
    std::vector<Candidate> candidates;
    std::map<int, Waves> fine;
    for (const int n : counts) {
        const cv::Mat tile = border.fold(n);
        const Waves coarse = waves_of(tile, kCoarse);
        fine[n] = waves_of(tile, kFine);
        std::vector<Waves> laid;
        for (const RowMap map : wide_maps()) laid.push_back(mapped(coarse, map));
        const double period = std::pow(border.periodic(n) / most_periodic, 0.25);
        for (const std::uint32_t d : shelf.borders_like(tile)) {
            const Shelved& s = shelf.all()[d];
            const auto drawing = shelf.border(s);
            Candidate best{d, n, {}, -1};
            for (std::size_t m = 0; m < laid.size(); ++m) {
                const double value = period * worth(drawing->coarse, fit(drawing->coarse, laid[m]));
                if (value > best.rough) best.rough = value, best.map = wide_maps()[m];
            }
            best.rough +=
                (agreement(colours, s.colours) + s.border_chance + count_agrees(n, s.repeats)) / kSteepness;
            candidates.push_back(best);
        }
    }
    std::ranges::stable_sort(candidates, [](const Candidate& a, const Candidate& b) { return a.rough > b.rough; });

    std::vector<Judged> judged;
    for (const Candidate& c : candidates) {
        if (judged.size() >= 2 * kRefined) break;
        const Shelved& s = shelf.all()[c.drawing];
        const auto drawing = shelf.border(s);
        const RowFit found = best_rows(drawing->fine, fine[c.count], {c.map}, 2);
        const double period = std::pow(border.periodic(c.count) / most_periodic, 0.25);
        judged.push_back({c.drawing,
                          kSteepness * (period * found.worth - kNone) + agreement(colours, s.colours) +
                              s.border_chance + count_agrees(c.count, s.repeats),
                          c.count});
    }
    // Each drawing at its best count.
    std::ranges::stable_sort(judged, [](const Judged& a, const Judged& b) { return a.evidence > b.evidence; });
    std::vector<Judged> each;
    for (const Judged& j : judged)
        if (std::ranges::none_of(each, [&](const Judged& e) { return e.drawing == j.drawing; })) each.push_back(j);
    BorderMatch out;
    out.ornaments = chances(shelf, each);
    if (!each.empty() && each.front().count > 0) out.repeats = each.front().count;
    return out;
}

CentreMatch Ornaments::centre(const Ink& seen) const {
    const OrnamentShelf& shelf = inside_->shelf;
    if (seen.ink.empty() || shelf.all().empty()) return {};
    cv::Mat ink = seen.ink.clone();
    if (seen.unsure.size() == ink.size()) ink.setTo(0, seen.unsure);
    constexpr int kMost = 192;
    if (std::max(ink.cols, ink.rows) > kMost) {
        const double by = static_cast<double>(kMost) / std::max(ink.cols, ink.rows);
        cv::resize(ink, ink, {}, by, by, cv::INTER_AREA);
    }
    const Disc disc = disc_of(ink);
    const Colours colours = colours_of(seen.finish, seen.ink, seen.bgr);
    const auto disc_at = [&](double dx, double dy) {
        Disc moved = disc;
        moved.middle += cv::Point2d(dx, dy) * disc.radius;
        return moved;
    };
    const cv::Mat tile = polar(ink, disc);
    const Waves coarse = waves_of(tile, kCoarse, polar_weight(kCoarse));
    std::vector<Waves> laid;
    for (const RowMap map : disc_maps()) laid.push_back(mapped(coarse, map));
    struct Candidate {
        std::uint32_t drawing;
        RowMap map;
        double rough;
    };
    std::vector<Candidate> candidates;
    for (const std::uint32_t d : shelf.centres_like(tile)) {
        const Shelved& s = shelf.all()[d];
        const auto drawing = shelf.centre(s);
        Candidate best{d, {}, -1};
        for (std::size_t m = 0; m < laid.size(); ++m) {
            const double value = worth(drawing->coarse, fit(drawing->coarse, laid[m]));
            if (value > best.rough) best.rough = value, best.map = disc_maps()[m];
        }
        best.rough += (agreement(colours, s.colours) + s.centre_chance) / kSteepness;
        candidates.push_back(best);
    }
    std::ranges::stable_sort(candidates, [](const Candidate& a, const Candidate& b) { return a.rough > b.rough; });
    if (candidates.size() > kRefined) candidates.resize(kRefined);

    // Its middle is off by a little where ink is lost on one side.
    std::vector<Waves> moved;
    for (const double dy : {0.0, -0.06, 0.06})
        for (const double dx : {0.0, -0.06, 0.06})
            moved.push_back(waves_of(polar(ink, disc_at(dx, dy)), kFine, polar_weight(kFine)));
    std::vector<Judged> judged;
    for (const Candidate& c : candidates) {
        const Shelved& s = shelf.all()[c.drawing];
        const auto drawing = shelf.centre(s);
        RowFit best;
        for (const Waves& w : moved) {
            const RowFit found = best_rows(drawing->fine, w, {c.map}, 1, true);
            if (found.worth > best.worth) best = found;
        }
        const double period = 360.0 / drawing->symmetry;
        double angle = 360.0 * best.fit.turn;
        angle -= period * std::round(angle / period);
        judged.push_back({c.drawing,
                          kSteepness * (best.worth - kNone) + agreement(colours, s.colours) + s.centre_chance, 0,
                          angle});
    }
    CentreMatch out;
    out.ornaments = chances(shelf, judged);
    if (!judged.empty()) out.angle_deg = judged.front().angle_deg;
    return out;
}

std::vector<Scored> Ornaments::line(const Line& seen) const {
    if (seen.colour.empty()) return {};
    const OrnamentShelf& shelf = inside_->shelf;
    const Colours colours{seen.colour, std::nullopt, {}};
    // Half a long diameter is some 125 mm on an ordinary plate.
    const double width = seen.width_mm.value_or(125 * seen.width);
    std::vector<Judged> judged;
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
        judged.push_back({i, 3 + 1.5 * agreement(colours, s.colours) - 0.5 * off * off});
    }
    return chances(shelf, judged);
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/candidates.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <opencv2/imgproc.hpp>

#include "photo/overlap.h"
#include "photo/row_search.h"
#include "photo/seen_centre.h"

namespace footring::photo {

namespace {
constexpr std::size_t kRefined = 16;
constexpr double kRoughSteepness = 15;  // of the rough order alone
constexpr int kNothingButStripes = 0;   // count of what is nothing but stripes

// A smaller plate carries fewer tiles than recorded, a platter more: soft, and no more than a tie-breaker.
double count_agrees(int count, std::optional<int> recorded) {
    if (!recorded || *recorded < 1 || count < 1) return 0;
    return -std::min(1.0, 0.8 * std::max(0.0, std::abs(std::log(static_cast<double>(count) / *recorded)) - 0.1));
}

// Counts at which a drawing keeps its sides' proportion on this ribbon, give or take, and the one it is recorded
// with if it is near them; only those that the ribbon repeats at.
std::vector<int> counts_of(const Shelved& s, const Repeat& seen, const SeenBorder& border) {
    constexpr double kGive = 0.12, kNear = 0.3, kLeastPeriodic = 0.04;
    constexpr int kMost = 96;
    cv::Mat ink;
    s.pixels.convertTo(ink, CV_32F, 1.0 / 255);
    const Extent rows = inked_rows(ink);
    const double wide = s.aspect / std::max(0.1, rows.to - rows.from),
                 around = seen.length * std::max(1, seen.count), natural = around / (seen.height * wide);
    std::vector<int> out;
    for (int n = std::max(2, static_cast<int>(natural * (1 - kGive)));
         n <= std::min(kMost * 1.0, natural * (1 + kGive)); ++n)
        out.push_back(n);
    if (s.repeats && *s.repeats > 1 && *s.repeats <= kMost && std::abs(std::log(*s.repeats / natural)) < kNear &&
        std::ranges::find(out, *s.repeats) == out.end())
        out.push_back(*s.repeats);
    std::erase_if(out, [&](int n) { return border.periodic(n) < kLeastPeriodic; });
    return out;
}

struct Rough {
    std::uint32_t drawing;
    int count;
    cv::Point move;
    RowMap map;
    double value;
};
void sort(std::vector<Rough>& rough) {
    std::ranges::stable_sort(rough, [](const Rough& a, const Rough& b) { return a.value > b.value; });
}
std::vector<Candidate> each_once(std::vector<Candidate>& all) {
    std::ranges::stable_sort(all, [](const Candidate& a, const Candidate& b) { return a.odds > b.odds; });
    std::vector<Candidate> out;
    for (const Candidate& c : all)
        if (std::ranges::none_of(out, [&](const Candidate& o) { return o.drawing == c.drawing; })) out.push_back(c);
    return out;
}
}  // namespace

// Weights of a conditional logit with "none of them" at 0, fitted on some 500 synthesised ribbons and centres of
// two packs, worn up to a half, each asked once with its drawing in the pack and once without.
double border_odds(const Evidence& e) {
    return e.period * (10.7 * e.shape + 3.5 * e.pattern) - 5.3 * e.extra - 5 * e.missing - 6.9 + 1.5 * e.finish +
           e.use + 0.5 * e.count + e.stripes;
}
double centre_odds(const Evidence& e) {
    return 16.5 * e.shape - 7.7 * e.extra - 4.2 * e.missing - 6.4 + 1.5 * e.finish + e.use;
}

std::vector<Candidate> border_candidates(const OrnamentShelf& shelf, const Repeat& seen) {
    const SeenBorder border(seen);
    const Colours colours = colours_of(seen.mean.finish, seen.mean.ink, seen.mean.bgr);
    std::vector<int> counts = border.counts();
    if (counts.empty()) counts.push_back(1);
    double most_periodic = 1e-9;
    for (const int n : counts) most_periodic = std::max(most_periodic, border.periodic(n));
    // What repeats along the rim is no plain band.
    const double plain = 1 - 0.8 * (seen.count > 1 ? std::min(1.0, 1.5 * border.periodic(seen.count)) : 0);
    const auto period = [&](int n) {
        return n == kNothingButStripes ? plain : std::pow(std::min(1.0, border.periodic(n) / most_periodic), 0.25);
    };

    std::vector<std::optional<Lab>> stripes;
    if (!seen.mean.ink.empty()) {
        const Extent rows = inked_rows(seen.mean.ink);
        const cv::Range inked(static_cast<int>(std::lround(rows.from * seen.mean.ink.rows)),
                              static_cast<int>(std::lround(rows.to * seen.mean.ink.rows)));
        if (seen.mean.bgr.size() == seen.mean.ink.size())
            stripes = row_colours(seen.mean.ink.rowRange(inked), seen.mean.bgr.rowRange(inked), kStripeRows);
    }
    std::vector<Rough> rough;
    std::map<int, Waves> fine;
    std::map<int, std::vector<Waves>> guessed;
    const auto consider = [&](std::uint32_t d, int n, const std::vector<Waves>& laid) {
        const Shelved& s = shelf.all()[d];
        const auto drawing = shelf.border(s);
        Rough best{d, n, {}, {}, -1};
        for (std::size_t m = 0; m < laid.size(); ++m) {
            const double value = period(n) * worth(drawing->coarse, laid[m], fit(drawing->coarse, laid[m]));
            if (value > best.value) best.value = value, best.map = wide_maps()[m];
        }
        best.value +=
            (agreement(colours, s.colours) + s.border_chance + count_agrees(n, s.repeats)) / kRoughSteepness;
        rough.push_back(best);
    };
    const auto look_through = [&](int n, const cv::Mat& tile, bool stripes_only) {
        const Waves coarse = waves_of(tile, kCoarse);
        fine[n] = waves_of(tile, kFine);
        std::vector<Waves> laid;
        for (const RowMap map : wide_maps()) laid.push_back(mapped(coarse, map));
        for (const std::uint32_t d : shelf.borders_like(tile))
            if (shelf.all()[d].rows.empty() != stripes_only) consider(d, n, laid);
    };
    for (const int n : counts) look_through(n, border.fold(n), false);
    // Where no repeats could be counted (worn to remains, hidden in part), each drawing has its own idea of how
    // often it goes round: by its sides, and as recorded.
    if (seen.count < 2 && seen.height > 0)
        for (const std::uint32_t d : shelf.borders_like(border.fold(1))) {
            const Shelved& s = shelf.all()[d];
            if (!s.rows.empty()) continue;
            for (const int n : counts_of(s, seen, border)) {
                if (!fine.contains(n)) {
                    const cv::Mat tile = border.fold(n);
                    fine[n] = waves_of(tile, kFine);
                    guessed[n].clear();
                    const Waves coarse = waves_of(tile, kCoarse);
                    for (const RowMap map : wide_maps()) guessed[n].push_back(mapped(coarse, map));
                }
                if (guessed.contains(n)) consider(d, n, guessed[n]);
            }
        }
    look_through(kNothingButStripes, border.flat(), true);
    sort(rough);
    if (rough.size() > 2 * kRefined) rough.resize(2 * kRefined);

    std::vector<Candidate> all;
    for (const Rough& r : rough) {
        const Shelved& s = shelf.all()[r.drawing];
        const auto drawing = shelf.border(s);
        const Waves& tile = fine[r.count];
        const RowFit found = best_rows(drawing->fine, tile, {r.map}, 2);
        // An etched band has its repeats in its lightness, and is inked all over: bare ground in any repeat speaks
        // against it.
        const bool etched = s.etched && seen.count > 1;
        const cv::Mat seen_tile = etched ? border.fold(seen.count) : tile.tile;
        const Overlap over = overlap(drawing->fine.tile, seen_tile, found.map, found.fit.turn, tile.weight);
        Candidate c{r.drawing, {}, 0, etched ? seen.count : r.count, 0};
        c.evidence = {found.fit.all,
                      found.fit.pattern,
                      found.worth,
                      over.extra,
                      over.missing,
                      static_cast<float>(etched ? 1 : period(r.count)),
                      agreement(colours, s.colours),
                      s.border_chance,
                      count_agrees(c.count, s.repeats),
                      s.rows.empty() ? 0 : agreement(stripes, s.rows)};
        c.odds = border_odds(c.evidence);
        all.push_back(c);
    }
    return each_once(all);
}

std::vector<Candidate> centre_candidates(const OrnamentShelf& shelf, const Ink& seen) {
    cv::Mat ink = seen.ink.clone();
    if (seen.unsure.size() == ink.size()) ink.setTo(0, seen.unsure);
    constexpr int kMost = 192;
    if (std::max(ink.cols, ink.rows) > kMost) {
        const double by = static_cast<double>(kMost) / std::max(ink.cols, ink.rows);
        cv::resize(ink, ink, {}, by, by, cv::INTER_AREA);
    }
    const Colours colours = colours_of(seen.finish, seen.ink, seen.bgr);
    SeenCentre centre(ink);
    std::vector<Rough> rough;
    for (const std::uint32_t d : shelf.centres_like(centre.tile())) {
        const Shelved& s = shelf.all()[d];
        const auto drawing = shelf.centre(s);
        Rough best{d, 0, {}, {}, -1};
        for (const auto& place : centre.rough()) {
            const double value = worth(drawing->coarse, place.laid, fit(drawing->coarse, place.laid));
            if (value > best.value) best = {d, 0, place.move, place.map, value};
        }
        best.value += (agreement(colours, s.colours) + s.centre_chance) / kRoughSteepness;
        rough.push_back(best);
    }
    sort(rough);
    if (rough.size() > kRefined) rough.resize(kRefined);

    std::vector<Candidate> all;
    for (const Rough& r : rough) {
        const Shelved& s = shelf.all()[r.drawing];
        const auto drawing = shelf.centre(s);
        const auto [best, over] = centre.refined(drawing->fine, r.move, r.map);
        const double period = 360.0 / drawing->symmetry;
        double angle = 360.0 * best.fit.turn;
        angle -= period * std::round(angle / period);
        Candidate c{r.drawing, {}, 0, 0, angle};
        c.evidence = {best.fit.all,
                      best.fit.pattern,
                      best.worth,
                      over.extra,
                      over.missing,
                      1,
                      agreement(colours, s.colours),
                      s.centre_chance,
                      0};
        c.odds = centre_odds(c.evidence);
        all.push_back(c);
    }
    return each_once(all);
}

}  // namespace footring::photo

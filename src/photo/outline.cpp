// SPDX-License-Identifier: Apache-2.0
#include "photo/outline.h"

#include <fmt/format.h>

#include <algorithm>

#include "photo/polygon.h"
#include "photo/pose.h"
#include "photo/rim_search.h"
#include "photo/strip.h"

namespace footring::photo {

namespace {

// An oval's own shape hides the tilt. What runs round its rim - border, lines, the edge of the well - keeps its
// distance from the edge only when the tilt is right.
Plate straightest(const Picture& picture, const RimFound& rim, const View& view, const Plate& from_above) {
    constexpr double kTells = 1.04, kFlattest = 0.5, kRoundest = 0.97;
    double best_at = 0, best = find_slope(picture, from_above).straightness, least = best;
    Plate out = from_above;
    const auto consider = [&](double tilt) {
        const auto plate = oval_aslant(rim, view, tilt);
        if (!plate || plate->aspect < kFlattest || plate->aspect > kRoundest) return;
        const double score = find_slope(picture, *plate).straightness;
        least = std::min(least, score);
        if (score > best) best = score, best_at = tilt, out = *plate;
    };
    for (const double tilt : {12.0, 24.0, 36.0, 46.0}) consider(tilt);
    for (const double step : {6.0, 3.0}) {
        const double middle = best_at;
        for (const double tilt : {middle - step, middle + step})
            if (tilt > 0) consider(tilt);
    }
    if (best_at == 0 || best < kTells * least) return from_above;
    out.notes.emplace_back(
        "Without the scale card the tilt of an oval piece is not known: it was taken to be what makes its rim "
        "equally wide all round.");
    return out;
}

}  // namespace

std::optional<Plate> find_plate(const Picture& picture, const std::optional<CardFound>& card,
                                const OutlineOptions& options, std::vector<std::string>& notes) {
    constexpr double kHardly = 0.65;  // of the rim: cloth and print may have hidden that it is none
    const View view{picture.bgr.size(), picture.focal_px, card, options.rim_height_mm};
    std::optional<RimFound> rim;
    if (options.rim) {
        const Hoop given = hoop_of(*options.rim);
        rim = rim_near(picture.bgr, given, std::max(3.0, 0.008 * options.rim->a));
        if (options.rim_stands || rim->seen < 0.3) rim->hoop = given;  // nothing to hold on to: the hand is right
    } else {
        std::string why;
        rim = find_rim(picture.bgr, card, why);
        std::optional<PolygonFound> polygon;
        if (!rim || !surely_round(picture.bgr, *rim))
            polygon = find_polygon(picture.bgr, card, !rim || rim->seen < kHardly * rim->visible);
        if (polygon && polygon_is_the_piece(picture.bgr, *polygon, rim)) {
            const Plate plate = plate_of(*polygon, view);
            if (plate.outline.kind == OutlineKind::kOther) {  // boxes and books are so more often than plates
                notes.insert(notes.end(), plate.notes.begin(), plate.notes.end());
                return std::nullopt;
            }
            if (plate.outline.kind != OutlineKind::kNone) return plate;
        }
        if (!rim) {
            notes.push_back(why);
            return std::nullopt;
        }
        rim = beside_the_table(picture.bgr, *rim);
    }
    Plate plate = plate_of(*rim, view);
    if (plate.outline.kind == OutlineKind::kNone) {
        notes.emplace_back("A rim was found, but it cannot be that of a piece on a table.");
        return std::nullopt;
    }
    if (!card && plate.outline.kind == OutlineKind::kOval) plate = straightest(picture, *rim, view, plate);
    constexpr double kSmallestPieceMm = 45;  // butter pats are larger, coins smaller
    if (plate.outline.long_mm && *plate.outline.long_mm < kSmallestPieceMm) {
        notes.push_back(fmt::format("What was found is {:.0f} mm across by the scale card: too small for a piece.",
                                    *plate.outline.long_mm));
        return std::nullopt;
    }
    return plate;
}

}  // namespace footring::photo

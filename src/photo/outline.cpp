// SPDX-License-Identifier: Apache-2.0
#include "photo/outline.h"

#include <fmt/format.h>

#include "photo/polygon.h"
#include "photo/pose.h"
#include "photo/rim_search.h"

namespace footring::photo {

std::optional<Plate> find_plate(const Picture& picture, const std::optional<CardFound>& card,
                                const OutlineOptions& options, std::vector<std::string>& notes) {
    const View view{picture.bgr.size(), picture.focal_px, card, options.rim_height_mm};
    std::optional<RimFound> rim;
    if (options.rim) {
        rim = rim_near(picture.bgr, hoop_of(*options.rim), std::max(3.0, 0.008 * options.rim->a));
        if (rim->seen < 0.3) rim->hoop = hoop_of(*options.rim);  // nothing to hold on to: the hand is right
    } else {
        std::string why;
        rim = find_rim(picture.bgr, why);
        const auto polygon = find_polygon(picture.bgr, card, !rim || rim->seen < 0.85 * rim->visible);
        if (polygon && polygon_is_the_piece(picture.bgr, *polygon, rim)) {
            const Plate plate = plate_of(*polygon, view);
            if (plate.outline.kind != OutlineKind::kNone) return plate;
        }
        if (!rim) {
            notes.push_back(why);
            return std::nullopt;
        }
    }
    Plate plate = plate_of(*rim, view);
    if (plate.outline.kind == OutlineKind::kNone) {
        notes.emplace_back("A rim was found, but it cannot be that of a piece on a table.");
        return std::nullopt;
    }
    constexpr double kSmallestPieceMm = 45;  // butter pats are larger, coins smaller
    if (plate.outline.long_mm && *plate.outline.long_mm < kSmallestPieceMm) {
        notes.push_back(fmt::format("What was found is {:.0f} mm across by the scale card: too small for a piece.",
                                    *plate.outline.long_mm));
        return std::nullopt;
    }
    return plate;
}

}  // namespace footring::photo

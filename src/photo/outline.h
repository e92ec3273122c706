// photo/outline.h - the piece in the photograph: where its rim is, to a fraction of a pixel, and how it lies in
// space.
//   The plate may be cut by the picture's border, chipped, partly hidden, pale on a pale ground, with its shadow at
//   the rim; cloth, wood, other round things lie around. Where several pieces are seen, the one nearest the middle
//   and largest. Nothing that looks like a piece: kind none, with a note that says what was missing. source  direct
//   fit of ellipses, Halir and Flusser 1998; pose of a circle, any text on projective geometry
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "photo/card.h"
#include "photo/picture.h"

namespace footring::photo {

struct Plate {
    Outline outline;               // lengths filled when the card was found; sizes are filled by the caller
    double aspect = 1;             // short / long of the piece itself
    double corner = 0;             // radius that its corners are rounded with, plate units (photo/strip.h finds it)
    cv::Matx34d photo_from_plate;  // mat pixels; plate frame of photo/reading.h; the plane z = 0 is that of the rim
    std::optional<double> mm_per_unit, mm_per_unit_sigma;  // half the long diameter
    std::vector<std::string> notes;

    // The closed curve of the rim in the plate frame, by arc length, and the way inwards: the normal of an ellipse;
    // of a piece with corners towards its middle, one inwards for each step from its sides.
    struct Foot {
        cv::Point2d at, inwards;
    };
    bool has_corners() const;  // of a square or an octagon, and they were found
    Foot at(double s) const;
    std::vector<Foot> feet(int n) const;  // at (i + 0.5) / n; much cheaper than n calls
};

struct OutlineOptions {
    double rim_height_mm = 25;
    std::optional<Ellipse> rim;  // px, set by hand
    bool rim_stands = false;     // it was found before, and is not looked for near there
};
// Absent plate: `notes` say why.
std::optional<Plate> find_plate(const Picture&, const std::optional<CardFound>&, const OutlineOptions&,
                                std::vector<std::string>& notes);

}  // namespace footring::photo

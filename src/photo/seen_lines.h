// photo/seen_lines.h - rings of a rim's ribbon as lines: which are painted, and which belong to the border.
// Internal to photo/.
//   Shade on a lip or on the wall of a well, and the table where the outline is a px off, look like thin lines too.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "photo/decoration.h"
#include "photo/ink.h"
#include "photo/rings.h"

namespace footring::photo {

struct Ribbon {
    Strip strip;
    LitImage lit;
    double rows_per_unit = 0, perimeter = 0;
    int first_row = 0;  // rows before it mix with what lies under the plate
    double rows_per_px = 1;
    double t(double row) const { return strip.from + row / rows_per_unit; }
};

struct Band {
    int from = 0, to = 0;  // rows
    double ink = 0;        // sum over its rows of how much they carry
    int rows() const { return to - from; }
};

// A ring as a line, present.
Line line_of(const Ring&, const Ribbon&, const Plate&, const Light&);
// How far it is from the glaze in hue and how much darker, together: L*a*b*.
double plainness_of(const Ring&, const Ribbon&);
// The turned-over lip of a rim and the wall of a well look like thin grey lines, here and there.
bool is_shading(const Ring&, const Ribbon&);
// Whether a ring at the very edge is nothing but what lies under the plate, because the outline is a px off; or a
// blur of that and the glaze. `outside`: a ribbon that lies wholly beyond the edge.
bool is_table(const Ring&, const Ribbon&, const cv::Mat& outside, bool straight_sides);
// How far the ink of a band is from shaded glaze in hue, L*a*b*, on average; from kOwnHue no shade is so.
inline constexpr double kOwnHue = 12;
double hue_of_ink(const Ribbon&, const Band&);
// Whether a ring belongs to the drawing of the border. `ringed`: rows of any ring.
bool frames(const Ring&, const std::vector<Ring>& all, const Band&, const Ribbon&, const std::vector<bool>& ringed);

}  // namespace footring::photo

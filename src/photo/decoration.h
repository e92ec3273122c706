// photo/decoration.h - border, lines, centre, glaze and faults of a plate whose outline is known.
//   An Ink image says how much of each pixel is ornament rather than glaze: CV_32FC1, 0 glaze .. 1 ornament;
//   highlights and shadows are neither, and are marked in `unsure` (CV_8UC1, 255 where nothing can be said).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>

#include "photo/card.h"
#include "photo/strip.h"

namespace footring::photo {

struct Ink {
    cv::Mat ink, unsure;
    cv::Mat bgr;         // what it was made from, lit evenly
    std::string finish;  // "gold", "platinum", "silver", a colour name; empty: none
};
// One repeat as seen, mean of all: what is compared with the drawings. Along the rim to the right (s grows),
// outwards up.
struct Repeat {
    Ink mean;
    double length = 0, height = 0;  // plate units, along and across
    int count = 0;                  // repeats of this period round the whole rim
    cv::Mat strip_ink;              // the border's whole ribbon, CV_32FC1, for matches over the full length
    cv::Mat strip_unsure;
};
struct RimReading {
    Border border;  // without ornaments
    Line edge_line, verge_line;
    std::optional<Repeat> repeat;  // present when the border is
    Slope slope;                   // of the rim, as it was unrolled
};
RimReading read_rim(const Picture&, const Plate&, const Light&);

struct CentreReading {
    Centre centre;            // without ornaments
    std::optional<Ink> seen;  // square crop around the centre ornament, plate's +x to the right
    // With a ring that frames it at a distance: part of its drawing, or a line of its own. Absent: there is none.
    struct Framed {
        Ink seen;
        double radius = 0;
        Point middle;
    };
    std::optional<Framed> framed;
};
// `inside_of`: plate units, the well. The slope of the rim tells how deep its floor lies.
CentreReading read_centre(const Picture&, const Plate&, const Light&, double inside_of, const Slope&);

// Bare glaze: highlights, ornament and shadow left out.
Glaze read_glaze(const Picture&, const Plate&, const Light&, const RimReading&, const CentreReading&);
Faults read_faults(const Picture&, const Plate&, const Light&, const RimReading&, const CentreReading&);

}  // namespace footring::photo

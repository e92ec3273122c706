// photo/read.h - photographs in, readings out: the one way in.
//   in      the bytes of a photograph (photo/open.h says which), the open packs prepared once (photo/library.h)
//   out     a Reading; what could not be found is said in `notes`, and is no error
//   errors  those of open(); kBadInput for options out of range; kConflict when `stop` asked to end early
//   The same bytes, packs and options give the same reading.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <optional>
#include <string_view>

#include "base/problem.h"
#include "photo/library.h"
#include "photo/reading.h"

namespace footring::photo {

struct ReadOptions {
    std::optional<double> rim_height_mm;  // [0, 300]; absent: of the form that fits, else kUsualRimHeightMm
    std::optional<Side> side;             // absent: seen from the photograph
    std::optional<Ellipse> rim;           // px, set by a person's hand: the search for the outline is left out
    bool pictures = false;                // also make strip_jpeg, repeat_png, upright_jpeg and mark_png
    std::function<bool()> stop;           // asked between steps; true: give up
};
inline constexpr double kUsualRimHeightMm = 25;

Expected<Reading> read(std::string_view bytes, std::string_view where, const Library&, const ReadOptions&);

}  // namespace footring::photo

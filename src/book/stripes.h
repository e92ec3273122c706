// book/stripes.h - SVG drawings that are nothing but bars from end to end: lines and plain bands.
//   Such a drawing is laid on a rim as rings, which bend truly and never show a joint; any other one is cut into
//   slices. in      the text of an SVG, its viewBox (x, y, width, height) out     its bars in order of painting;
//   none when there is anything else in it (a curve, a stroke, a transform,
//           a group with a style, a bar that is shorter than the drawing)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <optional>
#include <string_view>
#include <vector>

#include "book/drawings.h"

namespace footring::book {

std::vector<Stripe> stripes_of_svg(std::string_view svg, const std::array<double, 4>& box);

// The value of an attribute inside one tag ("<path d='...'"); names are matched whole.
std::optional<std::string_view> svg_attribute(std::string_view tag, std::string_view name);

}  // namespace footring::book

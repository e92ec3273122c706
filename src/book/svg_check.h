// book/svg_check.h - whether an SVG from somewhere else may be kept in a pack.
//   A drawing is shown in pages, printed, and passed on with the pack: it holds shapes and colours, and nothing
//   that runs, loads, links or follows the reader. What is allowed is listed; all else is refused, so that a new
//   trick needs no new line here. in      the bytes of a file out     every part that is not allowed, each once;
//   empty: it is a plain drawing source  W3C Scalable Vector Graphics (SVG) 2, chapters "Scripting and
//   interactivity", "Linking" and "Security";
//           W3C Extensible Markup Language (XML) 1.0 for what a tag is
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::book {

std::vector<Problem> check_svg(std::string_view bytes, std::string_view where);

}  // namespace footring::book

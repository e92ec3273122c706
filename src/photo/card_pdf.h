// photo/card_pdf.h - the scale card as a page to print at true size.
//   out     a PDF of one page: the card (docs/scale-card.md), cutting marks, a ruler of 150 mm that shows whether
//   the
//           printer kept the size, and what to do. The same bytes each time.
//   errors  kOurFault when Cairo cannot write
//   source  ISO 216 (A4, 210 x 297 mm); ANSI/ASME Y14.1 (Letter, 8.5 x 11 in); PDF unit 1/72 in, ISO 32000-1
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/problem.h"

namespace footring::photo {

enum class Paper { kA4, kLetter };
struct PaperSize {
    double width_mm, height_mm;
};
PaperSize size_of(Paper);

// Where the card's top left corner and the ruler's zero lie on the page, mm from the page's top left corner.
inline constexpr double kCardOnPageXMm = 30, kCardOnPageYMm = 60;
inline constexpr double kRulerOnPageXMm = 30, kRulerOnPageYMm = 140, kRulerMm = 150;

Expected<std::string> card_pdf(Paper);

}  // namespace footring::photo

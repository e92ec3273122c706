// papers/pictures.h - the pictures of papers: glyphs, rim strips, QR codes, photographs.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>

#include "base/problem.h"
#include "book/book.h"
#include "book/glyph.h"
#include "papers/paper.h"

namespace footring::papers {

Picture glyph(const book::Book&, book::Ref<book::Treatment>, std::optional<book::Ref<book::Form>>,
              const std::vector<book::Place>& picked_out = {});
Picture glyph(const book::Book&, const book::Glyph&);
Picture strip(const book::Book&, book::Ref<book::Ornament>);
// A square of one glaze's colour.
Picture swatch(const std::string& colour, const std::string& name);

// A QR code (ISO/IEC 18004) of the text, error correction M, with its quiet zone. kTooLarge when it does not fit.
Expected<Picture> qr(const std::string& text);

// A JPEG as it is. kUnreadable when it is none. `where` names it in the Problem.
Expected<Picture> photograph(std::string jpeg, std::string alt, const std::string& where);

}  // namespace footring::papers

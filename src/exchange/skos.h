// exchange/skos.h - the words of the Book as vocabularies: SKOS (W3C, 2009) in Turtle.
//   A concept scheme for each of forms, shapes, glazes, ornaments, makers and treatments of each pack. A treatment
//   is narrower than its shape and related to its ornaments; forms match their terms of the Art & Architecture
//   Thesaurus.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "book/book.h"

namespace footring::exchange {

std::string skos(const book::Book&, std::string_view base);

}  // namespace footring::exchange

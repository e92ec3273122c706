// dating/clue_statements.h - the wording on a piece as statements about its years, to be put together with the
// rest.
//   in      texts, each from one place: what a person typed, what a photograph read
//   out     one statement a clue that counts and tells years, each clue once however often it is there; its trust
//   is
//           FoundClue::weight, so that a habit nobody verified weighs less than a law
//   A mark of the packs is left out when `with_marks` is false: the piece names its mark already.
//   errors  as ClueFinder::find(), for texts that are not blank
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "dating/clues.h"
#include "dating/combine.h"
#include "dating/piece_statements.h"

namespace footring::dating {

struct WordingText {
    std::string text;
    std::string from;       // "the wording given", "photograph 0a1b2c3d": where it stands, for the person
    double confidence = 1;  // that it was read right
};
Expected<std::vector<YearStatement>> clue_statements(const ClueFinder&, const std::vector<WordingText>&, YearRange,
                                                     bool with_marks, const Settings&);

}  // namespace footring::dating

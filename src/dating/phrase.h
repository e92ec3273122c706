// dating/phrase.h - a phrase found in text that was read badly: letters and figures alone count, so that case,
// spaces, full stops and line breaks make no difference, and a few letters may be wrong.
//   A match begins where a word begins and ends where one ends. What a wrong letter costs: 1 for a letter wrong,
//   missing or too many; 1/2 for a pair that eyes and cameras confuse (O and 0, I and 1, E and F, RN and M ...),
//   for two letters that changed places and for a letter that stands twice. What is allowed grows with the phrase:
//   nothing up to 2 letters, a confused figure up to 4, 1/2 for 5, 1 up to 8, 3/2 for 9, 2 up to 13, 3 beyond.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace footring::dating {

struct Letter {
    char c;             // A-Z, 0-9; accents are taken off
    std::size_t at;     // character of the text, from 0
    std::size_t byte;   // byte of the text, from 0
    bool begins, ends;  // a word
};
std::vector<Letter> letters_of(std::string_view text);
std::string folded(std::string_view phrase);  // its letters and figures alone, in capitals

struct PhraseMatch {
    std::size_t first, last;  // indices into the letters, both included
    double cost;              // 0: letter for letter
    friend bool operator==(const PhraseMatch&, const PhraseMatch&) = default;
};
double allowed_cost(std::size_t letters);
// Best match from each word on, in order of the text; they may overlap. `most` overrides allowed_cost.
std::vector<PhraseMatch> find_phrase(const std::vector<Letter>& text, std::string_view folded_phrase, double most);

}  // namespace footring::dating

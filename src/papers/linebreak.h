// papers/linebreak.h - where a paragraph's lines end, so that the paragraph as a whole looks best.
//   in      the places at which a line may end, in order of the text, with how wide everything up to there is
//   out     which of them are taken: indices into the places, rising; the last place is always among them
//   Cost: O(places x places of one line). Pure.
//   source  D. E. Knuth, M. F. Plass, Breaking paragraphs into lines, Software: Practice and Experience 11 (1981):
//           badness and demerits of a line, least sum over the paragraph
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <vector>

namespace footring::papers {

struct BreakPlace {
    double end = 0;       // pt from the start of the text to here, without the space that follows
    double next = 0;      // where the next line would begin: after the space
    int spaces = 0;       // stretchable spaces before here, from the start of the text
    bool hyphen = false;  // a hyphen is added when the line ends here
};
struct Measure {
    double width = 0;       // pt of a line
    double space = 3;       // pt of a space
    double hyphen = 3;      // pt of a hyphen
    bool justified = true;  // else ragged on the right, where a hyphen costs more
};
std::vector<std::size_t> break_lines(const std::vector<BreakPlace>&, const Measure&);

// What break_lines() makes least: the demerits of one way to break. For its test.
double demerits(const std::vector<BreakPlace>&, const Measure&, const std::vector<std::size_t>& taken);

}  // namespace footring::papers

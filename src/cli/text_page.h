// cli/text_page.h - a page for a terminal: wrapped lines, columns, bars, colours only when they are wanted.
//   Widths count characters, not bytes. Nothing here asks the environment: width and colour are arguments.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace footring::cli {

inline constexpr int kNarrowest = 40, kWidest = 120;  // beyond, lines are hard to read

std::size_t width_of(std::string_view utf8);                   // in characters
std::string padded(std::string_view, std::size_t width);       // to the left
std::string padded_left(std::string_view, std::size_t width);  // to the right, for figures
std::string shortened(std::string_view, std::size_t width);    // with an ellipsis when too long
std::string repeat(std::string_view, std::size_t times);

// Lines of at most `width` characters; the first begins after `first`, the others after `other`.
// A word longer than a line stands alone in it, whole.
std::string wrapped(std::string_view text, int width, std::string_view first, std::string_view other);

// A bar `cells` wide, filled to `share` (0..1) in eighths of a cell; more than nothing is never shown as nothing.
std::string bar(double share, std::size_t cells);
// Bars from the middle: against to the left, for to the right; `share` -1..1, 2 * half + 1 cells.
std::string signed_bar(double share, std::size_t half);
// A row of heights, tallest where `values` is largest; one cell may stand for several values, whose mean it shows.
std::string skyline(std::span<const double> values, std::size_t cells);

std::string percent(double share);                     // "61 %", "<1 %", ">99 %"
std::string years_in_words(std::pair<int, int> span);  // "1931 to 1940", "in 1934"

struct Ink {
    bool on = false;
    std::string strong(std::string_view) const;
    std::string faint(std::string_view) const;
    std::string warm(std::string_view) const;  // conflicts, what asks for attention
};

}  // namespace footring::cli

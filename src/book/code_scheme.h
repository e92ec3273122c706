// book/code_scheme.h - date codes: letters and digits beside a mark that stand for a year.
//   A scheme is a pattern with named groups ((?<year>..) or (?P<year>..), RE2 syntax, whole text, case ignored) and
//   tables, a JSON object from group name to what each token means. Groups that make the year:
//     year            token -> a year, a list of years (letters that recur), or an EDTF text such as "1931/1934"
//     decade + digit  token -> first year of the decade; token -> 0..9 (digits stand for themselves)
//   Without a table, four digits are a year (or the decade's first year) and fewer digits the ending of one: 34 is
//   1834, 1934 ..., and 4 is every year that ends in 4.
//   Other groups (month, plant, shift) only have to be in their table when they have one.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::book {

// The years a code can mean, ascending, within first..last. Empty list: the code says nothing about the year.
// kBadInput when the code does not follow the scheme ("month letter Q is not used in this scheme").
Expected<std::vector<int>> decode(const CodeScheme&, std::string_view code, int first, int last);

// Faults of the scheme itself: a pattern that does not compile, tables that are no JSON object or that give a group
// what it cannot mean. `where` of the fault is the column: "pattern" or "tables".
Expected<void> check(const CodeScheme&);

}  // namespace footring::book

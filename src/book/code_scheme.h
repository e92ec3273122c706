// book/code_scheme.h - date codes: letters and digits beside a mark that stand for a year.
//   A scheme is a pattern with named groups ((?<year>..) or (?P<year>..), RE2 syntax, whole text, case ignored) and
//   tables, a JSON object from group name to what each token means. Groups that make the year:
//     year            token -> a year, a list of years (letters that recur), or an EDTF text such as "1931/1934"
//     decade + digit  token -> first year of the decade; token -> 0..9 (digits stand for themselves)
//   Without a table, four digits are a year (or the decade's first year) and fewer digits the ending of one: 34 is
//   1834, 1934 ..., and 4 is every year that ends in 4.
//   Other groups (month, plant, shift) only have to be in their table when they have one. A month that means 1 to
//   12 or is named in English, and digits in a group `day`, make the date more exact. tables may hold one key that
//   is no group, "exceptions": a list of {"when": {group: token or [lowest, highest]}, "means": {group: meaning},
//   "note": text}. Where every condition holds (an illegible ? fulfils any) the code may have that other meaning as
//   well; decode() knows them too.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::book {

// One group of a code, in the order in which they stand in it.
struct CodePart {
    std::string group, token, meaning;  // "month", "C", "January"; meaning is empty for what stands for itself
    friend bool operator==(const CodePart&, const CodePart&) = default;
};
// One thing that a code can mean.
struct CodeReading {
    std::vector<CodePart> parts;
    std::vector<int> years;  // ascending, any of which it is; empty: the code says nothing about the year
    std::string date;        // EDTF: "1871-09-12", "1929/1931"; empty when it says nothing about the year
    double weight = 1;       // all readings of a code share 1 equally
    std::string note;        // of an exception
};

// Every reading of a code, plain ones before exceptions, earlier years first. first..last bounds what is written as
// the ending of a year or as an open period; years that the tables name are kept wherever they lie.
// kBadInput as decode(), and for a day that its month does not have.
Expected<std::vector<CodeReading>> readings(const CodeScheme&, std::string_view code, int first, int last);

// The years a code can mean, ascending, within first..last. Empty list: the code says nothing about the year.
// kBadInput when the code does not follow the scheme ("month letter Q is not used in this scheme").
Expected<std::vector<int>> decode(const CodeScheme&, std::string_view code, int first, int last);

// Faults of the scheme itself: a pattern that does not compile, tables that are no JSON object or that give a group
// what it cannot mean. `where` of the fault is the column: "pattern" or "tables".
Expected<void> check(const CodeScheme&);
// Whether a pattern compiles at all, with or without named groups.
Expected<void> check_pattern(const std::string& pattern);

}  // namespace footring::book

// book/columns.h - the columns of a person's own table, matched to the fields that we have.
//   A column is a field's when a mapping says so, when it is called so (case, blanks and punctuation do not count),
//   or when it has another name that can mean this field only. What the person said comes first, then equal names
//   from left to right; a field is filled by one column. errors  every fault of the mapping at once: a column that
//   the table has not, a field that there is not, two columns
//           for one field. `where` is file and line of the headings
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/csv.h"

namespace footring::book {

using Mapping = std::map<std::string, std::string>;  // heading -> field; "" leaves the column out

struct MatchedColumn {
    std::string column;  // as the table names it
    std::string field;   // empty: not taken
};
// A word above a column, in lower case and without blanks and punctuation, and the one field that it can mean.
struct OtherName {
    std::string_view name, field;
};
struct Fields {
    std::string_view of;  // "pieces", for sentences
    std::vector<std::string> names;
    std::span<const OtherName> others;
};
std::vector<MatchedColumn> match_columns(const std::vector<std::string>& headings, const Mapping&, const Fields&,
                                         std::string_view where, std::vector<Problem>& problems);

// Whichever of comma, semicolon, tab and | the first line has most of, outside of quotation marks.
char delimiter_of(std::string_view text);
// The cells of the first line, trimmed; none of an empty text.
std::vector<std::string> headings_of(std::string_view text);

}  // namespace footring::book

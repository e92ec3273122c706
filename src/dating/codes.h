// dating/codes.h - a code beside a mark, read by every scheme that it may follow.
//   in      the id of a code scheme, or what the ids of several begin with ("registration-diamond" stands for
//           registration-diamond-1842 and registration-diamond-1868)
//   out     all readings, likeliest first; weights sum to 1
//   errors  kNotFound: no such scheme; kBadInput: the code follows none of them, with what is wrong,
//           or the mark bears none of them
//   Weights: readings share their scheme equally and schemes that fit share 1. Where marks of the Book bear the
//   scheme, each reading is weighted by how far its years lie within those of such a mark; when no reading does,
//   all stay.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "book/code_scheme.h"

namespace footring::dating {

struct CodeMeaning {
    book::Ref<book::CodeScheme> scheme;
    book::CodeReading reading;                 // its weight is that of the whole answer
    std::vector<book::Ref<book::Mark>> marks;  // that bear the scheme and were struck in such a year
};
struct CodeAnswer {
    std::string code;
    std::vector<CodeMeaning> readings;  // heaviest first, then earliest
    bool outside_marks = false;         // no mark that bears the scheme was struck in any of these years
    std::string years;                  // EDTF of all that have weight; empty: the code says nothing about the year
};

Expected<std::vector<book::Ref<book::CodeScheme>>> schemes_named(const book::Book&, std::string_view name,
                                                                 std::string_view where);
// `mark`: the piece bears this one. `schemes` is not empty.
Expected<CodeAnswer> read_code(const book::Book&, const std::vector<book::Ref<book::CodeScheme>>& schemes,
                               std::string_view code, std::optional<book::Ref<book::Mark>> mark, const Settings&);
nlohmann::ordered_json code_json(const book::Book&, const CodeAnswer&);

}  // namespace footring::dating

// SPDX-License-Identifier: Apache-2.0
#include "base/problem.h"

#include <iterator>

namespace footring {

namespace {
struct CodeRow {
    ProblemCode code;
    std::string_view name;
    int exit, http;
};
constexpr CodeRow kCodes[] = {
    {ProblemCode::kBadInput, "bad-input", 2, 400},    {ProblemCode::kNotFound, "not-found", 3, 404},
    {ProblemCode::kTooLarge, "too-large", 2, 413},    {ProblemCode::kConflict, "conflict", 2, 409},
    {ProblemCode::kUnreadable, "unreadable", 2, 400}, {ProblemCode::kStore, "store", 1, 503},
    {ProblemCode::kNotKnown, "not-known", 2, 401},    {ProblemCode::kNotAllowed, "not-allowed", 2, 403},
    {ProblemCode::kTooMany, "too-many", 2, 429},      {ProblemCode::kOurFault, "our-fault", 1, 500},
};
const CodeRow& row_of(ProblemCode code) {
    for (const CodeRow& row : kCodes)
        if (row.code == code) return row;
    return *std::rbegin(kCodes);
}
std::string without_line_breaks(std::string text) {
    for (char& c : text)
        if (c == '\n' || c == '\r') c = ' ';
    return text;
}
}  // namespace

std::string to_line(const Problem& p) { return without_line_breaks(p.where + ": " + p.what + ": " + p.remedy); }
std::string_view name_of(ProblemCode code) { return row_of(code).name; }
int exit_status(ProblemCode code) { return row_of(code).exit; }
int http_status(ProblemCode code) { return row_of(code).http; }

}  // namespace footring

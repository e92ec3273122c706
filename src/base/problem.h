// base/problem.h - what went wrong, said so that a person can mend it.
//   Every failure of the program, on a terminal, over HTTP or in a test, is a Problem and prints as
//   `where: what: remedy`. Codes are chosen by what the caller can do next, not by taxonomy.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace footring {

enum class ProblemCode {
    kBadInput,    // the person mends the input; exit 2, HTTP 400
    kNotFound,    // the named thing is not there; exit 3, HTTP 404
    kTooLarge,    // the input is over a limit; exit 2, HTTP 413
    kConflict,    // somebody changed it in between: read again; exit 2, HTTP 409
    kUnreadable,  // a file exists and cannot be read or understood; exit 2, HTTP 400
    kStore,       // the disk or the database refused; exit 1, HTTP 503
    kOurFault,    // a mistake of ours; exit 1, HTTP 500
    kNotKnown,    // the person signs in first; exit 2, HTTP 401
    kNotAllowed,  // this person may not: a keeper can change that; exit 2, HTTP 403
    kTooMany      // the person waits and tries again; exit 2, HTTP 429
};

struct Problem {
    ProblemCode code = ProblemCode::kOurFault;
    std::string where;   // file:line:column, an option, a field
    std::string what;    // one sentence
    std::string remedy;  // what to do about it
    friend bool operator==(const Problem&, const Problem&) = default;
};

template <class T>
using Expected = std::expected<T, Problem>;

// `return fail(ProblemCode::kNotFound, "pack", "There is no folder x.", "Check the path.");`
inline std::unexpected<Problem> fail(ProblemCode code, std::string where, std::string what, std::string remedy) {
    return std::unexpected(Problem{code, std::move(where), std::move(what), std::move(remedy)});
}

std::string to_line(const Problem&);    // "where: what: remedy", no line break
std::string_view name_of(ProblemCode);  // "bad-input", ... : the `code` of JSON answers
int exit_status(ProblemCode);           // 1, 2 or 3
int http_status(ProblemCode);           // 400 ... 503

}  // namespace footring

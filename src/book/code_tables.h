// book/code_tables.h - a code scheme, compiled: its pattern and what its tokens mean. Private to code_*.cpp.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <re2/re2.h>

#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::book {

inline constexpr std::size_t kLongestCode = 200;

struct CodeMeaning {
    std::string token;  // as written in the tables
    nlohmann::json value;
};
struct CodeTables {
    std::map<std::string, std::map<std::string, CodeMeaning>> groups;  // by group, then by token in lower case
    std::vector<nlohmann::json> exceptions;                            // each as docs/packs.md writes it
};
struct CompiledScheme {
    std::unique_ptr<RE2> pattern;
    std::map<std::string, int> groups;  // name -> number in the pattern
    CodeTables tables;
};
// Errors as check() in book/code_scheme.h.
Expected<CompiledScheme> compile(const CodeScheme&);

}  // namespace footring::book

// book/pack_text.h - packs from memory, by the very reader that reads them from disk: for tests, fuzzing and
// editors.
//   in      a name, and per table name ("shapes") its CSV text; other files (drawings, a datapackage.json) by path
//   errors  as read_packs(); files are named NAME/TABLE.csv
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <map>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::book {

struct PackText {
    std::string name;
    std::map<std::string, std::string> tables;
    std::map<std::string, std::string> files{};
};
std::expected<Book, std::vector<Problem>> read_pack_texts(const std::vector<PackText>&);

// For tests, where a fault in the tables is a mistake of the test: throws std::logic_error with every fault.
Book book_from_tables(const std::map<std::string, std::string>& tables);

}  // namespace footring::book

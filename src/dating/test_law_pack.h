// dating/test_law_pack.h - the law-and-marks pack and the tables of tests/facts, for the tests of this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "book/csv.h"
#include "book/pack.h"

namespace footring::dating {

inline const book::Book& law_pack() {
    static const book::Book book = [] {
        auto read = book::read_packs({std::string(FOOTRING_ROOT) + "/packs/law-and-marks"});
        if (!read) throw std::logic_error(to_line(read.error().front()));
        return std::move(*read);
    }();
    return book;
}

using FactRow = std::map<std::string, std::string>;
inline std::vector<FactRow> facts(const std::string& name) {
    std::ifstream in(std::string(FOOTRING_ROOT) + "/tests/facts/" + name, std::ios::binary);
    std::ostringstream bytes;
    bytes << in.rdbuf();
    const std::string text = bytes.str();
    const book::Csv csv = book::read_csv(text);
    std::vector<FactRow> out;
    for (std::size_t row = 1; row < csv.rows.size(); ++row) {
        FactRow& one = out.emplace_back();
        for (std::size_t at = 0; at < csv.rows[row].cells.size(); ++at)
            one[std::string(csv.rows.front().cells[at].text)] = std::string(csv.rows[row].cells[at].text);
    }
    if (out.empty()) throw std::logic_error("tests/facts/" + name + " has no rows");
    return out;
}

}  // namespace footring::dating

// SPDX-License-Identifier: Apache-2.0
// Reads dates from standard input, one a line, and prints for each a line of JSON:
//   {"valid": true, "level": 0, "earliest": "1985-04-12", "latest": null, "print": "1985-04-12"}
//   {"valid": false, "problem": "date '1985-13': ..."}
// A text that does not survive print() and parse() is our own fault and ends the program with 1.
#include <fmt/format.h>

#include <cstdlib>
#include <iostream>
#include <nlohmann/json.hpp>
#include <string>

#include "edtf/edtf.h"

namespace {

nlohmann::json json_of(const std::optional<footring::edtf::Day>& day) {
    if (!day) return nullptr;
    return fmt::format("{}-{:02}-{:02}", day->year, day->month, day->day);
}

}  // namespace

int main() {
    for (std::string line; std::getline(std::cin, line);) {
        const auto read = footring::edtf::parse(line);
        nlohmann::json out{{"valid", read.has_value()}};
        if (read) {
            const std::string printed = print(*read);
            const auto again = footring::edtf::parse(printed);
            if (!again || *again != *read || print(*again) != printed) {
                std::cerr << line << ": prints as " << printed << ", which does not read the same\n";
                return EXIT_FAILURE;
            }
            out["level"] = read->level();
            out["earliest"] = json_of(read->earliest());
            out["latest"] = json_of(read->latest());
            out["print"] = printed;
        } else {
            out["problem"] = to_line(read.error());
        }
        std::cout << out.dump() << '\n';
    }
    return EXIT_SUCCESS;
}

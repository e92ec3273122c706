// exchange/mappings.h - how the columns of a table were understood the last time: the body of a Record "mapping",
//   {"of": "pieces", "headings": ["No.", "Line"], "mapping": {"No.": "number", "Line": "shape"}}
//   A field "" leaves a column out. A table with the same headings, in whatever order, is the same list come again.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "book/columns.h"
#include "store/store.h"

namespace footring::exchange {

struct KeptMapping {
    std::string of;                     // pieces, sales or treatments
    std::vector<std::string> headings;  // sorted
    book::Mapping mapping;
    friend bool operator==(const KeptMapping&, const KeptMapping&) = default;
};
std::expected<KeptMapping, std::vector<Problem>> mapping_from_json(const nlohmann::json&, const std::string& where);

// Absent: no table with these headings came before.
Expected<std::optional<book::Mapping>> remembered(const store::Store&, std::string_view of,
                                                  const std::vector<std::string>& headings);
// Keeps what became of each column. Nothing is stored when it is known so already.
Expected<void> remember(store::Store&, std::string_view of, const std::vector<book::MatchedColumn>&);

}  // namespace footring::exchange

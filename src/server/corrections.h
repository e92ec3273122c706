// server/corrections.h - what a person mends of the reading of one photograph, kept with the photograph.
//   {"repeats": 9, "words": "MADE IN AMBREL", "accepted": [{"field": "looks", "place": "rim", "value":
//   "fern-pair"}],
//    "refused": [...]}; absent members: nothing. `place` is empty but for looks.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <compare>
#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "server/request.h"

namespace footring::server {

// One suggestion, by what it says.
struct Named {
    std::string field, place, value;
    friend auto operator<=>(const Named&, const Named&) = default;
};
struct Corrections {
    std::optional<int> repeats;        // counted by hand
    std::optional<std::string> words;  // the wording of the mark as a person reads it
    std::set<Named> accepted, refused;
    friend bool operator==(const Corrections&, const Corrections&) = default;
};
std::expected<Corrections, Problems> corrections_from_json(const nlohmann::json&, std::string_view where);
Corrections corrections_of(const nlohmann::json& stored);  // as to_json wrote them; null: none
nlohmann::json to_json(const Corrections&);                // null when there are none

// For the history: "front.jpg: accepted rim fern-pair, refused glaze oat." Empty: nothing was changed.
std::string in_words(const Corrections& before, const Corrections& after, std::string_view photo);

}  // namespace footring::server

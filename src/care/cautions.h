// care/cautions.h - what to be careful with, from what was seen of a piece and what it may be.
//   Worded as cautions: none of them is a verdict on a piece, and the absence of one is no promise.
//   in      the looks of a piece, and its candidates with their odds (may be empty)
//   out     cautions in a fixed order, each with why it is given
//   No I/O.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "book/book.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::care {

struct Caution {
    std::string id;  // metal-trim, uranium-glaze, worn-decoration, early-ware, crazing, dishwasher, stacking
    std::string title, text;                       // in two words; what to do or not to do
    std::vector<std::string> because;              // "rim: fern-pair (gold) was seen"
    double chance = 1;                             // that the reason holds: 1 when it was seen
    std::vector<book::Ref<book::Source>> sources;  // of the rows of the Book that the reason leans on
    friend bool operator==(const Caution&, const Caution&) = default;
};
// Candidates below this share of the odds are not heard.
inline constexpr double kLeastChance = 0.05;

// `year`: the median of its date, when there is one.
std::vector<Caution> cautions(const book::Book&, const looks::Findings&, std::span<const naming::Candidate>,
                              std::optional<int> year);
std::vector<Caution> cautions(const book::Book&, const looks::Findings&, const naming::Answer&);
nlohmann::ordered_json cautions_json(const book::Book&, const std::vector<Caution>&);
// The sentence that has to stand with any list of cautions.
inline constexpr std::string_view kDefers =
    "These are cautions from what was seen, and no test. Whether a piece may be used for food is for an accredited "
    "laboratory and the rules of your place to say.";

}  // namespace footring::care

// services/composition.h - what a service is made of: so many forms for each person, and serving pieces for all.
//   The file format is docs/services.md#compositions. Forms are words here: ids of packs, names of forms, or
//   "aat:300195535"; services/plan.h looks them up in the Book.
//   limits  1000 settings, 100 lines, 1000 of a line, 20 forms in a line, 20,000 places in all
//   source  the supplied compositions are the trade's common practice; no published source is claimed
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"

namespace footring::services {

inline constexpr int kMostSettings = 1000, kMostOfLine = 1000, kMostPlaces = 20000;

// One kind of place on the table.
struct Line {
    std::string name;                // as people call it; empty: the name of its first form
    std::vector<std::string> forms;  // any of them will do
    int count = 1;                   // for each person, or of the whole service
    std::string trade_size;          // empty: any, but one and the same
    friend bool operator==(const Line&, const Line&) = default;
};
struct Composition {
    std::string id, name, note;
    int settings = 1;           // for how many persons; 0: serving pieces only
    std::vector<Line> setting;  // for each person
    std::vector<Line> serving;  // for all together
    bool supplied = false;      // comes with the program
    friend bool operator==(const Composition&, const Composition&) = default;
};

// Every fault at once. `needs_id` false: a composition inside a service may go without.
std::expected<Composition, std::vector<Problem>> composition_from_json(const nlohmann::json&, std::string where,
                                                                       bool needs_id = true);
nlohmann::ordered_json to_json(const Composition&);

int places_of(const Composition&, int settings);  // how many pieces it takes

// The common ones, in the order in which they are offered.
const std::vector<Composition>& supplied_compositions();

}  // namespace footring::services

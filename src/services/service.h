// services/service.h - a service being built, as a person writes it: which treatment, what it consists of, what may
//   serve, and what was fixed by hand. The file format is docs/services.md#service-files.
//   Everything here is words; services/plan.h looks them up in the Book.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "looks/piece.h"
#include "services/composition.h"

namespace footring::services {

enum class Grades : std::uint8_t { kMixed, kFirst, kSecond };
inline constexpr std::array<std::string_view, 3> kGradesNames = {"mixed", "first", "second"};

struct Service {
    std::string id, name, note;
    std::vector<std::string> treatments;  // ids; a piece of any of them will do
    std::string composition;              // id of a composition; empty: `own`
    std::optional<Composition> own;       // written into the service itself
    std::optional<int> settings;          // other than the composition says
    Grades grades = Grades::kMixed;
    std::optional<looks::Wear> worst_wear;      // absent: any
    std::optional<looks::Faults> worst_faults;  // absent: any
    std::optional<double> least_odds;           // absent: the setting service_least_odds
    double weight = 1;                          // how much one of its settings counts beside those of others
    std::optional<double> setting_value;        // of a complete setting, for the objective value
    std::vector<std::string> insist, refuse;    // ids of pieces that must, or must not, be in it
    friend bool operator==(const Service&, const Service&) = default;
};

std::expected<Service, std::vector<Problem>> service_from_json(const nlohmann::json&, std::string where);
nlohmann::ordered_json to_json(const Service&);

// A file: one service, a list of services, or {"compositions": [...], "services": [...]}.
struct Given {
    std::vector<Composition> compositions;
    std::vector<Service> services;
};
std::expected<Given, std::vector<Problem>> given_from_json(const nlohmann::json&, const std::string& where);
std::expected<Given, std::vector<Problem>> given_from_text(std::string_view text, const std::string& where);

}  // namespace footring::services

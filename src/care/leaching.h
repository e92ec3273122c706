// care/leaching.h - what a laboratory measured on a sample of units, beside each published limit.
//   in      of each unit what leached, per volume or per area; the vessel's depth, volume and use
//   out     of each limit that fits the vessel: pass, fail, or cannot tell, with the rule and the figures that
//   decide A verdict says that a rule is met or not met, and nothing about a cup of coffee: only an accredited
//   laboratory and the rules of the place can. Under the limit is not the word of this program for harmless.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "care/limits.h"

namespace footring::care {

enum class Use { kTable, kCup, kPitcher, kStorage, kCooking };
std::optional<Use> use_named(std::string_view);  // table, cup, pitcher, storage, cooking
inline constexpr double kMostDepthMm = 2000, kMostVolumeMl = 100'000;
struct Vessel {
    std::optional<double> depth_mm;   // inside, from the lowest point to the plane of the rim
    std::optional<double> volume_ml;  // to the brim
    Use use = Use::kTable;
};

struct Amount {  // what leached from a unit; "<0.02" is 0..0.02
    double least = 0, most = 0;
    friend bool operator==(const Amount&, const Amount&) = default;
};
struct UnitResult {
    std::string unit;
    std::optional<Amount> amount[2][2];  // [Substance][Measure]: mg/L, mg/dm2; absent: not measured
};
// RESULTS.csv: the column `unit` and any of lead_mg_per_l, cadmium_mg_per_l, lead_mg_per_dm2, cadmium_mg_per_dm2
// (lead_ug_per_ml and cadmium_ug_per_ml are the same as per litre). A blank cell was not measured, <0.02 was below
// what the laboratory can measure. Every fault at once, as file:line:column.
std::expected<std::vector<UnitResult>, std::vector<Problem>> read_results(std::string_view csv,
                                                                          std::string_view file);

// The same from JSON: an array of {"unit": "A", "lead_mg_per_l": 1.2, "cadmium_mg_per_l": "<0.02"}; null was not
// measured. Every fault at once, as `where/0/lead_mg_per_l`.
std::expected<std::vector<UnitResult>, std::vector<Problem>> results_from_json(const nlohmann::json&,
                                                                               std::string_view where);

enum class Verdict { kPass, kFail, kCannotTell };
std::string_view name_of(Verdict);  // pass, fail, cannot tell
struct LimitVerdict {
    const Limit* limit;
    Verdict verdict;
    std::string because;  // a sentence with the figures
};
struct LeachReport {
    std::vector<std::string> categories;  // "US FDA: flatware", one an authority
    std::vector<LimitVerdict> verdicts;   // in the order of all_limits()
    std::size_t units = 0;
    std::vector<std::string> notes;  // what has to be said with any verdict
};
LeachReport compare(const Vessel&, const std::vector<UnitResult>&);
nlohmann::ordered_json leach_json(const LeachReport&);
// What results are compared with: {regimes: [{authority, document, limits}], categories: [{id, name}], units,
// note}.
nlohmann::ordered_json regimes_json();

}  // namespace footring::care

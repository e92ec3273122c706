// care/limits.h - the published limits for lead and cadmium that leach from ceramic ware, each with its own rule.
//   Limits per volume (mg/L, the same number as ug/mL and ppm) and per area (mg/dm2) are never turned into each
//   other: that would need the surface and the filling of the very unit that was tested. source
//   docs/care.md#limits; tests/facts/leach_limits.csv holds the same rows, and care_test compares them
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace footring::care {

enum class Substance { kLead, kCadmium };
enum class Measure { kPerVolume, kPerArea, kPerDay };  // mg/L, mg/dm2, ug/day
enum class Category {
    kFlat,         // internal depth not over 25 mm
    kSmallHollow,  // deeper, under 1.1 l
    kLargeHollow,  // deeper, 1.1 l or more
    kCup,          // cups and mugs
    kPitcher,
    kStorage,  // 3 l or more
    kCooking,
    kHollow,    // any hollow ware
    kEuFlat,    // European category 1
    kEuHollow,  // category 2
    kEuLarge,   // category 3: cooking ware, packaging and storage vessels over 3 l
    kAny
};
enum class Sampling {
    kAverageOfSix,   // the average of six units is compared
    kAnyOfSix,       // any one of six units over the limit is over
    kEachWithThree,  // each article; over by up to half passes when three others average within and none is over by
                     // half
    kNotGiven        // no rule in the sources: each unit is compared
};

struct Limit {
    std::string_view authority, document;
    Substance substance;
    Category category;
    std::string_view category_words;  // as the document names it
    double limit;                     // in the unit of `measure`
    Measure measure;
    Sampling sampling;
    bool value_verified, sampling_verified;
    bool in_force;          // false: an earlier level, for comparison
    std::string_view note;  // empty: none
};
std::span<const Limit> all_limits();

inline constexpr double kFlatDepthMm = 25, kLargeMl = 1100, kStorageMl = 3000;

std::string_view name_of(Substance);
std::string_view unit_of(Measure);
std::string_view rule_of(Sampling);  // in a sentence

}  // namespace footring::care

// SPDX-License-Identifier: Apache-2.0
#include "care/limits.h"

#include <array>

namespace footring::care {

namespace {

using enum Substance;
using enum Measure;
using enum Category;
using enum Sampling;

constexpr std::string_view kFda = "US FDA", kEu = "European Union", kIso = "ISO", kCalifornia = "California";
constexpr std::string_view kCadmiumGuide = "CPG Sec. 545.400 (CPG 7117.06)";
constexpr std::string_view kLeadGuide = "CPG Sec. 545.450 (CPG 7117.07), levels of 1991-92";
constexpr std::string_view kDirective = "Directive 84/500/EEC Art. 2(4)";
constexpr std::string_view kIso6486 = "ISO 6486-2:1999";
constexpr std::string_view kJudgment =
    "Proposition 65 consent judgment, San Francisco Superior Court No. 938430 (January 1993)";
constexpr std::string_view kHarbour = "Proposition 65 safe harbour";
constexpr std::string_view kCodes =
    "value verified from two state food codes that adopt FDA Food Code 4-101.13 and (flatware; cups and mugs) the "
    "FDA "
    "release of November 1991";
constexpr std::string_view kTitleOnly = "only title and scope of the standard could be checked";
constexpr std::string_view kWarning = "warning threshold, not a ban";
constexpr std::string_view kCategory1 = "category 1: cannot be filled, or internal depth not over 25 mm";
constexpr std::string_view kCategory2 = "category 2: all other articles that can be filled";
constexpr std::string_view kCategory3 = "category 3: cooking ware; packaging and storage vessels over 3 L";

constexpr std::array<Limit, 34> kLimits = {{
    {kFda, kCadmiumGuide, kCadmium, kFlat, "flatware", 0.5, kPerVolume, kAverageOfSix, true, true, true, ""},
    {kFda, kCadmiumGuide, kCadmium, kSmallHollow, "small hollowware", 0.5, kPerVolume, kAnyOfSix, true, true, true,
     ""},
    {kFda, kCadmiumGuide, kCadmium, kLargeHollow, "large hollowware", 0.25, kPerVolume, kAnyOfSix, true, true, true,
     ""},
    {kFda, kLeadGuide, kLead, kFlat, "flatware", 3, kPerVolume, kAverageOfSix, true, false, true, kCodes},
    {kFda, kLeadGuide, kLead, kSmallHollow, "small hollowware other than cups and mugs", 2, kPerVolume, kAnyOfSix,
     true, false, true, kCodes},
    {kFda, kLeadGuide, kLead, kLargeHollow, "large hollowware other than pitchers", 1, kPerVolume, kAnyOfSix, true,
     false, true, kCodes},
    {kFda, kLeadGuide, kLead, kCup, "cups and mugs", 0.5, kPerVolume, kAnyOfSix, true, false, true, kCodes},
    {kFda, kLeadGuide, kLead, kPitcher, "pitchers", 0.5, kPerVolume, kAnyOfSix, true, false, true, kCodes},
    {kFda, "earlier level, in force before November 1991", kLead, kFlat, "flatware", 7, kPerVolume, kAverageOfSix,
     true, false, false, "the 1991 release names 7 as the former flatware level"},
    {kFda, "earlier level of 1979", kLead, kSmallHollow, "small hollowware", 5, kPerVolume, kAnyOfSix, false, false,
     false, ""},
    {kFda, "earlier level of 1979", kLead, kLargeHollow, "large hollowware", 2.5, kPerVolume, kAnyOfSix, false,
     false, false, ""},
    {kFda, "first level of 1971", kLead, kAny, "all", 7, kPerVolume, kNotGiven, false, false, false,
     "a county code of October 1972 uses lead 7 ppm and cadmium 0.5 ppm (verified)"},
    {kEu, kDirective, kLead, kEuFlat, kCategory1, 0.8, kPerArea, kEachWithThree, true, true, true, ""},
    {kEu, kDirective, kCadmium, kEuFlat, kCategory1, 0.07, kPerArea, kEachWithThree, true, true, true, ""},
    {kEu, kDirective, kLead, kEuHollow, kCategory2, 4, kPerVolume, kEachWithThree, true, true, true, ""},
    {kEu, kDirective, kCadmium, kEuHollow, kCategory2, 0.3, kPerVolume, kEachWithThree, true, true, true, ""},
    {kEu, kDirective, kLead, kEuLarge, kCategory3, 1.5, kPerVolume, kEachWithThree, true, true, true, ""},
    {kEu, kDirective, kCadmium, kEuLarge, kCategory3, 0.1, kPerVolume, kEachWithThree, true, true, true, ""},
    {kIso, kIso6486, kLead, kFlat, "flatware", 0.8, kPerArea, kNotGiven, false, false, true, kTitleOnly},
    {kIso, kIso6486, kCadmium, kFlat, "flatware", 0.07, kPerArea, kNotGiven, false, false, true, kTitleOnly},
    {kIso, kIso6486, kLead, kSmallHollow, "small hollowware", 2, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kCadmium, kSmallHollow, "small hollowware", 0.5, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kLead, kLargeHollow, "large hollowware", 1, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kCadmium, kLargeHollow, "large hollowware", 0.25, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kLead, kStorage, "storage hollowware", 0.5, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kCadmium, kStorage, "storage hollowware", 0.25, kPerVolume, kNotGiven, false, false, true,
     kTitleOnly},
    {kIso, kIso6486, kLead, kCup, "cups and mugs", 0.5, kPerVolume, kNotGiven, false, false, true, kTitleOnly},
    {kIso, kIso6486, kCadmium, kCup, "cups and mugs", 0.25, kPerVolume, kNotGiven, false, false, true, kTitleOnly},
    {kIso, kIso6486, kLead, kCooking, "cookware", 0.5, kPerVolume, kNotGiven, false, false, true, kTitleOnly},
    {kIso, kIso6486, kCadmium, kCooking, "cookware", 0.05, kPerVolume, kNotGiven, false, false, true, kTitleOnly},
    {kCalifornia, kJudgment, kLead, kFlat, "flatware", 0.226, kPerVolume, kNotGiven, true, false, true, kWarning},
    {kCalifornia, kJudgment, kLead, kHollow, "all other tableware (hollowware)", 0.1, kPerVolume, kNotGiven, true,
     false, true, kWarning},
    {kCalifornia, kHarbour, kLead, kAny, "intake", 0.5, kPerDay, kNotGiven, true, false, true,
     "maximum allowable dose level"},
    {kCalifornia, kHarbour, kCadmium, kAny, "intake", 4.1, kPerDay, kNotGiven, true, false, true,
     "no leach limit for cadmium was set in 1993"},
}};

}  // namespace

std::span<const Limit> all_limits() { return kLimits; }

std::string_view name_of(Substance s) { return s == kLead ? "lead" : "cadmium"; }
std::string_view unit_of(Measure m) { return m == kPerVolume ? "mg/L" : m == kPerArea ? "mg/dm2" : "ug/day"; }
std::string_view rule_of(Sampling s) {
    switch (s) {
        case kAverageOfSix:
            return "the average of six units";
        case kAnyOfSix:
            return "any one of six units";
        case kEachWithThree:
            return "each article; over by up to half still passes when at least three others average within the "
                   "limit "
                   "and none of them is over it by more than half";
        case kNotGiven:
            return "no sampling rule is in the sources, so each unit is compared";
    }
    return "";
}

}  // namespace footring::care

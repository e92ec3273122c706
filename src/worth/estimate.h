// worth/estimate.h - what a piece, or a thing that is only described, may bring: with its interval, the sales that
// it is compared with, and the parts of the price.
//   A piece that is not surely named is a mixture over what it may be; its interval then holds that doubt as well.
//   Nothing here is a valuation: every page that shows an estimate shows kDefers.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "looks/resolve.h"
#include "naming/answer.h"
#include "worth/prices.h"

namespace footring::worth {

inline constexpr std::string_view kDefers =
    "An estimate from recorded sales, not a valuation: for insurance, tax, probate, or a sale that matters, ask a "
    "qualified appraiser.";

// How and in what state a thing is sold, as far as it is said.
struct Manner {
    Condition condition = Condition::kUnsaid;
    std::string grade;
    Market market = Market::kUnsaid;  // not said: where most sales were
    std::optional<double> size_mm;
};
// One thing that the piece may be.
struct Identity {
    double probability = 1;
    std::optional<book::Ref<book::Treatment>> treatment;
    std::string words;  // "117 Fern, first", "a treatment that no pack lists"
    Thing thing;
};
struct Described {
    std::optional<book::Ref<book::Form>> form;
    std::optional<book::Ref<book::Treatment>> treatment;
    std::optional<book::Ref<book::Shape>> shape;  // when the treatment is not known
};
std::vector<Identity> identities_of(const Things&, const Described&, const Manner&);
// From what naming says of a piece: each candidate in its grades, and the open hypotheses. At most 60; what is left
// out is less than a hundredth. Where `manner` names a grade or condition it counts; else that of the answer and
// the wear.
std::vector<Identity> identities_of(const Things&, const looks::Piece&, const looks::Findings&,
                                    const naming::Answer&, const Manner&);

struct Comparable {
    std::size_t sale;                  // index into Prices::sales()
    double alike;                      // Prices::alike()
    double adjusted;                   // its price carried over to this thing and date
    std::vector<std::string> because;  // "same treatment", "same form" ...
};
struct Estimate {
    Interval worth;
    double mean = 0;                   // of sound sales
    std::vector<Identity> identities;  // most probable first
    std::vector<double> medians;       // by identity
    double base = 0;
    std::vector<Part> parts;              // of the most probable identity, strongest first
    std::vector<Comparable> comparables;  // of the same, most alike first, then newest
    std::vector<std::string> notes;
};
Estimate estimate(const Prices&, const Things&, std::vector<Identity>, double year,
                  std::size_t most_comparables = 8);

// The price of one described thing as a pure function, for whoever plans what to buy: median and 90 % interval. Of
// a form that no sale is of, it is that of sales as a whole, and as wide as forms differ.
struct Price {
    double median, low, high;
};
Price price_of(const Prices&, const Things&, std::optional<book::Ref<book::Treatment>>, book::Ref<book::Form>,
               std::string_view grade, double year);

// The records that look mistaken: more likely so than not. The least sound first.
struct Mistaken {
    std::size_t sale;   // index into Prices::sales()
    Interval expected;  // what such a sale would bring
};
std::vector<Mistaken> mistaken(const Prices&, const Things&);

std::string money(double amount);  // "4.5", "38", "235", "1,450": as sharp as it is meant
std::string in_words(const Interval&, const std::string& currency);  // two sentences
std::string level_words(const Things&, const Part&);                 // "Tureen", "condition not said"

}  // namespace footring::worth

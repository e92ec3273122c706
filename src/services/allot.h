// services/allot.h - the pieces that one has, laid out over the services that one is building. No I/O.
//   A mixed-integer program (docs/services.md#the-program): each piece stands at one place at most; a setting is
//   complete when each of its lines is filled; what is insisted on is kept. Pieces that may stand at the same
//   places in the same state and condition are one variable, a count. Deterministic: the same input gives the same
//   bytes, unless time runs out or somebody stops it, which is said.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <expected>
#include <optional>
#include <string>
#include <vector>

#include "services/fit.h"
#include "services/prices.h"
#include "services/program.h"

namespace footring::services {

enum class Objective : std::uint8_t {
    kSettings,  // most complete settings
    kServices,  // most services without a gap, then most complete settings
    kValue,     // complete settings and filled serving places worth most
    kPurchase   // with what may be bought within the budget: most complete settings, then most serving places, then
                // the fewest pieces bought, then the least money
};
inline constexpr std::array<std::string_view, 4> kObjectiveNames = {"settings", "services", "value", "purchase"};

struct AllotOptions {
    Objective objective = Objective::kSettings;
    std::optional<double> budget;  // of a purchase; absent: no limit
    Prices prices;
    Limits limits;
    // Complete settings that each service must keep (empty: none), and a piece that must stand in a service.
    std::vector<int> keep_settings;
    std::optional<std::pair<std::size_t, std::uint32_t>> place_piece;  // piece, service
};

struct PlaceTaken {
    std::uint32_t line = 0;
    int setting = 0;  // 1-based; 0: a serving place
    int nth = 0;      // among the places of the line in that setting, from 0
    std::optional<std::size_t> piece;
    State state = State::kFilled;
    double odds = 0;
    bool insisted = false;
    bool bought = false;  // to be bought (purchase): then there is no piece
};
// What one more piece would cost at a line: the cheapest treatment of one form and trade size.
struct Offer {
    book::Ref<book::Form> form;
    book::Ref<book::Treatment> treatment;
    Cost cost;               // of one
    std::uint32_t size = 0;  // index into Fitting::sizes_at() of the line
};
struct Bought {
    std::uint32_t service = 0, line = 0;
    Offer offer;
    int count = 0;
};
struct ServiceTable {
    int complete = 0, settings = 0;
    int filled = 0, places = 0;     // with what is bought
    bool whole = false;             // no place is empty
    std::vector<PlaceTaken> taken;  // every place: by setting, then serving; by line
};
struct Allotment {
    Objective objective = Objective::kSettings;
    std::vector<ServiceTable> services;  // as in the plan
    std::vector<Reached> goals;
    std::vector<Bought> bought;
    double spent = 0;
    std::vector<std::string> notes;
    // How large it was.
    std::size_t pieces = 0, candidates = 0, classes = 0, columns = 0, rows = 0;

    int complete() const;
    int whole() const;
    bool proved() const;  // every goal is the best that can be
};

// `fitting.problems()` are returned as they are. kBadInput for a budget that is negative or not a number.
std::expected<Allotment, std::vector<Problem>> allot(const Fitting&, const AllotOptions&);

// The program itself, for those who want to solve it elsewhere.
Program program_of(const Fitting&, const AllotOptions&);

// One for each form and trade size that can be bought for the line; in the order of Fitting::sizes_at().
std::vector<Offer> offers(const Fitting&, const Prices&, std::uint32_t service, std::uint32_t line);
// The cheapest of them; absent: it was never made.
std::optional<Offer> offer(const Fitting&, const Prices&, std::uint32_t service, std::uint32_t line);
// The one that agrees with the form and trade size of what stands at the line, or the cheapest where nothing
// stands.
std::optional<Offer> agreeing_offer(const Fitting&, const Allotment&, const Prices&, std::uint32_t service,
                                    std::uint32_t line);

// "All 12 settings; it is the best that can be." - what the goals reached, in a sentence each.
std::vector<std::string> goal_sentences(const Allotment&);

}  // namespace footring::services

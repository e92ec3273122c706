// worth/sale.h - one sale as it was recorded: what was paid for one piece, when, where, and in what state.
//   date       EDTF: a day, month or year, or a period of at most 5 years; not in the future
//   price      paid for the one piece, all charges included as the buyer bore them; over 0, and at most a million
//   (1e10
//              in currencies of small units): more is taken for a slip
//   currency   ISO 4217
//   form       id of the Book; every sale has one
//   treatment  "pack:id"; empty: not identified, then `shape` may say what is known
//   condition  see kConditions; wear of the surface, or damage
//   errors     every fault at once, as `where: what: remedy`
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <expected>
#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "looks/piece.h"

namespace footring::worth {

enum class Condition : std::uint8_t { kUnsaid, kMint, kGood, kFair, kPoor, kDamaged };
enum class Market : std::uint8_t { kUnsaid, kAuction, kDealer, kFair, kOnline, kPrivate };
struct Word {
    std::string_view name, words;
};
inline constexpr std::array<Word, 6> kConditions = {{{"", "condition not said"},
                                                     {"mint", "no wear to be seen"},
                                                     {"good", "light wear"},
                                                     {"fair", "moderate wear"},
                                                     {"poor", "heavy wear, or stained or crazed throughout"},
                                                     {"damaged", "chipped, cracked or repaired"}}};
inline constexpr std::array<Word, 6> kMarkets = {{{"", "market not said"},
                                                  {"auction", "at auction"},
                                                  {"dealer", "from a dealer or shop"},
                                                  {"fair", "at a fair or flea market"},
                                                  {"online", "online"},
                                                  {"private", "privately"}}};
inline constexpr std::array<std::string_view, 3> kSaleGrades = {"", "first", "second"};
inline std::string_view name_of(Condition c) { return kConditions[static_cast<std::size_t>(c)].name; }
inline std::string_view name_of(Market m) { return kMarkets[static_cast<std::size_t>(m)].name; }
// Also common words: "chip" is damaged, "excellent" is mint, "shop" is dealer. Absent: none of them.
std::optional<Condition> condition_named(std::string_view);
std::optional<Market> market_named(std::string_view);
std::optional<std::string> grade_named(std::string_view);  // "", "first" or "second"
Condition condition_of(const std::optional<looks::Wear>&);
Market market_of_venue(std::string_view venue);  // by its words: "Auction, Ambrel Bridge"; kUnsaid when none tells

struct Sale {
    std::string id, date;
    double price = 0;
    std::string currency, form, treatment, shape;
    std::optional<double> size_mm;  // longest measure
    Condition condition = Condition::kUnsaid;
    std::string grade;  // first, second or empty
    std::string venue;
    Market market = Market::kUnsaid;
    std::string source, note;
    friend bool operator==(const Sale&, const Sale&) = default;
};

// "2019-05-12" -> 2019.36: the middle of the date in years. kBadInput when it is no date of a sale.
// `today` is "2026-03-01" or longer; `where` names the field.
Expected<double> year_of_sale(std::string_view date, std::string_view today, std::string_view where);

// Readers of one cell or member; `where` names it.
Expected<double> read_price(std::string_view text, std::string_view where);          // "12.50"
Expected<double> read_size_mm(std::string_view text, std::string_view where);        // "241", "24.1 cm", "9 1/2 in"
Expected<std::string> read_currency(std::string_view text, std::string_view where);  // "usd" -> "USD"

// What is wrong with a sale, by itself and in sum, but for ids of the Book. `where(field)` says where a field
// stands.
std::vector<Problem> faults_of(const Sale&, std::string_view today,
                               const std::function<std::string(std::string_view field)>& where);

std::expected<Sale, std::vector<Problem>> sale_from_json(const nlohmann::json&, std::string_view today,
                                                         std::string_view where);
nlohmann::ordered_json sale_json(const Sale&);  // every member, empty ones too; size_mm left out when absent

// Whether two records may be of one sale. kSame: they agree in everything but the id. kMaybe: in date, price,
// currency, form, treatment and shape, but not in all the rest, as when two lists tell of one sale.
enum class Likeness : std::uint8_t { kDifferent, kMaybe, kSame };
Likeness likeness(const Sale&, const Sale&);

}  // namespace footring::worth

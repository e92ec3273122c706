// worth/worth_json.h - answers about worth as JSON: what `footring worth --json` prints and the pages read.
//   docs/worth.md shows each object. Prices are rounded to the cent; nothing is shown without its interval.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "worth/haul.h"

namespace footring::worth {

double to_cents(double amount);
nlohmann::ordered_json interval_json(const Interval&);
// The sale with the names of what it refers to: date_words, form_name, shape_name, treatment_number,
// treatment_name.
nlohmann::ordered_json sale_row_json(const Sale&, const Things&);
nlohmann::ordered_json identities_json(const std::vector<Identity>&, const std::vector<double>& medians,
                                       const Things&);
struct LeftOut {
    std::string why;  // "in EUR"
    int count = 0;
};
// What an answer rests on: {sales, first, last, left_out}.
nlohmann::ordered_json based_on_json(const Prices&, const std::vector<LeftOut>&);
nlohmann::ordered_json estimate_json(const Estimate&, const Prices&, const Things&, const std::vector<LeftOut>&,
                                     std::string_view date);
nlohmann::ordered_json haul_json(const HaulAnswer&, const std::vector<HaulPiece>&, const HaulCosts&, const Prices&,
                                 const Things&, const std::vector<LeftOut>&);
nlohmann::ordered_json model_json(const Prices&, const Things&, const std::vector<LeftOut>&);
std::string mistaken_words(const Sale&, const Interval& expected);
std::string top_bid_words(const HaulAnswer&, const HaulCosts&, const std::string& currency);

// One currency of many sales: the asked one, else that of most sales. What is left out goes to `left_out`.
std::vector<Sale> in_one_currency(const std::vector<Sale>&, const std::string& asked,
                                  std::vector<LeftOut>& left_out);

// A price history of what `thing` names (empty fields: any): the sales, and the middle price year by year.
struct HistoryAsk {
    std::string form, treatment, shape;  // keys of Things
    Condition condition = Condition::kUnsaid;
    Market market = Market::kUnsaid;
};
nlohmann::ordered_json history_json(const Prices&, const Things&, const HistoryAsk&, double this_year);

}  // namespace footring::worth

// exchange/reckoned.h - what sales and services come to, handed from one room to the other and to the papers.
//   Estimates stay estimates on the way: with their range, their currency and where they come from.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "exchange/identified.h"
#include "exchange/sales.h"
#include "services/wants.h"
#include "worth/worth_json.h"

namespace footring::exchange {

// The model of the sales of one currency, and what was left out of it.
struct Priced {
    std::shared_ptr<const worth::Prices> prices;
    std::vector<worth::LeftOut> left_out;
};
// `currency` empty: that of most sales. kNotFound when there are none of it, or too few.
Expected<Priced> priced(const KeptSales&, const std::string& currency, const worth::Things&,
                        std::string_view today);

// What each piece that the services lack may cost: the middle and the range of nine in ten, by treatment, form and
// grade, condition not said, where most sales were.
services::Prices estimated_prices(const services::Fitting&, const worth::Prices&, const worth::Things&,
                                  double year);

// Rows of papers::schedule() and papers::wants(), as papers/row_papers.h has them.
nlohmann::ordered_json schedule_rows(const Holdings&, const worth::Prices&, double year);
nlohmann::ordered_json want_rows(const services::Fitting&, const services::Allotment&, const services::Wants&,
                                 const services::Prices&);

}  // namespace footring::exchange

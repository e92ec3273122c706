// worth/currencies.h - the currencies that a price may be in: ISO 4217.
//   No exchange rate is known here, and none is assumed: every estimate is made from the sales of one currency.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string_view>

namespace footring::worth {

struct Currency {
    std::string_view code, name;
    int digits;       // after the decimal point
    bool small_unit;  // prices of thousands are common: the bound on absurd prices is higher
    bool withdrawn;   // no longer money, but older sales were in it
};
std::span<const Currency> all_currencies();              // by code
const Currency* currency_of(std::string_view code);      // upper case; null: there is none
inline double highest_price(const Currency& currency) {  // over it a price is taken for a mistake
    return currency.small_unit ? 1e10 : 1e6;
}

}  // namespace footring::worth

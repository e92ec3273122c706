// dating/series.h - the year in which an office gave out a number, from the first numbers of the years.
//   out     every year it can have been. More than one where years are missing from the table, where two published
//           tables differ and the number lies between them, and near a boundary that was not verified: within
//           number_boundary_share of the year's numbers on that side.
//   source  the tables of packs/law-and-marks, each row with its own
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "base/settings.h"
#include "book/book.h"

namespace footring::dating {

struct NumberYears {
    std::vector<int> years;             // ascending; empty: before the table begins, or there is no table
    bool or_later = false;              // the table ends with years.back()
    std::optional<int> before;          // the number is lower than the first of this year
    std::vector<std::uint32_t> leaned;  // rows of Book::series_numbers that decided
    book::Verified verified = book::Verified::kYes;  // the least of theirs
};
NumberYears years_of_number(const book::Book&, book::Ref<book::NumberSeries>, std::int64_t number, const Settings&);

}  // namespace footring::dating

// SPDX-License-Identifier: Apache-2.0
#include "dating/series.h"

#include <algorithm>

namespace footring::dating {

namespace {

struct Boundary {
    std::uint32_t row;
    int year;
    double lowest, highest;  // where the year's numbers may begin
};

}  // namespace

NumberYears years_of_number(const book::Book& book, book::Ref<book::NumberSeries> series, std::int64_t number,
                            const Settings& settings) {
    std::vector<Boundary> bounds;
    for (std::uint32_t at = 0; at < book.series_numbers.size(); ++at) {
        const book::SeriesNumber& row = book.series_numbers[at];
        if (row.series != series) continue;
        const auto first = static_cast<double>(row.first_number);
        const auto other = static_cast<double>(row.other_number.value_or(row.first_number));
        bounds.push_back({at, row.year, std::min(first, other), std::max(first, other)});
    }
    std::ranges::sort(bounds, {}, &Boundary::year);
    const auto first_of = [&](std::size_t i) {
        return static_cast<double>(book.series_numbers[bounds[i].row].first_number);
    };
    for (std::size_t i = 1; i < bounds.size(); ++i) {
        if (book.series_numbers[bounds[i].row].verified != book::Verified::kNo) continue;
        const double before = first_of(i) - first_of(i - 1);
        const double after = i + 1 < bounds.size() ? first_of(i + 1) - first_of(i) : before;
        bounds[i].lowest -= settings.number_boundary_share * before;
        bounds[i].highest += settings.number_boundary_share * after;
    }

    NumberYears out;
    const auto n = static_cast<double>(number);
    const auto lean_on = [&](std::size_t i) {
        if (std::ranges::find(out.leaned, bounds[i].row) == out.leaned.end()) out.leaned.push_back(bounds[i].row);
    };
    if (bounds.empty()) return out;
    if (n < bounds.front().lowest) {
        out.before = bounds.front().year;
        lean_on(0);
    }
    for (std::size_t i = 0; i < bounds.size(); ++i) {
        const bool last = i + 1 == bounds.size();
        if (n < bounds[i].lowest || (!last && n >= bounds[i + 1].highest)) continue;
        const int until = last ? bounds[i].year : bounds[i + 1].year - 1;
        for (int year = bounds[i].year; year <= until; ++year) out.years.push_back(year);
        lean_on(i);
        if (last) out.or_later = true;
        else lean_on(i + 1);
    }
    for (const std::uint32_t row : out.leaned)
        out.verified = std::min(out.verified, book.series_numbers[row].verified);
    return out;
}

}  // namespace footring::dating

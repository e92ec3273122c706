// SPDX-License-Identifier: Apache-2.0
// Which days a date may mean. Unspecified digits are filled in only with what the calendar has: 193X-02-29 begins
// in 1932, the first leap year of the decade, and X3 as a month is March alone.
#include <algorithm>
#include <limits>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

constexpr std::int64_t kMostYear = std::numeric_limits<std::int64_t>::max();

bool is_leap(std::int64_t year) { return year % 4 == 0 && (year % 100 != 0 || year % 400 == 0); }

int days_of_month(bool leap, int month) {
    constexpr int kDays[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    return month == 2 && leap ? 29 : kDays[month - 1];
}

struct MonthAndDay {
    int month, day;
};

// The first (step 1) or last (step -1) day of the year that fits the month and day as written.
std::optional<MonthAndDay> edge_of_year(const Date& date, bool leap, int step) {
    for (int m = step > 0 ? 1 : 12; m >= 1 && m <= 12; m += step) {
        if (date.month && !date.month.fits(m)) continue;
        const int length = days_of_month(leap, m);
        if (!date.day) return MonthAndDay{m, step > 0 ? 1 : length};
        for (int d = step > 0 ? 1 : length; d >= 1 && d <= length; d += step)
            if (date.day.fits(d)) return MonthAndDay{m, d};
    }
    return std::nullopt;
}

// The first or last day of all: the year nearest that edge which has such a day.
std::optional<Day> edge(const Date& date, int step) {
    const std::optional<MonthAndDay> common = edge_of_year(date, false, step),
                                     leap = edge_of_year(date, true, step);
    if (!leap) return std::nullopt;  // a leap year has every day that a common year has
    const std::int64_t from = step > 0 ? date.first_year : date.last_year;
    const std::int64_t to = step > 0 ? date.last_year : date.first_year;
    for (std::int64_t y = from;; y += step) {
        // There is no year -0000: the last year that -00XX can mean is -0001, and for -0XX0 it is -0010.
        const auto& found = is_leap(y) ? leap : common;
        const bool fits =
            !date.year.masked || (date.year.fits(static_cast<int>(y < 0 ? -y : y)) && (y != 0 || !date.negative));
        if (found && fits) return Day{y, found->month, found->day};
        if (y == to) return std::nullopt;
    }
}

Fit set_years(Date& date, std::uint64_t least, std::uint64_t greatest) {
    constexpr auto kMost = static_cast<std::uint64_t>(kMostYear);
    if (least > kMost || greatest > kMost) return Fit::kTooLarge;
    const auto a = static_cast<std::int64_t>(least), b = static_cast<std::int64_t>(greatest);
    date.first_year = date.negative ? -b : a;
    date.last_year = date.negative ? -a : b;
    return Fit::kFits;
}

// 1950S2: the first two of the four digits are known, so it is some year from 1900 to 1999.
Fit widen_to_significant(Date& date) {
    const auto size = static_cast<std::uint64_t>(date.written_year < 0 ? -date.written_year : date.written_year);
    int digits = 1;
    for (std::uint64_t rest = size / 10; rest != 0; rest /= 10) ++digits;
    std::uint64_t step = 1;
    for (int i = date.significant; i < digits; ++i) step *= 10;
    const std::uint64_t least = size - size % step;  // never 0, as the leading digit stays
    return set_years(date, least, least + (step - 1));
}

Fit place_year(Date& date) {
    if (date.kind == Date::Kind::kLongYear) {
        std::uint64_t size = date.mantissa;
        for (int i = 0; i < date.exponent.value_or(0) && size != 0; ++i) {
            if (size > static_cast<std::uint64_t>(kMostYear) / 10) return Fit::kTooLarge;
            size *= 10;
        }
        if (const Fit fit = set_years(date, size, size); fit != Fit::kFits) return fit;
    } else {
        // Of a date with X's these are the outermost years; which of them are in the calendar is seen later.
        set_years(date, static_cast<std::uint64_t>(date.year.filled('0')),
                  static_cast<std::uint64_t>(date.year.filled('9')));
    }
    date.written_year = date.first_year;
    return date.significant != 0 ? widen_to_significant(date) : Fit::kFits;
}

}  // namespace

int days_in_month(std::int64_t year, int month) { return days_of_month(is_leap(year), month); }

std::optional<Months> months_of_season(int season) {
    if (season >= 33 && season <= 36) return Months{(season - 33) * 3 + 1, (season - 33) * 3 + 3};  // quarters
    if (season >= 37 && season <= 39) return Months{(season - 37) * 4 + 1, (season - 37) * 4 + 4};  // thirds
    if (season >= 40 && season <= 41) return Months{(season - 40) * 6 + 1, (season - 40) * 6 + 6};  // halves
    return std::nullopt;
}

Fit place_in_calendar(Date& date) {
    if (const Fit fit = place_year(date); fit != Fit::kFits) return fit;
    if (date.kind == Date::Kind::kSeason) {
        const auto months = months_of_season(date.season);
        if (!months) return Fit::kFits;
        date.earliest = Day{date.first_year, months->first, 1};
        date.latest = Day{date.last_year, months->last, days_in_month(date.last_year, months->last)};
        return Fit::kFits;
    }
    if (!date.masked()) {  // nearly every date
        const int month = date.month ? date.month.value() : 0, day = date.day ? date.day.value() : 0;
        const int last_month = month != 0 ? month : 12, length = days_in_month(date.last_year, last_month);
        if (day > length) return Fit::kNoSuchDay;
        date.earliest = Day{date.first_year, month != 0 ? month : 1, day != 0 ? day : 1};
        date.latest = Day{date.last_year, last_month, day != 0 ? day : length};
        return Fit::kFits;
    }
    date.earliest = edge(date, 1);
    date.latest = edge(date, -1);
    if (!date.earliest) return Fit::kNoSuchDay;
    date.first_year = date.earliest->year;
    date.last_year = date.latest->year;
    return Fit::kFits;
}

}  // namespace footring::edtf

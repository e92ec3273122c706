// SPDX-License-Identifier: Apache-2.0
// A date as it would stand on a museum label.
#include <fmt/format.h>

#include <algorithm>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

using Words = std::vector<std::string>;

// "a, b or c"; `last` is what stands before the last word.
std::string listed(const Words& words, std::string_view last) {
    std::string out;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) out += i + 1 == words.size() ? fmt::format("{} ", last) : ", ";
        out += words[i];
    }
    return out;
}

// 1934; AD 85, so that it is not taken for 1985; 1986 BC for the year -1985.
std::string year_in_words(std::int64_t year) {
    if (year > 9999) return fmt::format("the year {}", year);
    if (year >= 1000) return std::to_string(year);
    if (year >= 1) return fmt::format("AD {}", year);
    return fmt::format("{} BC", static_cast<std::uint64_t>(-year) + 1);
}

// The year of a date, as it is said alone, behind a month, and behind "some month".
struct YearWords {
    std::string alone, after, within;
};

YearWords year_in_words(const Date& date) {
    const Component& year = date.year;
    if (!year.masked) {
        const std::string plain = year_in_words(date.written_year);
        return {plain, " " + plain, "in " + plain};
    }
    if (year.text() == "XXXX") return {"an unknown year", " of an unknown year", "in an unknown year"};
    const std::size_t known = year.text().find('X');
    if (year.text().find_first_not_of('X', known) != std::string_view::npos) {  // 19X4, an illegible digit
        const std::string form = fmt::format("a year of the form {}{}", date.negative ? "-" : "", year.text());
        return {form, " of " + form, "in " + form};
    }
    const int least = year.filled('0');
    if (known == 3 && !date.negative && least >= 1000 && least % 100 != 0) {
        const std::string decade = fmt::format("the {}s", least);
        return {decade, " of some year in " + decade, "in " + decade};
    }
    // "The 1900s" may be ten years or a hundred; said in full.
    const std::int64_t first = date.negative ? -year.filled('9') : least,
                       last = date.negative ? -least : year.filled('9');
    const std::string band = fmt::format("some year from {} to {}", year_in_words(first), year_in_words(last));
    return {band, " of " + band, "of " + band};
}

// The numbers from 1 to `most` that a component may mean, as words; a long row is said by its ends.
std::string choices(const Component& component, int most, std::string (*word)(int)) {
    Words words;
    std::vector<int> fitting;
    for (int n = 1; n <= most; ++n)
        if (component.fits(n)) fitting.push_back(n), words.push_back(word(n));
    const bool row = fitting.size() > 3 && fitting.back() - fitting.front() + 1 == static_cast<int>(fitting.size());
    return row ? fmt::format("{} to {}", words.front(), words.back()) : listed(words, " or");
}

std::string month_word(int month) { return std::string(month_name(month)); }
std::string day_word(int day) { return std::to_string(day); }

// The longest month that the date can mean.
int most_days(const Date& date) {
    int most = 0;
    for (int m = 1; m <= 12; ++m)
        if (date.month.fits(m))
            most = std::max(
                most, m == 2 && !date.year.masked ? days_in_month(date.written_year, 2) : days_in_month(2000, m));
    return most;
}

std::string calendar_in_words(const Date& date) {
    const YearWords year = year_in_words(date);
    const Component &month = date.month, &day = date.day;
    if (!month) return year.alone;
    const bool any_month = month.text() == "XX", any_day = day.text() == "XX";
    if (any_month && (!day || any_day)) return fmt::format("some {} {}", day ? "day" : "month", year.within);
    const std::string months = any_month ? "some month" : choices(month, 12, month_word);
    const std::string month_and_year = any_month ? fmt::format("some month {}", year.within) : months + year.after;
    if (!day) return month_and_year;
    if (any_day) return "some day in " + month_and_year;
    return fmt::format("{}{}{}", choices(day, most_days(date), day_word), month.masked ? " of " : " ",
                       month_and_year);
}

std::string season_in_words(const Date& date) {
    constexpr std::string_view kSeasons[] = {"spring", "summer", "autumn", "winter"};
    constexpr std::string_view kOrdinals[] = {"first", "second", "third", "fourth"};
    const std::string year = year_in_words(date.written_year);
    const int code = date.season;
    if (code <= 32) {
        constexpr std::string_view kWhere[] = {"", " (northern hemisphere)", " (southern hemisphere)"};
        return fmt::format("{} {}{}", kSeasons[(code - 21) % 4], year, kWhere[(code - 21) / 4]);
    }
    if (code <= 36) return fmt::format("the {} quarter of {}", kOrdinals[code - 33], year);
    constexpr std::string_view kThirds[] = {"first", "middle", "last"};
    if (code <= 39) return fmt::format("the {} four months of {}", kThirds[code - 37], year);
    return fmt::format("the {} half of {}", kOrdinals[code - 40], year);
}

std::string estimate_in_words(const Date& date) {
    const std::string written = year_in_words(date.written_year);
    if (date.first_year == date.last_year) return written;
    return fmt::format("some year from {} to {}, estimated at {}", year_in_words(date.first_year),
                       year_in_words(date.last_year), written);
}

std::string zone_in_words(std::string_view zone) {
    if (zone.empty()) return {};
    return zone == "Z" ? " UTC" : fmt::format(" UTC{}", print_zone(zone));
}

constexpr std::string_view kMeaning[] = {"", "uncertain", "approximate", "uncertain and approximate"};

// "year and month approximate, day uncertain"
std::string marks_in_words(const Date& date) {
    const std::pair<const Component*, std::string_view> parts[] = {
        {&date.year, "year"}, {&date.month, "month"}, {&date.day, "day"}};
    std::string out;
    for (const Marks marks : {kRough, kUnsure, kUnsureAndRough}) {
        Words names;
        for (const auto& [component, name] : parts)
            if (*component && component->marks == marks) names.emplace_back(name);
        if (names.empty()) continue;
        out += fmt::format("{}{} {}", out.empty() ? "" : ", ", listed(names, " and"), kMeaning[marks]);
    }
    return out;
}

std::string in_words(const Date& date) {
    if (date.kind == Date::Kind::kSeason) return season_in_words(date);
    if (date.kind == Date::Kind::kLongYear || date.significant != 0) return estimate_in_words(date);
    const std::string said = calendar_in_words(date);
    if (!date.time.empty()) return fmt::format("{}, {}{}", said, date.time, zone_in_words(date.zone));
    const Marks all = date.marks_of_all();
    if (date.marks_of_any() == kNoMark) return said;
    if (!date.evenly_marked()) return fmt::format("{} ({})", said, marks_in_words(date));
    // "About the 1930s" is English; "about some day in May" is not.
    if (date.masked() && !said.starts_with("the ")) return fmt::format("{} ({})", said, kMeaning[all]);
    return fmt::format("{}{}{}", (all & kUnsure) != 0 ? "perhaps " : "", (all & kRough) != 0 ? "about " : "", said);
}

std::string interval_in_words(const Item& item) {
    const Bound &start = item.start, &end = item.end;
    if (start.is_date() && end.is_date()) {
        const std::string first = in_words(start.date), last = in_words(end.date);
        return first == last ? first : fmt::format("between {} and {}", first, last);
    }
    const std::string said = in_words(start.is_date() ? start.date : end.date);
    if (end.kind == Bound::Kind::kOpen) return said + " or later";
    if (end.kind == Bound::Kind::kUnknown) return fmt::format("from {}, end unknown", said);
    return start.kind == Bound::Kind::kOpen ? said + " or earlier"
                                            : fmt::format("until {}, beginning unknown", said);
}

// One of (1667, 1668 or 1670 to 1672) or all of (1667, 1668 and 1670 to 1672).
std::string set_in_words(const Shape& shape) {
    const bool all = shape.kind == Shape::Kind::kAllOf;
    Words words;
    for (const Item& item : shape.many) {
        if (item.single) words.push_back(in_words(item.start.date));
        else if (!item.start.is_date())
            words.push_back(in_words(item.end.date) + (all ? " and earlier" : " or earlier"));
        else if (!item.end.is_date())
            words.push_back(in_words(item.start.date) + (all ? " and later" : " or later"));
        else words.push_back(fmt::format("{} to {}", in_words(item.start.date), in_words(item.end.date)));
    }
    // "1984 or earlier, or 1986": the comma keeps the two alternatives apart.
    const bool open =
        words.size() > 1 && (!shape.many.front().start.is_date() || !shape.many.back().last().is_date());
    return listed(words, fmt::format("{}{}", open ? ", " : " ", all ? "and" : "or"));
}

}  // namespace

std::string in_words(const Edtf& date) {
    Shape shape;
    if (!Reader(date.text()).read(shape)) return date.text();
    switch (shape.kind) {
        case Shape::Kind::kDate:
            return in_words(shape.one.start.date);
        case Shape::Kind::kInterval:
            return interval_in_words(shape.one);
        case Shape::Kind::kOneOf:
        case Shape::Kind::kAllOf:
            break;
    }
    return set_in_words(shape);
}

std::string caution(const Edtf& date) {
    Shape shape;
    if (!Reader(date.text()).read(shape) || shape.kind != Shape::Kind::kDate) return {};
    const Date& read = shape.one.start.date;
    const int in_century = static_cast<int>(read.written_year % 100);
    if (read.kind != Date::Kind::kSeason || read.negative || read.season <= in_century) return {};
    return fmt::format("{} means {}; for the years it is written {}/{}", print(date), in_words(read),
                       print_year(read.written_year), print_year(read.written_year - in_century + read.season));
}

}  // namespace footring::edtf

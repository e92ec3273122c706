// SPDX-License-Identifier: Apache-2.0
// The grammar of EDTF, levels 0 to 2: Library of Congress, Extended Date/Time Format specification, 4 February
// 2019, a profile of ISO 8601-2:2019. One character of look-ahead, no backing up, so a text is read once from left
// to right.
#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

bool is_decimal(char c) { return c >= '0' && c <= '9'; }
bool is_digit_or_x(char c) { return is_decimal(c) || c == 'X'; }

Marks mark_of(char c) {
    switch (c) {
        case '?':
            return kUnsure;
        case '~':
            return kRough;
        case '%':
            return kUnsureAndRough;
        default:
            return kNoMark;
    }
}

constexpr std::string_view kMarkAlone =
    "seasons, Y years and years with significant digits cannot be marked ?, ~ or %";

// A year is kept in 64 bits.
constexpr std::string_view kTooLarge = "the year is too far away to be kept";
constexpr std::string_view kReach = "years reach from Y-9223372036854775807 to Y9223372036854775807";

constexpr std::string_view kTwoDigits = "write the month and the day with two digits each, such as 1934-05-12";
constexpr std::string_view kTimes = "times of day are written 00:00:00 to 24:00:00";

}  // namespace

bool Reader::stop(std::size_t at, std::string what, std::string remedy) {
    fault_ = {at, std::move(what), std::move(remedy)};
    return false;
}

// `where` completes "'s' cannot ...".
bool Reader::unexpected(std::string_view where, std::string_view remedy) {
    return stop(at_, fmt::format("{} cannot {}", character_at(text_, at_), where), std::string(remedy));
}

bool Reader::next_is(std::string_view expected) const { return text_.substr(at_, expected.size()) == expected; }

bool Reader::take(char c) {
    if (peek() != c || at_end()) return false;
    ++at_;
    return true;
}

Marks Reader::take_mark() {
    const Marks mark = mark_of(peek());
    if (mark != kNoMark) ++at_;
    return mark;
}

bool Reader::read(Shape& shape) {
    if (text_.empty()) return stop(0, "nothing is written");
    if (peek() == '[' || peek() == '{') return read_set(shape);
    if (peek() == '/' || next_is("../")) return read_interval(shape);
    if (!read_date(shape.one.start.date, Place::kAlone)) return false;
    if (peek() == '/') return read_interval(shape);
    if (at_end()) return true;
    return unexpected(fmt::format("follow '{}'", excerpt(text_.substr(0, at_))));
}

// at_ is at the slash or at the ".." that begins the interval; a beginning that is a date has been read.
bool Reader::read_interval(Shape& shape) {
    shape.kind = Shape::Kind::kInterval;
    Item& item = shape.one;
    item.single = false;
    Bound& start = item.start;
    if (at_ == 0) {
        start.kind = peek() == '/' ? Bound::Kind::kUnknown : Bound::Kind::kOpen;
        at_ += peek() == '/' ? 0 : 2;
    } else if (start.date.kind == Date::Kind::kSeason || !start.date.time.empty() || start.date.significant != 0) {
        return stop(0, "an interval cannot begin with a season, a time of day or a year with significant digits",
                    "write its first year, month or day");
    }
    ++at_;  // the slash
    const std::size_t end_at = at_;
    if (at_end()) {
        item.end.kind = Bound::Kind::kUnknown;
    } else if (next_is("..")) {
        item.end.kind = Bound::Kind::kOpen;
        at_ += 2;
    } else if (!read_date(item.end.date, Place::kInterval)) {
        return false;
    }
    if (!at_end()) return unexpected(fmt::format("follow '{}'", excerpt(text_.substr(0, at_))));
    if (!start.is_date() && !item.end.is_date())
        return stop(0, "the interval has no date at either end", "write at least one, such as 1930/.. or ../1940");
    if (start.is_date() && item.end.is_date() && *item.end.date.latest < *start.date.earliest)
        return stop(end_at, "it ends before it begins",
                    fmt::format("swap the two: {}/{}", print(item.end.date), print(start.date)));
    return true;
}

bool Reader::read_set(Shape& shape) {
    const char close = peek() == '[' ? ']' : '}';
    shape.kind = peek() == '[' ? Shape::Kind::kOneOf : Shape::Kind::kAllOf;
    ++at_;
    for (bool first = true;; first = false) {
        if (!read_item(shape.many.emplace_back(), first)) return false;
        if (take(close)) break;
        const std::size_t blanks_at = at_;
        while (take(' ')) {
        }
        if (at_end())
            return stop(blanks_at, fmt::format("the closing {} is missing", close),
                        fmt::format("add {} at the end", close));
        if (!take(','))
            return unexpected(fmt::format("stand between the dates of a set; a comma or {} is due", close));
        if (const Item& item = shape.many.back(); !item.single && item.end.kind == Bound::Kind::kOpen)
            return stop(at_ - 1, "only the last date of a set can be open towards later ones",
                        "put the date that ends in .. last");
        while (take(' ')) {
        }
    }
    if (at_end()) return true;
    return unexpected("follow the end of the set");
}

// 1667, 1670..1672; ..1984 in the first place; 1984.. in the last one.
bool Reader::read_item(Item& item, bool first) {
    const std::size_t begin = at_;
    if (next_is("..")) {
        if (!first)
            return stop(at_, "only the first date of a set can be open towards earlier ones",
                        "put the date that begins with .. first");
        at_ += 2;
        item.single = false;
        item.start.kind = Bound::Kind::kOpen;
        if (!read_date(item.end.date, Place::kSet)) return false;
        if (next_is(".."))
            return stop(at_, "a date that is open on one side cannot be open or a range on the other",
                        "keep one of the two ..");
        return true;
    }
    if (!read_date(item.start.date, Place::kSet)) return false;
    if (!next_is("..")) return true;
    at_ += 2;
    item.single = false;
    if (peek() == ']' || peek() == '}' || peek() == ',' || peek() == ' ') {
        item.end.kind = Bound::Kind::kOpen;
        return true;
    }
    const std::size_t end_at = at_;
    if (!read_date(item.end.date, Place::kSet)) return false;
    const Date &a = item.start.date, &b = item.end.date;
    if (a.masked() || b.masked() || a.marks_of_any() != kNoMark || b.marks_of_any() != kNoMark)
        return stop(begin, "a range within a set needs plain dates, without marks or X",
                    fmt::format("write it as an interval of its own, {}/{}", print(a), print(b)));
    if (bool(a.month) != bool(b.month) || bool(a.day) != bool(b.day))
        return stop(end_at, "both ends of a range within a set must be years, or months, or days",
                    "write both to the same precision");
    if (*b.latest < *a.earliest)
        return stop(end_at, "the range ends before it begins",
                    fmt::format("swap the two: {}..{}", print(b), print(a)));
    return true;
}

bool Reader::read_date(Date& date, Place place) {
    const std::size_t begin = at_;
    date.year.marks = take_mark();
    if (peek() == 'Y') {
        if (date.year.marks != kNoMark) return stop(begin, std::string(kMarkAlone), "leave the mark out");
        if (!read_long_year(date, place)) return false;
    } else {
        if (!read_year(date, place)) return false;
    }
    std::size_t day_at = at_;
    if (date.kind == Date::Kind::kCalendar && date.significant == 0 && take('-')) {
        if (!read_month(date, place)) return false;
        day_at = at_ + 1;
        if (date.kind == Date::Kind::kCalendar && take('-') && !read_day(date)) return false;
        if (peek() == 'T' && !read_time(date, place)) return false;
    }
    if (mark_of(peek()) != kNoMark) {
        if (date.kind != Date::Kind::kCalendar || date.significant != 0 || !date.time.empty())
            return stop(at_,
                        std::string(date.time.empty() ? kMarkAlone : "a time of day cannot be marked ?, ~ or %"),
                        "leave the mark out, or write the year alone with it");
        return stop(at_, "there is a second mark; one of ?, ~ or % is enough",
                    "write % for uncertain and approximate together");
    }
    switch (place_in_calendar(date)) {
        case Fit::kFits:
            return true;
        case Fit::kTooLarge:
            return stop(begin, std::string(kTooLarge), std::string(kReach));
        case Fit::kNoSuchDay:
            break;
    }
    if (date.masked())
        return stop(day_at,
                    fmt::format("no date of the calendar fits '{}'", excerpt(text_.substr(begin, at_ - begin))),
                    "months are 01 to 12 and days 01 to 31");
    const int month = date.month.value(), length = days_in_month(date.written_year, month);
    return stop(day_at, fmt::format("{} {} has only {} days", month_name(month), date.written_year, length),
                fmt::format("write {}-{:02} for the whole month", print_year(date.written_year), month));
}

bool Reader::read_year(Date& date, Place place) {
    const std::size_t begin = at_;
    date.negative = take('-');
    if (!is_digit_or_x(peek())) {
        if (peek() == 'P') return stop(at_, "a duration cannot stand here", "write the date at which it ends");
        if (at_end()) return stop(at_, "a date is missing at the end");
        return unexpected("begin a date");
    }
    const std::size_t digits_at = at_;
    Component& year = date.year;
    std::size_t digits = 0;
    for (; is_digit_or_x(peek()); ++at_, ++digits) {
        if (digits >= 4) continue;
        year.digit[digits] = peek();
        year.masked |= peek() == 'X';
    }
    if (digits != 4) {
        const bool short_year = digits < 4 && (at_end() || mark_of(peek()) != kNoMark);
        at_ = digits_at;
        return stop(digits_at,
                    fmt::format("'{}' is not a year of four digits", excerpt(text_.substr(digits_at, digits))),
                    short_year   ? "write all four digits, with X for those that are not known"
                    : digits > 4 ? "write YYYY-MM-DD with hyphens; a year of five digits or more begins with Y"
                                 : "");
    }
    year.width = 4;
    if (date.negative && !year.masked && year.value() == 0)
        return stop(begin, "there is no year -0000", "write 0000 for 1 BC and -0001 for 2 BC");
    if (peek() == 'S') return read_significant(date, place);
    return right_mark(date, year);
}

// A mark on the right of a component holds for it and for all before it.
bool Reader::right_mark(Date& date, Component& component) {
    const Marks mark = take_mark();
    if (mark == kNoMark) return true;
    component.marks |= mark;
    if (&component != &date.year) date.year.marks |= mark;
    if (&component == &date.day) date.month.marks |= mark;
    return true;
}

// Y170000002, Y-17E7, with significant digits Y3388E2S3.
bool Reader::read_long_year(Date& date, Place place) {
    const std::size_t begin = at_++;
    date.kind = Date::Kind::kLongYear;
    date.negative = take('-');
    const std::size_t digits_at = at_;
    bool too_large = false;
    for (; is_decimal(peek()); ++at_) {
        const auto digit = static_cast<std::uint64_t>(peek() - '0');
        too_large |= date.mantissa > (std::numeric_limits<std::uint64_t>::max() - digit) / 10;
        date.mantissa = date.mantissa * 10 + digit;
    }
    const std::size_t digits = at_ - digits_at;
    if (digits == 0) return unexpected("follow Y, where the digits of a year are due");
    if (too_large) return stop(begin, std::string(kTooLarge), std::string(kReach));
    if (take('E')) {
        int exponent = 0;
        const std::size_t exponent_at = at_;
        for (; is_decimal(peek()); ++at_) exponent = std::min(exponent * 10 + (peek() - '0'), 1000);
        if (at_ == exponent_at) return unexpected("follow E, where the digits of an exponent are due");
        date.exponent = exponent;
    } else if (digits < 5 || text_[digits_at] == '0') {
        return stop(begin, "a year that begins with Y has five digits or more, the first of them not 0",
                    digits <= 4 ? fmt::format("write {}", print_year(static_cast<std::int64_t>(date.mantissa) *
                                                                     (date.negative ? -1 : 1)))
                                : "leave the zeros out");
    }
    if (date.negative && date.mantissa == 0)
        return stop(begin, "there is no negative year 0", "write 0000 for 1 BC and -0001 for 2 BC");
    return peek() == 'S' ? read_significant(date, place) : true;
}

bool Reader::read_significant(Date& date, Place place) {
    if (place != Place::kAlone)
        return stop(at_, "a year with significant digits must stand alone",
                    "write the interval of years that it means");
    if (date.year.marks != kNoMark) return stop(at_, std::string(kMarkAlone), "leave the mark out");
    if (date.year.masked)
        return stop(at_, "a year has either X for unknown digits or S for significant ones, not both",
                    "leave S and what follows out");
    ++at_;
    const std::size_t begin = at_;
    for (; is_decimal(peek()); ++at_) date.significant = std::min(date.significant * 10 + (peek() - '0'), 100);
    if (at_ == begin) return unexpected("follow S, where a number of digits is due");
    if (text_[begin] == '0') return stop(begin, "at least one digit must be significant", "write S1 or more");
    return true;
}

bool Reader::read_pair(Component& component, std::string_view what, std::string_view remedy) {
    const std::size_t begin = at_;
    std::size_t digits = 0;
    for (; is_digit_or_x(peek()); ++at_, ++digits) {
        if (digits >= 2) continue;
        component.digit[digits] = peek();
        component.masked |= peek() == 'X';
    }
    if (digits == 2) {
        component.width = 2;
        return true;
    }
    if (digits == 0) {
        if (at_end()) return stop(at_, fmt::format("{} is missing at the end", what), std::string(remedy));
        return unexpected(fmt::format("stand where {} is due", what), remedy);
    }
    at_ = begin;
    return stop(begin, fmt::format("'{}' is not {} of two digits", excerpt(text_.substr(begin, digits)), what),
                std::string(remedy));
}

bool Reader::read_month(Date& date, Place place) {
    Component& month = date.month;
    month.marks = take_mark();
    const std::size_t begin = at_;
    if (!read_pair(month, "a month", kTwoDigits)) return false;
    if (month.masked || (month.value() >= 1 && month.value() <= 12)) return right_mark(date, month);
    const int code = month.value();
    if (code < 21 || code > 41)
        return stop(begin, fmt::format("there is no month {:02}", code),
                    "months are 01 to 12, seasons and other parts of a year 21 to 41");
    if (date.year.masked || date.year.marks != kNoMark || month.marks != kNoMark)
        return stop(begin, "a season needs a plain year, without marks or X", "write the year alone");
    if (place != Place::kAlone)
        return stop(begin, "a season cannot stand in an interval or a set", "write months or years there");
    date.kind = Date::Kind::kSeason;
    date.season = static_cast<std::uint8_t>(code);
    month = {};
    return true;
}

bool Reader::read_day(Date& date) {
    Component& day = date.day;
    day.marks = take_mark();
    const std::size_t begin = at_;
    if (!read_pair(day, "a day", kTwoDigits)) return false;
    if (!day.masked && (day.value() < 1 || day.value() > 31))
        return stop(begin, fmt::format("there is no day {:02}", day.value()), "days are 01 to 31");
    return right_mark(date, day);
}

// T23:20:30 and what ISO 8601 allows beside it: no seconds, a fraction, 24:00 at the end of a day, a time zone.
bool Reader::read_time(Date& date, Place place) {
    if (place != Place::kAlone || !date.day || date.masked() || date.marks_of_any() != kNoMark)
        return stop(at_, "a time of day needs a plain date of year, month and day, standing alone",
                    "leave the time out");
    const std::size_t begin = ++at_;
    int value[3] = {0, 0, 0};
    constexpr std::string_view kNames[] = {"an hour", "a minute", "a second"};
    constexpr int kMost[] = {24, 59, 59};
    for (int i = 0; i < 3; ++i) {
        if (i > 0 && !take(':')) {
            if (i == 2) break;  // seconds may be left out
            return unexpected("follow the hour; a colon is due");
        }
        Component pair;
        const std::size_t pair_at = at_;
        if (!read_pair(pair, kNames[i], kTimes)) return false;
        value[i] = pair.masked ? 99 : pair.value();
        if (value[i] > kMost[i] || (value[0] == 24 && value[i] != 0 && i > 0))
            return stop(pair_at, fmt::format("'{}' is not {} of the day", pair.text(), kNames[i]),
                        std::string(kTimes));
    }
    if (at_ - begin == 8 && value[0] != 24 && take('.')) {
        const std::size_t fraction_at = at_;
        while (is_decimal(peek())) ++at_;
        if (at_ == fraction_at) return unexpected("follow the point; a fraction of a second is due");
    }
    date.time = text_.substr(begin, at_ - begin);
    return read_zone(date);
}

// Z, -04, +04:30; the colon may be missing.
bool Reader::read_zone(Date& date) {
    const std::size_t begin = at_;
    if (take('Z')) {
        date.zone = text_.substr(begin, 1);
        return true;
    }
    const bool west = peek() == '-';
    if (!west && peek() != '+') return true;
    ++at_;
    int minutes = 0;
    const auto two_digits = [&](int& value) {
        for (int i = 0; i < 2; ++i, ++at_) {
            if (!is_decimal(peek())) return unexpected("stand in a time zone, where two digits are due");
            value = value * 10 + (peek() - '0');
        }
        return true;
    };
    if (!two_digits(minutes)) return false;
    minutes *= 60;
    if (take(':') || is_decimal(peek())) {
        int past_hour = 0;
        if (!two_digits(past_hour)) return false;
        if (past_hour > 59)
            return stop(at_ - 2, fmt::format("'{}' is not a minute", past_hour), "minutes are 00 to 59");
        minutes += past_hour;
    }
    date.zone = text_.substr(begin, at_ - begin);
    if (minutes > (west ? 12 : 14) * 60 || (west && minutes == 0))
        return stop(begin, fmt::format("there is no time zone {}", date.zone),
                    "time zones are -12:00 to +14:00, and Z");
    return true;
}

}  // namespace footring::edtf

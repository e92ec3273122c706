// edtf/shape.h - private to the room: what a text in EDTF consists of, before it becomes days and years.
//   The reader fills it, the calendar adds the days, printing and words read it. Views point into the text read.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "edtf/edtf.h"

namespace footring::edtf {

// What is said of a component: ? uncertain, ~ approximate, % both. Bits, so that marks add up.
using Marks = std::uint8_t;
inline constexpr Marks kNoMark = 0, kUnsure = 1, kRough = 2, kUnsureAndRough = 3;

// The year, month or day of a date as written: digits, or X for a digit that is not specified.
struct Component {
    char digit[4] = {};
    std::uint8_t width = 0;  // 4 or 2; 0: the date does not have this component
    bool masked = false;     // some digit is an X
    Marks marks = kNoMark;

    explicit operator bool() const { return width != 0; }
    std::string_view text() const { return {digit, width}; }
    int filled(char with) const {  // the number that results when each X becomes `with`
        int value = 0;
        for (int i = 0; i < width; ++i) value = value * 10 + ((digit[i] == 'X' ? with : digit[i]) - '0');
        return value;
    }
    int value() const { return filled('0'); }  // for components without an X
    bool fits(int number) const {              // may this number be meant?
        for (int i = width - 1; i >= 0; --i, number /= 10)
            if (digit[i] != 'X' && digit[i] - '0' != number % 10) return false;
        return number == 0;
    }
};

struct Date {
    enum class Kind : std::uint8_t { kCalendar, kSeason, kLongYear };
    Kind kind = Kind::kCalendar;
    bool negative = false;
    std::uint8_t season = 0;      // 21 to 41, kSeason only
    Component year, month, day;   // the year also of a season
    std::uint64_t mantissa = 0;   // kLongYear: Y17E7 has 17 and 7
    std::optional<int> exponent;  // kLongYear
    int significant = 0;          // 1950S2 has 2; 0: nothing is said
    std::string_view time, zone;  // "23:20:30", "-04"; empty without them

    // Filled in by the calendar.
    std::int64_t written_year = 0;  // without X's and significant digits: the year itself
    std::int64_t first_year = 0, last_year = 0;
    std::optional<Day> earliest, latest;  // absent for seasons without fixed months

    Marks marks_of_all() const {  // the marks that every component bears
        Marks all = year.marks;
        if (month) all &= month.marks;
        if (day) all &= day.marks;
        return all;
    }
    Marks marks_of_any() const { return year.marks | month.marks | day.marks; }
    bool evenly_marked() const { return marks_of_all() == marks_of_any(); }
    bool masked() const { return year.masked || month.masked || day.masked; }
};

// One end of an interval or of a range within a set.
struct Bound {
    enum class Kind : std::uint8_t { kDate, kOpen, kUnknown };  // a date, "..", nothing
    Kind kind = Kind::kDate;
    Date date;
    bool is_date() const { return kind == Kind::kDate; }
};

// A date (then only `start` counts), or what lies between two bounds.
struct Item {
    Bound start, end;
    bool single = true;
    const Bound& last() const { return single ? start : end; }
};

struct Shape {
    enum class Kind : std::uint8_t { kDate, kInterval, kOneOf, kAllOf };  // ..., [a,b], {a,b}
    Kind kind = Kind::kDate;
    Item one;                // the date or the interval
    std::vector<Item> many;  // of a set or list
    std::span<const Item> items() const {
        return kind == Kind::kOneOf || kind == Kind::kAllOf ? std::span<const Item>(many) : std::span(&one, 1);
    }
};

// Why a text was refused: at which byte, and what to do about it (empty: nothing better than the general advice).
struct Fault {
    std::size_t at = 0;
    std::string what, remedy;
};

// Turns a text into its shape, and a shape into the value. Stops at the first fault.
struct Reader {
    explicit Reader(std::string_view text) : text_(text) {}
    bool read(Shape&);  // false: see fault()
    const Fault& fault() const { return fault_; }
    static Edtf value(std::string_view text, const Shape&);

  private:
    enum class Place : std::uint8_t { kAlone, kInterval, kSet };  // where a date stands decides what it may be
    bool stop(std::size_t at, std::string what, std::string remedy = {});
    bool unexpected(std::string_view where, std::string_view remedy = {});
    bool at_end() const { return at_ == text_.size(); }
    char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
    bool next_is(std::string_view) const;
    bool take(char);
    Marks take_mark();
    bool read_interval(Shape&);
    bool read_set(Shape&);
    bool read_item(Item&, bool first);
    bool read_date(Date&, Place);
    bool read_year(Date&, Place);
    bool read_long_year(Date&, Place);
    bool read_significant(Date&, Place);
    bool read_month(Date&, Place);
    bool read_day(Date&);
    bool read_time(Date&, Place);
    bool read_zone(Date&);
    bool read_pair(Component&, std::string_view what, std::string_view remedy);
    bool right_mark(Date&, Component&);

    std::string_view text_;
    std::size_t at_ = 0;
    Fault fault_;
};

// calendar.cpp. Fills in the days and years of a date that is complete otherwise.
enum class Fit : std::uint8_t { kFits, kNoSuchDay, kTooLarge };  // 31 April; a year beyond 64 bits
Fit place_in_calendar(Date&);
int days_in_month(std::int64_t year, int month);
struct Months {
    int first, last;
};
std::optional<Months> months_of_season(int season);  // absent for the seasons proper, 21 to 32

// print.cpp. A year of any size as EDTF: "0985", "-0044", "Y12345".
std::string print_year(std::int64_t);
std::string print_zone(std::string_view zone);  // +0430 as +04:30
std::string print(const Date&);
std::string print(const Shape&);

// refusal.cpp, informal.cpp.
Problem refusal(std::string_view text, const Fault&);
std::string excerpt(std::string_view text);  // short enough and clean enough to stand in a sentence
std::string character_at(std::string_view text, std::size_t at);  // "'s'", or "the end" behind the last one
std::string_view month_name(int month);
// What someone who writes "c. 1934" or "1930-35" would write in EDTF: "1934~", "1930/1935"; empty when it is not
// plain. Several readings are several texts. Each of them parses.
std::vector<std::string> informal(std::string_view text);

}  // namespace footring::edtf

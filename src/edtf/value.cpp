// SPDX-License-Identifier: Apache-2.0
// From the shape of a text to the value: its level, days, marks and spans of years.
#include <algorithm>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

// Level 1 knows unspecified digits only as 201X, 20XX, 2004-XX, 1985-04-XX and 1985-XX-XX.
bool unspecified_from_the_right(const Date& date) {
    if (date.year.masked)
        return !date.month && date.year.digit[0] != 'X' && date.year.digit[1] != 'X' && date.year.digit[3] == 'X';
    if (date.month.masked) return date.month.text() == "XX" && (!date.day || date.day.text() == "XX");
    return date.day.text() == "XX";
}

int level_of(const Date& date, bool alone) {
    if (date.significant != 0 || date.exponent || date.season > 24) return 2;
    if (!date.evenly_marked()) return 2;
    if (date.masked()) return alone && unspecified_from_the_right(date) ? 1 : 2;
    return date.negative || date.kind != Date::Kind::kCalendar || date.marks_of_any() != kNoMark ? 1 : 0;
}

int level_of(const Shape& shape) {
    if (shape.kind == Shape::Kind::kDate) return level_of(shape.one.start.date, true);
    if (shape.kind != Shape::Kind::kInterval) return 2;
    int level = 0;
    for (const Bound* bound : {&shape.one.start, &shape.one.end})
        level = std::max(level, bound->is_date() ? level_of(bound->date, false) : 1);
    return level;
}

End softness(const Date& date) {
    if ((date.year.marks & kUnsure) != 0) return End::kUncertain;
    const bool rounded = date.significant != 0 && date.first_year != date.last_year;
    return (date.year.marks & kRough) != 0 || date.year.masked || rounded ? End::kAbout : End::kSharp;
}

Span span_of(const Item& item) {
    Span span;
    if (item.start.is_date()) {
        span.first = item.start.date.first_year;
        span.first_end = softness(item.start.date);
    }
    if (item.last().is_date()) {
        span.last = item.last().date.last_year;
        span.last_end = softness(item.last().date);
    }
    return span;
}

// Keeps the outermost day; one absent day, an open end or a season, makes the whole absent.
void widen(std::optional<Day>& kept, const std::optional<Day>& day, bool first, bool later) {
    if (first) kept = day;
    else if (!kept || !day) kept.reset();
    else kept = later ? std::max(*kept, *day) : std::min(*kept, *day);
}

}  // namespace

Edtf Reader::value(std::string_view text, const Shape& shape) {
    Edtf value;
    value.text_ = text;
    value.level_ = level_of(shape);
    const auto items = shape.items();
    value.spans_.reserve(items.size());
    Marks marks = kNoMark;
    const std::optional<Day> none;
    for (const Item& item : items) {
        const Bound &start = item.start, &end = item.last();
        widen(value.earliest_, start.is_date() ? start.date.earliest : none, value.spans_.empty(), false);
        widen(value.latest_, end.is_date() ? end.date.latest : none, value.spans_.empty(), true);
        marks |= start.date.marks_of_any() | end.date.marks_of_any();
        value.spans_.push_back(span_of(item));
    }
    value.approximate_ = (marks & kRough) != 0;
    value.uncertain_ = (marks & kUnsure) != 0;
    return value;
}

Expected<Edtf> parse(std::string_view text) {
    Reader reader(text);
    Shape shape;
    if (!reader.read(shape)) return std::unexpected(refusal(text, reader.fault()));
    return Reader::value(text, shape);
}

}  // namespace footring::edtf

// SPDX-License-Identifier: Apache-2.0
// The canonical text: no blanks, each mark written once, on the right where it holds for all that stands before it.
#include <fmt/format.h>

#include <iterator>

#include "edtf/shape.h"

namespace footring::edtf {

namespace {

std::string_view text_of(Marks marks) {
    constexpr std::string_view kText[] = {"", "?", "~", "%"};
    return kText[marks];
}

std::string print_long_year(const Date& date) {
    std::string out = fmt::format("Y{}{}", date.negative ? "-" : "", date.mantissa);
    if (date.exponent) out += fmt::format("E{}", *date.exponent);
    return out;
}

// ?2004-06-~11 marks components one by one, 2004-06~-11 the first ones together, 2004-06-11% all of them.
std::string print_calendar(const Date& date) {
    const Component* const parts[] = {&date.year, &date.month, &date.day};
    const std::size_t count = date.day ? 3 : date.month ? 2 : 1;
    std::size_t alike = 0;  // components from the first one on that bear its mark
    while (alike < count && date.year.marks != kNoMark && parts[alike]->marks == date.year.marks) ++alike;
    bool others = false;
    for (std::size_t i = alike; i < count; ++i) others |= parts[i]->marks != kNoMark;
    const std::size_t together = alike == count || alike >= 2 || !others ? alike : 0;
    std::string out;
    for (std::size_t i = 0; i < count; ++i) {
        if (i > 0) out += '-';
        if (i >= together) out += text_of(parts[i]->marks);
        if (i == 0 && date.negative) out += '-';
        out += parts[i]->text();
        if (i + 1 == together) out += text_of(date.year.marks);
    }
    return out;
}

std::string print(const Bound& bound, std::string_view open) {
    switch (bound.kind) {
        case Bound::Kind::kDate:
            return print(bound.date);
        case Bound::Kind::kOpen:
            return std::string(open);
        case Bound::Kind::kUnknown:
            break;
    }
    return {};
}

std::string print(const Item& item, std::string_view between, std::string_view open) {
    if (item.single) return print(item.start.date);
    return fmt::format("{}{}{}", print(item.start, open), between, print(item.end, open));
}

}  // namespace

std::string print_year(std::int64_t year) {
    if (year > 9999 || year < -9999) return fmt::format("Y{}", year);
    return fmt::format("{}{:04}", year < 0 ? "-" : "", year < 0 ? -year : year);
}

std::string print_zone(std::string_view zone) {
    return zone.size() == 5 ? fmt::format("{}:{}", zone.substr(0, 3), zone.substr(3)) : std::string(zone);
}

std::string print(const Date& date) {
    std::string out;
    switch (date.kind) {
        case Date::Kind::kCalendar:
            out = print_calendar(date);
            break;
        case Date::Kind::kSeason:
            out = fmt::format("{}-{}", print_year(date.written_year), date.season);
            break;
        case Date::Kind::kLongYear:
            out = print_long_year(date);
            break;
    }
    if (date.significant != 0) out += fmt::format("S{}", date.significant);
    if (!date.time.empty()) out += fmt::format("T{}{}", date.time, print_zone(date.zone));
    return out;
}

std::string print(const Shape& shape) {
    if (shape.kind == Shape::Kind::kDate || shape.kind == Shape::Kind::kInterval)
        return print(shape.one, "/", "..");
    std::string out(1, shape.kind == Shape::Kind::kOneOf ? '[' : '{');
    for (const Item& item : shape.many) {
        if (out.size() > 1) out += ',';
        out += print(item, "..", "");
    }
    return out + (shape.kind == Shape::Kind::kOneOf ? ']' : '}');
}

std::string print(const Edtf& date) {
    Shape shape;
    return Reader(date.text()).read(shape) ? print(shape) : date.text();
}

bool operator==(const Edtf& a, const Edtf& b) { return print(a) == print(b); }

}  // namespace footring::edtf

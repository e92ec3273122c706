// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/text.h"
#include "edtf/shape.h"

namespace footring::edtf {

namespace {

constexpr std::size_t kLongestExcerpt = 40;  // characters; enough to recognise a date, short enough for one line

std::size_t length_of_character(std::string_view text, std::size_t at) {
    std::size_t length = 1;
    while (at + length < text.size() && (static_cast<unsigned char>(text[at + length]) >> 6) == 2) ++length;
    return length;
}

// Counted in characters from 1, as a person counts.
std::size_t number_of_character(std::string_view text, std::size_t at) {
    std::size_t number = 1;
    for (std::size_t i = 0; i < at && i < text.size(); i += length_of_character(text, i)) ++number;
    return number;
}

std::string general_remedy() {
    return "write a date such as 1934, 1934-05, 1934~ (about), 193X (the 1930s), 1931/1940 or ../1940 (not later)";
}

}  // namespace

std::string excerpt(std::string_view text) {
    std::string out;
    std::size_t characters = 0;
    for (std::size_t i = 0; i < text.size();) {
        if (++characters > kLongestExcerpt) return out + "...";
        const std::size_t length = length_of_character(text, i);
        const std::string_view character = text.substr(i, length);
        const bool control = static_cast<unsigned char>(character[0]) < 0x20 || character[0] == 0x7F;
        out += control || !is_utf8(character) ? "?" : character;
        i += length;
    }
    return out;
}

std::string character_at(std::string_view text, std::size_t at) {
    if (at >= text.size()) return "the end";
    if (text[at] == ' ') return "a blank";
    return fmt::format("'{}'", excerpt(text.substr(at, length_of_character(text, at))));
}

std::string_view month_name(int month) {
    constexpr std::string_view kNames[] = {"January", "February", "March",     "April",   "May",      "June",
                                           "July",    "August",   "September", "October", "November", "December"};
    return kNames[month - 1];
}

Problem refusal(std::string_view text, const Fault& fault) {
    Problem problem;
    problem.code = ProblemCode::kBadInput;
    problem.where = fmt::format("date '{}'", excerpt(text));
    problem.what = fault.what;
    if (!text.empty()) problem.what += fmt::format(" (character {})", number_of_character(text, fault.at));
    for (const std::string& meant : informal(text))
        problem.remedy += (problem.remedy.empty() ? "write " : " or ") + meant;
    if (problem.remedy.empty()) problem.remedy = fault.remedy.empty() ? general_remedy() : fault.remedy;
    return problem;
}

}  // namespace footring::edtf

// SPDX-License-Identifier: Apache-2.0
// Any bytes at all as a scheme of date codes and a code: a line each for the pattern, the tables and the code. A
// scheme is refused with its column, or every code that is read by it has whole readings: dates that are EDTF,
// weights that add up to 1, and years that are those that decode() gives.
#include <algorithm>
#include <cmath>
#include <cstdint>
#include <set>

#include "base/text.h"
#include "book/code_scheme.h"
#include "edtf/edtf.h"
#include "holds.h"

using namespace footring;
using namespace footring::book;

namespace {

constexpr int kFirst = 1870, kLast = 1990;

std::string line_of(std::string_view& rest) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    std::string line(rest.substr(0, end));
    rest.remove_prefix(std::min(end + 1, rest.size()));
    return line;
}
void check_refusal(const Problem& problem) {
    HOLDS(problem.code == ProblemCode::kBadInput);
    HOLDS(!problem.where.empty() && !problem.what.empty() && !problem.remedy.empty());
}
void check_readings(const std::vector<CodeReading>& readings, const std::vector<int>& decoded) {
    double sum = 0;
    std::set<int> years;
    for (const CodeReading& reading : readings) {
        sum += reading.weight;
        HOLDS(reading.weight > 0);
        HOLDS(std::ranges::is_sorted(reading.years) &&
              std::ranges::adjacent_find(reading.years) == reading.years.end());
        HOLDS(reading.date.empty() == reading.years.empty());
        if (!reading.date.empty()) HOLDS(edtf::parse(reading.date).has_value());
        for (const int year : reading.years)
            if (year >= kFirst && year <= kLast) years.insert(year);
    }
    HOLDS(readings.empty() || std::abs(sum - 1) < 1e-9);
    HOLDS(std::ranges::equal(decoded, years));
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    std::string_view rest(reinterpret_cast<const char*>(data), size);
    if (!is_utf8(rest)) return 0;  // tables of other bytes are refused before they come here
    CodeScheme scheme;
    scheme.id = "s";
    scheme.pattern = line_of(rest);
    scheme.tables = line_of(rest);
    const std::string code = line_of(rest);
    const auto sound = check(scheme);
    if (!sound) {
        check_refusal(sound.error());
        HOLDS(sound.error().where == "pattern" || sound.error().where == "tables");
    }
    const auto read = readings(scheme, code, kFirst, kLast);
    const auto years = decode(scheme, code, kFirst, kLast);
    if (!sound) HOLDS(!read && !years);
    if (!read) check_refusal(read.error());
    if (!years) check_refusal(years.error());
    if (read && years) check_readings(*read, *years);
    return 0;
}

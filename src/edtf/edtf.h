// edtf/edtf.h - dates as the reference states them: EDTF, levels 0 to 2 (ISO 8601-2:2019).
//   in      the text of a date, an interval, a season, a set or a list
//   out     a value that prints back to the text it came from, and its earliest and latest day
//   errors  kBadInput: what is wrong, at which character, and how it would be written
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "base/settings.h"

namespace footring::edtf {

struct Day {  // proleptic Gregorian; year 0 is 1 BCE
    std::int64_t year;
    int month, day;
    friend auto operator<=>(const Day&, const Day&) = default;
};

// How sharply a span ends. Unspecified digits (193X) count as kAbout.
enum class End { kSharp, kAbout, kUncertain };

// A run of whole years, both ends included. An absent end is open or unknown: no limit on that side.
struct Span {
    std::optional<std::int64_t> first, last;
    End first_end = End::kSharp, last_end = End::kSharp;
    friend bool operator==(const Span&, const Span&) = default;
};

class Edtf {
  public:
    const std::string& text() const { return text_; }                 // as it was read
    int level() const { return level_; }                              // 0, 1 or 2: the least level that allows it
    const std::optional<Day>& earliest() const { return earliest_; }  // absent: open, unknown or a season
    const std::optional<Day>& latest() const { return latest_; }
    bool approximate() const { return approximate_; }          // any part marked ~ or %
    bool uncertain() const { return uncertain_; }              // any part marked ? or %
    const std::vector<Span>& spans() const { return spans_; }  // one, or several for a set or list; never empty
    friend bool operator==(const Edtf&, const Edtf&);  // they state the same: their canonical texts are equal

  private:
    friend struct Reader;
    std::string text_;
    int level_ = 0;
    std::optional<Day> earliest_, latest_;
    bool approximate_ = false, uncertain_ = false;
    std::vector<Span> spans_;
};

Expected<Edtf> parse(std::string_view text);
std::string print(const Edtf&);     // canonical text; parse(print(x)) equals x
std::string in_words(const Edtf&);  // "about 1934", "between 1931 and 1940", "1930 or later"

// 1930-35 is the third quarter of 1930, and yet many who write it mean five years. Says so, for a check to show as
// a warning; empty when the text cannot be taken for two years.
std::string caution(const Edtf&);

// How far `year` belongs to the date: 1 inside, falling linearly to 0 over soft_about_years or
// soft_uncertain_years outside a soft end, 0 beyond. For several spans the largest counts.
double weight(const std::vector<Span>&, std::int64_t year, const Settings&);

// weight() for the years first..last, one number a year; not normalised.
std::vector<double> year_weights(const Edtf&, int first, int last, const Settings&);

// "1931/1940", or "1934" when both are equal.
std::string from_years(int first, int last);

}  // namespace footring::edtf

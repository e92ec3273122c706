// dating/sequence.h - numbers were given out in order: from dated numbers, the year of an undated one.
//   Model   The year in which a number was given out never falls as numbers rise. The least-squares line of that
//   kind
//           (isotonic regression) is found by pooling neighbours that are out of order (PAVA); between two dated
//           numbers it is straight, beyond the first and last it stays level and says so.
//   Weights 1 / (1 + variance of the dated year): a year that is known sharply weighs 1, a period less.
//   Outliers A dated number further from the line of weighted medians (which a few wrong ones cannot drag along)
//   than
//           sequence_outlier typical deviations (1.4826 times the median deviation, at least a year) is named, left
//           out.
//   Interval Each of sequence_resamples draws as many dated numbers with replacement, each with a year drawn from
//   its
//           period, fits the line anew, and adds the deviation of one of the numbers: sequence_interval of what it
//           gives, together with the line itself. Seeded: the same input gives the same interval.
//   source  Barlow, Bartholomew, Bremner and Brunk, Statistical Inference under Order Restrictions, 1972
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"

namespace footring::dating {

// The non-decreasing values nearest to `y` in weighted squares. Weights are positive; as long as y, or empty for
// ones.
std::vector<double> isotonic(std::span<const double> y, std::span<const double> weights = {});
// The same in weighted absolute deviations: block by block the weighted median.
std::vector<double> isotonic_medians(std::span<const double> y, std::span<const double> weights);

struct DatedNumber {
    std::string name;            // of what bears it: a treatment's id
    std::int64_t number = 0;     // in its sequence
    double first = 0, last = 0;  // years between which it was given out
    std::vector<book::Ref<book::Source>> sources;
    std::optional<book::Ref<book::Treatment>> treatment = std::nullopt;  // absent: not from a Book
    double middle() const { return (first + last) / 2; }
    double weight() const { return 1 / (1 + (last - first) * (last - first) / 12); }  // variance of an even spread
};
struct Outlier {
    std::size_t at;     // index into Sequence::dated
    double line;        // what the line says
    double deviations;  // how many typical deviations away, with sign
};
struct Sequence {
    std::vector<DatedNumber> dated;  // by number
    std::vector<double> line;        // year at each of them, outliers included
    std::vector<Outlier> outliers;
    double typical_years = 1;  // typical deviation from the line
};
struct NumberYear {
    std::int64_t number = 0;
    double year = 0, low = 0, high = 0;
    enum class Where { kBetween, kBefore, kAfter } where = Where::kBetween;  // of the dated numbers
};
// kBadInput with fewer than three dated numbers.
Expected<Sequence> fit_sequence(std::vector<DatedNumber>, const Settings&);
NumberYear year_of_number(const Sequence&, std::int64_t number, const Settings&, std::uint32_t seed = 1);
// The same for many at once, over the same resamples: each answer is what year_of_number gives for it alone.
std::vector<NumberYear> years_of_numbers(const Sequence&, std::span<const std::int64_t> numbers, const Settings&,
                                         std::uint32_t seed = 1);

// "H-117" is 117 of the sequence "h-"; absent: no digits, or more than nine, or something behind them, or a figure
// or ? before.
struct SequenceNumber {
    std::string sequence;
    std::int64_t number;
};
std::optional<SequenceNumber> sequence_number(std::string_view text);
// One sequence: numbers that share what stands before their figures, on a shape, on every shape of a maker, or
// (neither) on all. Numbers of second-grade ware were often those of the first run with something added, and run
// beside them: they are a sequence of their own.
struct SequenceOf {
    std::optional<book::Ref<book::Shape>> shape;
    std::optional<book::Ref<book::Maker>> maker;
    std::string sequence;
    bool seconds = false;
    bool holds(const book::Book&, const book::Treatment&) const;  // its number aside
};
// A treatment is dated by the beginning of its years, else by its earliest dated use, which gives
// soft_uncertain_years before it as a period.
std::vector<DatedNumber> dated_numbers(const book::Book&, const SequenceOf&, const Settings&);
// Whether a number is one of seconds: of `of` (whose `seconds` does not count), it is recorded for second-grade
// ware alone, or it is recorded for none and lies within the numbers of seconds and not within the others.
bool is_number_of_seconds(const book::Book&, const SequenceOf& of, std::int64_t number);

// EDTF of its interval; open on the side where no dated number lies.
std::string edtf_of(const NumberYear&);
std::string_view name_of(NumberYear::Where);  // between, before, after
nlohmann::ordered_json sequence_json(const book::Book&, const Sequence&, const std::vector<NumberYear>&);

}  // namespace footring::dating

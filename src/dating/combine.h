// dating/combine.h - when was it made? Statements about years, each as far as its source is trusted, put together.
//   in      statements, each with how well every year of a range agrees with it (1 fully .. 0 not at all) and the
//           chance that it holds at all; every year of the range is as likely as another before they are heard
//   out     the distribution over years, and of each statement what it cut off
//   Model   A statement that holds speaks of a year drawn from those that agree with it, agrees[y] / sum(agrees);
//   one
//           that does not hold speaks of any year of the n alike. All speak of the same year, so a statement weighs
//           year y with trust * agrees[y] / mean(agrees) + 1 - trust, and the product of all is the answer. Heard
//           alone, a statement holds with just the chance of its trust, whether it tells one year or fifty; with
//           trust 1 the answer is that of naming (docs/model.md): equal over the years in which everything was in
//           use.
//   No I/O. Deterministic; the order of statements does not matter.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <span>
#include <string>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "dating/contradictions.h"
#include "edtf/edtf.h"
#include "naming/answer.h"

namespace footring::dating {

struct YearStatement {
    std::string subject;         // "glaze oat"
    std::string what;            // "in use 1924 to 1949"
    std::vector<double> agrees;  // one number a year of the range, 0..1, the largest is 1
    double trust = 1;            // (0, 1]: the chance that it holds
    std::vector<book::Ref<book::Source>> sources;
    std::string row;  // "glazes.csv:2"; empty: not from a table of the Book
};

struct Heard {
    double holds = 1;  // chance that the statement holds, after all were heard
    // Share of the years' chances that it alone takes away before and after the final median, beside all the
    // others; from the years that agree with it most it takes nothing.
    double cut_before = 0, cut_after = 0;
};

struct YearsTogether {
    std::vector<double>
        by_year;               // sums to 1; all zero when statements that are fully trusted contradict each other
    std::vector<Heard> heard;  // one a statement
    Contradictions contradictions;
};

// What a statement makes of each year: mean 1 over the years, unless it agrees with none of them.
std::vector<double> weights_of(const YearStatement&);
// The distribution alone, when nobody asks what each statement did.
std::vector<double> years_of(std::span<const YearStatement>, std::size_t years);
// All `agrees` have the length of `years`; at least one year.
YearsTogether combine(std::span<const YearStatement>, std::size_t years);

// Statements as the tables make them.
std::vector<double> agrees_with(const edtf::Edtf&, int first_year, int last_year, const Settings&);
std::vector<double> agrees_with_years(const std::vector<int>&, int first_year, int last_year);
// From dated uses alone, as if they were drawn evenly from a period whose ends are not known: 1 between the first
// and the last, and d years outside (R / (R + d)) ^ max(n - 1, 1) with R = last - first + reach. That is the
// predictive density of one more draw under a flat prior on both ends.
std::vector<double> agrees_with_uses(std::vector<int> uses, double reach, int first_year, int last_year);
// A year with a standard deviation, as a number sequence gives it: exp(-(y - mean)^2 / (2 sigma^2)).
std::vector<double> agrees_with_estimate(double mean, double sigma, int first_year, int last_year);
// Something that began in such a year and went on: the chance that it had begun, a normal distribution up to the
// end of the year.
std::vector<double> agrees_after_estimate(double mean, double sigma, int first_year, int last_year);

// The trust of what several sources say alike: 1 - prod(1 - trust). `otherwise` for a source without trust, and for
// no source at all.
double trust_of(const book::Book&, const std::vector<book::Ref<book::Source>>&, double otherwise);

}  // namespace footring::dating

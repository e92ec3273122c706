// naming/answer.h - what the program says of a piece: odds, grade, date, reasons, next looks, conflicts.
//   Plain data; naming/examine.h makes it, everything after only shows it.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "base/quantity.h"
#include "book/book.h"

namespace footring::naming {

struct Candidate {
    book::Ref<book::Treatment> treatment;
    double probability;                             // over all hypotheses, open ones included
    std::vector<book::Ref<book::Treatment>> twins;  // no look at this form can tell them from it
};
struct OpenOdds {
    double unlisted = 0;   // a treatment of a known shape that no pack lists
    double elsewhere = 0;  // made or decorated elsewhere
};
struct GradeOdds {
    double first = 0, second = 0;
};
struct DateAnswer {
    std::vector<double> by_year;  // by_year[i] is the probability of year first_year + i; sums to 1
    int first_year = 0;
    int median = 0;
    std::pair<int, int> hpd68{}, hpd95{};  // shortest runs of years that hold 68 % and 95 %
    std::string edtf;                      // hpd95 as EDTF
};
// Something in the Book that an answer leaned on.
struct Support {
    std::string row;  // "treatment_ornaments.csv:31"
    std::vector<book::Ref<book::Source>> sources;
};
struct Reason {
    std::string look;   // a place, or shape, glaze, mark, number, date_code, faults
    std::string value;  // what was seen there
    Decibans weight;    // for the best candidate against all the rest
    std::vector<Support> supports;
};
struct NextLook {
    std::string look;  // a place, or shape, glaze, mark, number, faults; "underside": mark and number at once
    Bits treatment, grade, year;  // expected fall of entropy
    Minutes effort;
    double bits_per_minute;  // of treatment
};
struct Conflict {
    std::vector<std::string> statements;  // a minimal set that cannot all hold
};
struct Answer {
    std::vector<Candidate> candidates;  // most probable first; ties in the order of the Book
    OpenOdds open;
    GradeOdds grade;
    DateAnswer date;
    std::vector<Reason> reasons;  // heaviest first, by absolute weight
    std::vector<NextLook> next;   // most bits per minute first
    std::vector<Conflict> conflicts;
    std::vector<std::string> notes;  // sentences: what was said of the piece and weighs nothing, and why
    std::string verdict;             // one or two sentences in plain words
};

}  // namespace footring::naming

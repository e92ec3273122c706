// dating/piece_statements.h - what is stated of the years of one piece, when it is a certain treatment.
//   in      the Book as its form shows it, what was seen on the piece, a treatment; none: no listed one
//   out     periods of maker, shape, glaze, ornaments and treatment, dated uses, the number's place in its
//   sequence;
//           then the mark and the date code that were seen. The years of the latter are those that naming gives
//           them (naming/years_given.h), so that where every source is fully trusted and nothing else is known the
//           date is the one that naming has.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "dating/combine.h"
#include "looks/resolve.h"
#include "naming/form_view.h"

namespace footring::dating {

// The years that are considered: those of the view. Statements have one number for each.
struct YearRange {
    int first, last;
    std::size_t size() const { return static_cast<std::size_t>(last - first + 1); }
};
YearRange range_of(const naming::FormView&);

struct PieceStatements {
    std::vector<YearStatement> statements;
    std::size_t looks_from = 0;  // from here on: the mark and the date code
    // What mark and code make of each year together: P(looks | year) as far as their sources are trusted, over
    // P(looks) where they are trusted fully, which is what naming's odds of the treatment hold already.
    std::vector<double> looks;
};

// Keeps what the treatments of one piece have in common. Refers to the view and the findings.
class PieceGatherer {
  public:
    PieceGatherer(const naming::FormView&, const looks::Findings&);
    ~PieceGatherer();
    PieceStatements of(std::optional<book::Ref<book::Treatment>>);

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace footring::dating

// dating/assemblage.h - pieces that came together: a lot, an estate, a dig.
//   in      of each piece how likely every year is (examine, or a decided date), over one range of years
//   out     mean ceramic date, terminus post quem, how many pieces each year has (aoristic sums), what is out of
//   step source  mean ceramic date: South, Method and Theory in Historical Archeology, 1977: sum(count * median
//   date) /
//           sum(count). Aoristic sums: Johnson, in Crossing Borders (CAA 2004): each find's weight spread over its
//           years.
//   No I/O. Deterministic.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "base/settings.h"

namespace footring::dating {

struct DatedPiece {
    std::string id;
    int count = 1;                // equal pieces that it stands for
    std::vector<double> by_year;  // sums to 1; of all pieces over the same years
};

// Of kinds with a median date each: the formula as it was published. Counts are positive.
struct MeanDate {
    double mean = 0;
    double spread = 0;                     // weighted standard deviation of the median dates
    std::optional<double> standard_error;  // spread / sqrt(count); needs two pieces
};
struct CountedDate {
    double median;
    double count;
};
MeanDate mean_ceramic_date(std::span<const CountedDate>);

struct PieceStep {
    std::size_t piece;  // index
    double within;      // share of its years that fall within those of the rest: sum min(p, mean of the others)
    bool earlier;       // than the rest, by its median
};
struct Assemblage {
    int first_year = 0;
    MeanDate mean_date;                  // of the pieces' medians
    int terminus_post_quem = 0;          // the latest "not before" of any piece
    std::size_t terminus_piece = 0;      // whose
    std::vector<double> pieces_by_year;  // aoristic sums; sum to the number of pieces
    std::vector<PieceStep> out_of_step;  // least within first
    std::vector<int> medians;            // of each piece
    std::vector<int> not_before;         // of each piece: the year before which 2.5 % of its chances lie
};
// How likely every year from `first` on is, of a piece that somebody dated: equal over the years of the date,
// falling off at its soft ends; an open end reaches to first_year or last_year. Absent: no EDTF date.
struct YearShares {
    int first = 0;
    std::vector<double> share;  // sums to 1
};
std::optional<YearShares> shares_of_date(std::string_view date, const Settings&);

// kBadInput: no piece.
Expected<Assemblage> assemble(std::span<const DatedPiece>, int first_year, const Settings&);

// The same of pieces whose years do not begin alike.
struct Member {
    std::string id;
    bool decided = false;  // its years are those that a person decided on
    YearShares years;
};
Expected<Assemblage> assemble(const std::vector<Member>&, const Settings&);
nlohmann::ordered_json assemblage_json(const std::vector<Member>&, const Assemblage&);

}  // namespace footring::dating

// dating/piece_years.h - the years of one piece from everything that is known of it.
//   in      the piece's findings and naming's answer for it (who made it: treatments with their odds), further
//           statements that hold whoever made it (wording clues, a number's place in its sequence)
//   out     the distribution over years, its shortest runs, EDTF; the statements of the likeliest hypothesis with
//   what
//           each cut off; every smallest set of them that cannot all hold
//   Model   For each treatment its own statements (maker, shape, glaze, ornaments, the treatment, its dated uses,
//   the
//           mark and the code that were seen) are combined (dating/combine.h); the hypotheses are mixed by their
//           odds from naming, times how well their years agree with the further statements.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "dating/combine.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::dating {

inline constexpr std::size_t kMostHypotheses = 24;  // treatments mixed; the rest are shared out among them

// The years that are considered: those of naming's answer. `further` statements are made for them too.
struct YearRange {
    int first, last;
    std::size_t size() const { return static_cast<std::size_t>(last - first + 1); }
};
YearRange range_of(const naming::Answer&);

struct HypothesisYears {
    std::optional<book::Ref<book::Treatment>> treatment;  // absent: none that the packs list
    double probability = 0;                               // after the further statements
    int median = 0;
};
struct PieceYears {
    naming::DateAnswer date;
    std::vector<YearStatement> statements;    // of the likeliest hypothesis, with the further ones
    YearsTogether together;                   // of these statements
    std::vector<HypothesisYears> hypotheses;  // likeliest first
};

// kBadInput when fully trusted statements leave no year to any hypothesis: the sentence names a smallest set.
Expected<PieceYears> date_piece(const book::Book&, const looks::Findings&, const naming::Answer&,
                                const std::vector<YearStatement>& further, const Settings&);

std::string sentence(const YearStatement&);  // "glaze oat in use 1924 to 1949"
// The members and their order are docs/commands.md#date.
nlohmann::ordered_json date_json(const book::Book&, const std::string& piece, const PieceYears&,
                                 const std::vector<std::string>& notes = {});

// What holds of a piece when it is that treatment; of no listed one when absent: what was seen on it.
std::vector<YearStatement> statements_of(const book::Book&, const looks::Findings&,
                                         std::optional<book::Ref<book::Treatment>>, YearRange, const Settings&);

}  // namespace footring::dating

// dating/piece_years.h - the years of one piece from everything that is known of it.
//   in      the piece's findings and naming's answer for it (who made it: treatments with their odds), further
//           statements that hold whoever made it (wording clues)
//   out     the distribution over years, its shortest runs, EDTF; the statements of the likeliest hypothesis with
//           what each cut off; every smallest set of them that cannot all hold
//   Model   For each treatment its own statements (dating/piece_statements.h) are combined (dating/combine.h). The
//           hypotheses are mixed by their odds from naming, times how well their years agree with the further
//           statements, and with mark and code when these are trusted less than naming trusts them. Where every
//           source is trusted fully, and nothing is known that naming does not hear, this is naming's own date.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "dating/piece_statements.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::dating {

inline constexpr std::size_t kMostHypotheses = 24;  // treatments mixed; the rest are shared out among them

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
// `view` and `answer` are of the form of the findings.
Expected<PieceYears> date_piece(const naming::FormView& view, const looks::Findings&, const naming::Answer&,
                                const std::vector<YearStatement>& further);

std::string sentence(const YearStatement&);  // "glaze oat in use 1924 to 1949"
// The members and their order are docs/commands.md#date.
nlohmann::ordered_json date_json(const book::Book&, const std::string& piece, const PieceYears&,
                                 const std::vector<std::string>& notes = {});

}  // namespace footring::dating

// exchange/reply.h - the answer to a letter: what the pieces in it are, in plain words with odds in words and
// figures.
//   in      who asked, and for each piece the looks that were made of it and what the engine says of them
//   out     paragraphs of plain text, and what photographs to ask for next (from the next looks)
//   It says what speaks for the name and with which sources, what else it could be, what would settle it, and the
//   cautions that belong to such ware; it is an opinion on photographs, no appraisal, and says so.
//   The same input gives the same text. No I/O.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "care/cautions.h"
#include "looks/piece.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::exchange {

struct AskedPiece {
    looks::Piece piece;
    looks::Findings findings;
    naming::Answer answer;
    std::vector<care::Caution> cautions;
};
struct Question {
    std::string name;     // of who asked; empty: not known
    std::string subject;  // empty: not known
};
struct Reply {
    std::vector<std::string> paragraphs;  // the letter, from the salutation to the signature
    std::vector<std::string> asks;        // photographs and looks to ask for, in order of what they would tell
    std::string text() const;             // paragraphs with an empty line between
};

// What may be drawn as the likeliest: the first candidate, unless an open hypothesis has more of the odds.
std::optional<book::Ref<book::Treatment>> drawn_likeliest(const naming::Answer&);

// `signature`: as it is to stand under the letter; empty: none.
Reply reply(const book::Book&, const Question&, const std::vector<AskedPiece>&, const std::string& signature);

}  // namespace footring::exchange

// exchange/identified.h - what the kept pieces are, for the rooms that reckon with them: services and worth.
//   What a person decided of a piece goes before what naming says of it. Pieces of letters are others' and left
//   out. in      a Namer, by whoever keeps the Book laid out by form errors  of one piece: what looks::resolve()
//   has against it. Of all pieces: only the store's; a piece that names
//           what no open pack has is there, and stands nowhere and is worth nothing that is known.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "naming/answer.h"
#include "services/fit.h"
#include "store/store.h"
#include "worth/asked.h"
#include "worth/holdings.h"

namespace footring::exchange {

using Problems = std::vector<Problem>;

struct Namer {
    const book::Book& book;
    const Settings& settings;
    std::function<Expected<naming::Answer>(const looks::Findings&)> answer;  // without reasons
};

std::expected<services::Owned, Problems> owned(const Namer&, const looks::Piece&,
                                               const std::optional<store::Decision>&, const std::string& where);
std::expected<std::vector<services::Owned>, Problems> owned_pieces(const Namer&, const store::Store&);

std::expected<worth::Identified, Problems> identified(const Namer&, const worth::Things&, const looks::Piece&,
                                                      const worth::Manner&, const std::string& where);
std::expected<worth::Identified, Problems> identified(const Namer&, const worth::Things&, const store::PieceRecord&,
                                                      worth::Manner, const std::string& where);

// Every piece that can be priced, with when it came; what cannot goes to `without`.
struct Holdings {
    std::vector<worth::Holding> holdings;
    std::vector<store::PieceRecord> records;  // of the same
    std::vector<std::string> words;           // of the same
    struct Without {
        std::string piece, why;
    };
    std::vector<Without> without;
    int other_currency = 0;  // costs that are in another one
};
// `lot` and `place`: only those; empty: all.
std::expected<Holdings, Problems> holdings_of(const Namer&, const worth::Things&, const store::Store&,
                                              const worth::Prices&, worth::Market, const std::string& lot,
                                              const std::string& place);
// The price of what a holding may be, in one market.
worth::Interval in_market(const worth::Prices&, const worth::Holding&, worth::Market, double year);

}  // namespace footring::exchange

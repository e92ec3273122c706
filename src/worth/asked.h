// worth/asked.h - what is asked about worth, read from JSON: a thing that is described, its manner, a haul.
//   The same members in a haul file, in the body of a request and in docs/worth.md. Every fault is told at once, as
//   `where: /pieces/2/form: what: remedy`.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <functional>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "worth/haul.h"

namespace footring::worth {

using Problems = std::vector<Problem>;

// {form, treatment?, shape?, size_mm?}: ids of the Book. `manner` gets the size.
std::expected<Described, Problems> described_from_json(const nlohmann::json&, const book::Book&, Manner& manner,
                                                       const std::string& where);
// condition, grade, market of an object.
std::expected<Manner, Problems> manner_from_json(const nlohmann::json&, const std::string& where);
// "Dinner plate, 117 Fern"
std::string words_of(const Things&, const Described&);

// What the day is: "2026-03-01" -> 2026.17. A date to come is allowed, up to 20 years after `today`.
Expected<double> year_asked(std::string_view date, std::string_view today, std::string_view where);

// How a piece file, or the id of a piece, becomes the things that it may be: whoever asks knows naming and the
// store.
struct Identified {
    std::string words;
    std::vector<Identity> identities;
};
using Identify = std::function<std::expected<Identified, Problems>(const nlohmann::json&, const Manner&,
                                                                   const std::string& where)>;

struct HaulAsk {
    std::string name;
    std::vector<HaulPiece> pieces;
    HaulCosts costs;
    std::string currency, date;
};
// {name?, pieces:[{thing | form ..., or piece: a piece file, or piece_id; condition?, grade?, market?, count?}],
//  premium_percent?, tax_percent?, carriage?, selling_percent?, selling_each?, margin_percent?, bid?, market?,
//  currency?, date?}
std::expected<HaulAsk, Problems> haul_from_json(const nlohmann::json&, const Things&, const Identify& piece_file,
                                                const Identify& piece_id, const std::string& where);

}  // namespace footring::worth

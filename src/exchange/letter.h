// exchange/letter.h - a question that came, the pieces in it, and what was answered: the body of a Record "letter".
//   The pieces are kept like others, under their ids, but they are not one's own: whoever counts what one has
//   leaves them out (borrowed()). errors  every fault at once, `where` is a JSON pointer: "letter: /state"
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <expected>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::exchange {

// new: nothing was done; asked: more was asked for; answered: the reply went out; closed: nothing more will come.
inline constexpr std::array<std::string_view, 4> kLetterStates = {"new", "asked", "answered", "closed"};

struct Letter {
    std::string name, address;  // who asked, and where the reply goes
    std::string received;       // EDTF
    std::string subject, text;
    std::string state = "new";
    std::vector<std::string> pieces;  // ids, in the order of the letter
    std::string reply;                // as it went out or is to go out
    std::string answered;             // EDTF, when; empty: not yet
    bool sighting = false;            // the person agrees that what was found is counted among the sightings
    std::string note;
    friend bool operator==(const Letter&, const Letter&) = default;
};

nlohmann::json to_json(const Letter&);
std::expected<Letter, std::vector<Problem>> letter_from_json(const nlohmann::json&, std::string_view where);

// The pieces of all letters: they belong to others.
Expected<std::set<std::string>> borrowed(const store::Store&);

// Marks these pieces as private, those that are not: what others own is shown to no reader.
Expected<void> hide_pieces(store::Store&, const std::vector<std::string>& ids);
// The same for the pieces of every letter, such as came in by import.
Expected<void> hide_borrowed(store::Store&);

// All other pieces, in order of their ids: what one has.
Expected<std::vector<store::PieceRecord>> own_pieces(const store::Store&);

// What of a store is set on paper: with Sight::kReaders nothing private, and never the pieces of letters unless
// they are asked for by name.
struct OnPaper {
    std::unique_ptr<store::Store> view;  // of readers; null with Sight::kAll, and when no store is open
    const store::Store* store = nullptr;
    std::set<std::string> others;
    store::Sight sight = store::Sight::kReaders;
};
// `store` may be null: none is open. It must outlive the answer.
Expected<OnPaper> on_paper(store::Store* store, store::Sight);

// A decided piece of an answered letter whose person agreed: somewhere, one more of that treatment was seen.
struct Sighting {
    std::string piece, treatment;  // treatment: full id
    std::string letter, seen;      // id of the letter; when it came, EDTF
};
Expected<std::vector<Sighting>> sightings(const store::Store&);

}  // namespace footring::exchange

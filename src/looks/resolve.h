// looks/resolve.h - a piece tied to the Book: every id looked up once, at the door.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <optional>
#include <variant>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "looks/piece.h"

namespace footring::looks {

struct Absent {  // looked at, not there
    friend bool operator==(Absent, Absent) = default;
};
struct Present {  // there, not recognised (something, worn)
    friend bool operator==(Present, Present) = default;
};

template <class T>
struct Sighting {
    std::variant<Absent, Present, book::Ref<T>> value;
    double sure;  // chance that it is right
};
struct OrnamentSighting : Sighting<book::Ornament> {
    book::Place place;
    std::size_t look;  // index into Piece::looks
};
struct NumberSighting {
    std::optional<std::string> pattern;  // absent: looked at, no number
    double sure;
};

// A piece with every id resolved. Absent fields were not looked at.
struct Findings {
    std::optional<book::Ref<book::Form>> form;
    std::optional<Sighting<book::Shape>> shape;
    std::optional<Sighting<book::Glaze>> glaze;
    std::optional<Wear> wear;
    std::vector<OrnamentSighting> ornaments;
    std::optional<Sighting<book::Mark>> mark;
    std::optional<NumberSighting> number;
    std::string date_code;
    std::optional<Faults> faults;
};

// Every unknown id at once, each with a suggestion; `where` names the file or page.
std::expected<Findings, std::vector<Problem>> resolve(const Piece&, const book::Book&, const Settings&,
                                                      std::string_view where);

}  // namespace footring::looks

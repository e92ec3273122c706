// looks/piece.h - one piece as it was seen: the piece file of docs/pieces.md.
//   A field that is absent (or null, or an empty text) was not looked at; "none" was looked at and is not there.
//   in      JSON, UTF-8, at most 16 MB, nested at most 64 deep
//   errors  every fault at once, as `file: /looks/2/place` (JSON pointer); a fault of the JSON itself as
//           file:line:column
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <concepts>
#include <cstdint>
#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "base/settings.h"
#include "book/book.h"

namespace footring::looks {

enum class Sure : std::uint8_t { kSure, kLikely, kGuess };
enum class Wear : std::uint8_t { kNone, kLight, kModerate, kHeavy };
enum class Faults : std::uint8_t { kNone, kFew, kMany };
inline constexpr std::array<std::string_view, 3> kSureNames = {"sure", "likely", "guess"};
inline constexpr std::array<std::string_view, 4> kWearNames = {"none", "light", "moderate", "heavy"};
inline constexpr std::array<std::string_view, 3> kFaultsNames = {"none", "few", "many"};
double sureness(Sure, const Settings&);

// An id of the Book, or one of the words below where the field allows them.
struct Seen {
    std::string value;
    Sure sure = Sure::kSure;
    friend bool operator==(const Seen&, const Seen&) = default;
};
inline constexpr std::string_view kNone = "none";            // looked at, not there
inline constexpr std::string_view kSomething = "something";  // there, not recognised
inline constexpr std::string_view kWorn = "worn";            // traces of something

struct Look {
    book::Place place;
    Seen seen;  // ornament id, none, something or worn
    friend bool operator==(const Look&, const Look&) = default;
};

struct Piece {
    std::string id;
    std::string form;           // empty: not known
    std::optional<Seen> shape;  // shape id
    std::optional<Seen> glaze;  // glaze id
    std::optional<Wear> wear;
    std::vector<Look> looks;
    std::optional<Seen> mark;    // mark id, none or something
    std::optional<Seen> number;  // as read; ? one illegible character, * any run; or none
    std::string date_code;       // empty: not looked at
    std::optional<Faults> faults;
    std::optional<double> length_mm, width_mm, height_mm;
    std::vector<std::string> photos;
    friend bool operator==(const Piece&, const Piece&) = default;
};

inline constexpr double kLongestMm = 2000;  // lengths are over 0 and at most this: no tableware is larger

// Every fault of the file at once; `where` is its name. `notes` receives what was read and ignored
// (fields that no piece file has). Ids are not looked up here: see resolve() in looks/resolve.h.
std::expected<Piece, std::vector<Problem>> piece_from_json(std::string_view text, std::string_view where,
                                                           std::vector<std::string>& notes);
std::expected<Piece, std::vector<Problem>> piece_from_value(const nlohmann::json&, std::string_view where,
                                                            std::vector<std::string>& notes);
// A template, so that a text is never taken for a JSON string.
template <std::same_as<nlohmann::json> Json>
auto piece_from_json(const Json& value, std::string_view where, std::vector<std::string>& notes) {
    return piece_from_value(value, where, notes);
}
// A file of one piece or of an array of pieces; places then begin with the index: `file: /0/looks/2/place`.
std::expected<std::vector<Piece>, std::vector<Problem>> pieces_from_json(std::string_view text,
                                                                         std::string_view where,
                                                                         std::vector<std::string>& notes);
// Whether to_json() of it is a piece file without a fault, as is nearly every piece that was made from one. Much
// quicker than writing and reading it; when it is false, doing that names the fault.
bool is_sound(const Piece&);
nlohmann::ordered_json to_json(const Piece&);  // fields in the order of docs/pieces.md; absent ones left out

}  // namespace footring::looks

// dating/chronology.h - the years of one ornament across shapes, of a shape, a maker, a glaze, a treatment, or of
// one's own pieces, laid out for a picture: lanes by shape, bars by treatment, dated uses, glazes, numbers, pieces.
//   in      the Book, what is asked for, and pieces that were dated already (place_piece)
//   out     whole years. A span is firm from `first` to `last`; its weight falls to nothing at `soft_first` and
//           `soft_last` (equal to the firm ones at a sharp end). An end that is open or unknown is clipped to the
//           years of the maker, else to first_year or last_year.
//   order   lanes by their first year, then by name; bars by number; ticks by date; everything deterministic
//   cost    proportional to what is shown: 5,000 bars take some tens of milliseconds
//   No I/O.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "looks/resolve.h"
#include "naming/answer.h"

namespace footring::dating {

inline constexpr std::size_t kMostPieces = 2000;  // shown; the others are told of in a note

struct OwnPieces {
    std::string lot;   // empty: the whole cupboard
    std::string name;  // of the lot; whoever has the store fills it in
    friend bool operator==(const OwnPieces&, const OwnPieces&) = default;
};
using ChronologyOf = std::variant<book::Ref<book::Ornament>, book::Ref<book::Shape>, book::Ref<book::Maker>,
                                  book::Ref<book::Glaze>, book::Ref<book::Treatment>, OwnPieces>;
// "ornament:fern-pair", "shape:..", "maker:..", "glaze:..", "treatment:..", "lot:lot-0001", "cupboard".
// kBadInput: another word before the colon; kNotFound: no open pack has the id.
Expected<ChronologyOf> chronology_of(const book::Book&, std::string_view text, std::string_view where);

struct SoftSpan {
    int soft_first = 0, first = 0, last = 0, soft_last = 0;
    friend bool operator==(const SoftSpan&, const SoftSpan&) = default;
};
// Of all spans of a date together; `within` is what open ends are clipped to.
SoftSpan soft_span(const edtf::Edtf&, std::pair<int, int> within, const Settings&);

// A piece with its place in the picture.
struct ChronologyPiece {
    std::string id;
    std::optional<book::Ref<book::Form>> form;
    std::optional<book::Ref<book::Shape>> lane;           // decided, seen, or likelier than not
    std::optional<book::Ref<book::Glaze>> glaze;          // the same
    std::optional<book::Ref<book::Treatment>> treatment;  // decided, or likelier than not
    std::vector<book::Ref<book::Ornament>> ornaments;     // that were seen on it
    bool decided = false;
    int median = 0;
    std::pair<int, int> hpd68{}, hpd95{};
};
// `decided`: the treatment that a person decided on, and the date (EDTF) that goes before the answer's.
struct DecidedAs {
    std::optional<book::Ref<book::Treatment>> treatment;
    std::string date;
};
ChronologyPiece place_piece(const book::Book&, std::string id, const looks::Findings&, const naming::Answer&,
                            const std::optional<DecidedAs>& decided, const Settings&);

struct Bar {
    book::Ref<book::Treatment> treatment{};
    std::vector<book::Place> places;  // where the ornament sits, when an ornament was asked for
    SoftSpan span;
    std::string edtf, words;
    bool stated = true;  // false: no years are recorded for it; they are those of its shape, glaze and ornaments
    std::vector<book::Ref<book::Source>> sources;
};
struct Lane {
    book::Ref<book::Shape> shape;
    std::optional<SoftSpan> span;
    std::vector<Bar> bars;
};
struct Tick {
    std::uint32_t use;  // index into Book::dated_uses
    SoftSpan span;
    std::optional<book::Ref<book::Shape>> lane;
    std::optional<book::Ref<book::Treatment>> treatment;
};
struct ShownGlaze {
    book::Ref<book::Glaze> glaze;
    std::optional<SoftSpan> span;
};
struct NumberPoint {
    book::Ref<book::Shape> shape;
    std::string sequence;  // what stands before the figures, in lower case
    bool seconds = false;  // numbers of second-grade ware are a sequence of their own
    std::int64_t number = 0;
    double year = 0, low = 0, high = 0;  // dated: its own years; undated: the line with its interval
    double line = 0;
    book::Ref<book::Treatment> treatment;
    bool dated = false, outlier = false;
};
struct Chronology {
    ChronologyOf of;
    std::string title, table, id, name;  // "Fern pair across shapes", "ornament", "fern-pair", "Fern pair"
    std::optional<SoftSpan> span;        // of what was asked for
    std::string words;
    std::vector<book::Ref<book::Source>> sources;
    int first = 0, last = 0;  // years that hold all of it
    std::vector<Lane> lanes;
    std::vector<Tick> ticks;
    std::vector<ShownGlaze> glazes;
    std::vector<NumberPoint> numbers;
    std::vector<ChronologyPiece> pieces;
    std::vector<std::string> notes;
};
// `pieces`: any; those that have nothing to do with what was asked for are left out (of a lot or the cupboard: all
// that are given belong).
Chronology chronology(const book::Book&, const ChronologyOf&, std::vector<ChronologyPiece> pieces, const Settings&);
nlohmann::ordered_json chronology_json(const book::Book&, const Chronology&);

}  // namespace footring::dating

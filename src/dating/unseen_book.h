// dating/unseen_book.h - what is still unseen of a Book: the numbers of each shape, and how many treatments there
// are.
//   in      the Book; sightings besides its dated uses (the decided pieces of a cupboard)
//   out     of each sequence of numbers the highest that was given out and those missing; of the treatments several
//           estimates of how many there are, and how many so many sightings show
//   Sightings are the dated uses of treatments and those given; finds are the sources of dated uses and the finds
//   that come with what is given (lots). No I/O.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"
#include "dating/unseen.h"

namespace footring::dating {

struct UnseenOf {  // all that are given have to hold; none: every treatment
    std::optional<book::Ref<book::Shape>> shape;
    std::optional<book::Ref<book::Maker>> maker;
    std::optional<book::Ref<book::Ornament>> ornament;  // that it carries somewhere
};
struct SeenTreatment {
    std::string treatment;  // full id; one that no open pack has is passed over
    std::string find;       // "lot lot-0003"; empty: of no find
};

// Numbers of one shape that were given out in one order.
struct ShapeSequence {
    book::Ref<book::Shape> shape;
    std::string prefix;    // what stands before the figures, in lower case
    bool seconds = false;  // of second-grade ware: a sequence of its own
    bool apart = false;    // stands behind a gap that is too wide for chance: taken for a sequence of its own
    std::vector<std::int64_t> numbers;  // ascending, each once
    std::vector<NumberRun> missing;
    std::int64_t missing_count = 0;
    std::int64_t before_first = 0;
    std::size_t left_out = 0;  // numbers below the first that was given
    std::optional<MaximumNumber> estimate;
};
struct Unseen {
    std::vector<ShapeSequence> sequences;
    Abundance times;
    Finds finds;
    std::size_t listed = 0;  // treatments of the packs
    std::vector<Richness> estimates;
    std::string maximum_assumes;  // in words
};
// `from`: the first number that was given out; absent: the lowest recorded is taken for granted.
Unseen unseen_of(const book::Book&, const UnseenOf&, const std::vector<SeenTreatment>&,
                 std::optional<std::int64_t> from, const Settings&);
nlohmann::ordered_json unseen_json(const book::Book&, const Unseen&);

}  // namespace footring::dating

// exchange/reexamine.h - what the engine says of pieces now, beside what it said before: of decided ones when they
// were
//   decided, of the others with the packs as they were at the last review.
//   When the Book changes, answers change; a decision does not, until its person has looked at it again.
//   in      two answers of `examine --json` (naming/answer_json.h) for one piece, older and newer
//   out     what changed, in sentences, and why: the looks whose weight moved, with the rows and sources they lean
//   on
//           now, and candidates that came or went. Nothing when the answers say the same.
//   limits  a shift of a probability under kShift, of a weight under kWeight decibans and of the middle year under
//           kYears years is no change: answers wobble by less when an unrelated row is added
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <functional>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "store/store.h"

namespace footring::exchange {

inline constexpr double kShift = 0.05, kWeight = 1.0;
inline constexpr int kYears = 1;

struct Shifted {
    std::vector<std::string> what;  // "The likeliest was 117 (61 %) and is 162 (70 %)."
    struct Reason {
        std::string look, value;
        double before = 0, after = 0;            // decibans
        std::vector<std::string> rows, sources;  // what the newer answer leans on; of the older where it has none
    };
    std::vector<Reason> why;         // the largest shift first
    std::vector<std::string> notes;  // candidates that came or went
    bool same() const { return what.empty(); }
};
// `decided`: the full id of the decided treatment; empty: nothing was decided. `book` gives numbers for ids, where
// it has them.
Shifted compare_answers(const nlohmann::json& before, const nlohmann::json& after, const std::string& decided,
                        const book::Book& book);

struct Reexamined {
    store::PieceRecord record;             // as it is kept
    std::optional<nlohmann::json> before;  // what was said when it was decided, or what the packs said as they were
    std::optional<nlohmann::json> after;   // absent: the piece cannot be examined with these packs
    std::vector<Problem> problems;         // why
    Shifted shifted;
};
using Examine = std::function<std::expected<nlohmann::json, std::vector<Problem>>(const looks::Piece&)>;

struct Reexamination {
    int seen = 0;        // pieces
    int up_to_date = 0;  // decided with these very packs
    int same = 0;        // the answer says the same
    int unknown = 0;     // there is nothing to compare with
    std::vector<Reexamined> changed;
    bool stopped = false;
};
// Every decided piece that was decided with other packs than `packs`; and, when it is known what the packs said as
// they were (`before`), every other piece. `told` is called after each piece with how many of how many are done
// and, when it changed, the piece; it returns false to stop. Nothing is stored.
Expected<Reexamination> reexamine(const store::Store&, const book::Book&, const std::string& packs,
                                  const Examine& now, const Examine& before,
                                  const std::function<bool(int done, int of, const Reexamined*)>& told);

nlohmann::ordered_json reexamined_json(const Reexamined&);

}  // namespace footring::exchange

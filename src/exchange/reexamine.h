// exchange/reexamine.h - what the engine says of decided pieces now, beside what it said when they were decided.
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
// `decided`: the full id of the decided treatment. `book` gives numbers for ids, where it has them.
Shifted compare_answers(const nlohmann::json& before, const nlohmann::json& after, const std::string& decided,
                        const book::Book& book);

struct Reexamined {
    store::PieceRecord record;            // as it is kept: its decision, and what was said then
    std::optional<nlohmann::json> after;  // absent: the piece cannot be examined with these packs
    std::vector<Problem> problems;        // why
    Shifted shifted;
};
using Examine = std::function<std::expected<nlohmann::json, std::vector<Problem>>(const looks::Piece&)>;

struct Reexamination {
    int seen = 0, up_to_date = 0, same = 0;  // decided pieces; already with these packs; the answer says the same
    std::vector<Reexamined> changed;
    bool stopped = false;
};
// Every decided piece that was decided with other packs than `packs`. `told` is called after each piece with how
// many of how many are done and, when it changed, the piece; it returns false to stop. Nothing is stored.
Expected<Reexamination> reexamine(const store::Store&, const book::Book&, const std::string& packs, const Examine&,
                                  const std::function<bool(int done, int of, const Reexamined*)>& told);

nlohmann::ordered_json reexamined_json(const Reexamined&);

}  // namespace footring::exchange

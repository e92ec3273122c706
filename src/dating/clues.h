// dating/clues.h - what the wording on an underside tells of when a piece was made.
//   in      text as a person typed it or a camera read it: any case, spelling slips, line breaks; at most 20 000
//   bytes out     every clue of the open packs in it (clues.csv, numbers of number_series.csv, the wording of
//   marks.csv), with
//           where it stands, and the years that all of them allow together
//   errors  kTooLarge beyond the limit; kBadInput when the text is not UTF-8 or has no letter
//   A clue whose words lie inside those of a longer one ("England" in "Made in England") is told, and does not
//   count.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/settings.h"
#include "book/book.h"

namespace footring::dating {

inline constexpr std::size_t kLongestText = 20'000;

struct TextSpan {  // characters of the text, from 0; `end` is behind the last
    std::size_t begin = 0, end = 0;
    friend bool operator==(const TextSpan&, const TextSpan&) = default;
};
struct SeriesReading {
    std::int64_t number = 0;
    std::string given;  // EDTF: the year or years in which it was given out; "../1879" before the table begins
};
struct FoundClue {
    std::string clue;        // id of the row in clues, number_series, marks or trade_counts
    std::string kind;        // law, practice, number, mark or count
    std::string name, text;  // as people call it; as it stands in the text
    TextSpan span;
    double likeness = 1;  // 1: letter for letter; 1 - cost / letters
    std::string years;    // EDTF of when such ware was made; empty: it does not say
    std::string rarely;   // EDTF of when it is met besides, seldom
    std::string jurisdiction, rule, note;
    book::Verified verified = book::Verified::kNo;
    std::optional<double> trust;  // of the least trusted source that has one
    double weight =
        1;  // how far it counts: that trust, less for what was not verified, for a habit, for bad spelling
    std::vector<book::Ref<book::Source>> sources;
    std::string row;  // "clues.csv:12"
    std::optional<SeriesReading> number;
    std::string within;  // id of the longer clue that holds it; empty: it counts
};
struct ClueAnswer {
    std::vector<FoundClue> clues;  // in the order of the text, longer ones first
    std::string years;  // EDTF of what all that count allow; when they exclude each other, what those of more
                        // weight allow; empty: nothing, or those that exclude each other weigh the same
    bool only_rarely = false;            // `years` holds only if a clue is one of the rare ones
    std::vector<std::string> conflict;   // ids of clues that exclude each other: two, or all that count
    std::vector<std::string> set_aside;  // ids of those that `years` does without, for they weigh less
};

// How well each year of first..last agrees with a clue: 1 within `years`, less in those in which it is rare.
std::vector<double> clue_agrees(const FoundClue&, int first_year, int last_year, const Settings&);
// The wording of a Book made ready to be looked for: phrases as letters, patterns compiled. Worth keeping for
// several texts, as a FormView is for several pieces. Refers to the Book.
class ClueFinder {
  public:
    explicit ClueFinder(const book::Book&);
    ~ClueFinder();
    ClueFinder(ClueFinder&&) noexcept;
    Expected<ClueAnswer> find(std::string_view text, const Settings&) const;

  private:
    struct Ready;
    std::unique_ptr<const Ready> ready_;
};
// For one text.
Expected<ClueAnswer> find_clues(const book::Book&, std::string_view text, const Settings&);
nlohmann::ordered_json clues_json(const book::Book&, const ClueAnswer&);

}  // namespace footring::dating

// store/words.h - text as it is searched and sorted, the same in every database.
//   fold()         lower case, accents and ligatures undone: "Chêne Æ" is "chene ae"
//   index_words()  what a record is found by: each word, and its tail from each inner sign on, so that "t-117" in
//                  "demo:t-117" is found by "demo", "t-117", "t117" and "117", but not by "17"
//   query_words()  what the person typed; each must begin some index word. Only letters and digits are left, so
//   that
//                  no text can mean anything else to a database.
//   natural_key()  sorts as a person does: "9" before "117", "p-2" before "p-10"; nothing at all sorts last
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace footring::store {

inline constexpr std::size_t kLongestWord = 64;     // bytes; longer words are found by their beginning
inline constexpr std::size_t kMostQueryWords = 16;  // more would only slow the answer
// Of all the words of a record, with the blanks between: those of the first texts count. What an index of
// PostgreSQL takes for one record; some hundred thousand words.
inline constexpr std::size_t kMostIndexBytes = 1'000'000;

std::string fold(std::string_view utf8);
std::string index_words(const std::vector<std::string_view>& texts);  // joined by blanks, no word twice
std::vector<std::string> query_words(std::string_view typed);
// Whether each of query_words() begins a word of what index_words() gave.
bool has_words(std::string_view indexed, const std::vector<std::string>& query);
// Each word's first `letters` characters; words with a digit whole.
std::vector<std::string> beginnings(const std::vector<std::string>& words, int letters);
std::string natural_key(std::string_view text);

}  // namespace footring::store

// store/change_words.h - the sentence of the history, made from the difference of two records.
//   "Rim: fern-pair (sure). Wear: moderate." What is no longer recorded says so: "Glaze: not looked at."
//   Long texts are shortened; more than a dozen differences are counted: "... and 3 more."
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "store/store.h"

namespace footring::store {

// `before` absent: the record is new.
std::string change_in_words(const PieceRecord* before, const PieceRecord& after);
std::string change_in_words(const Lot* before, const Lot& after);
// Of the body's own members; their names are the labels: "hammer_price" is said as "Hammer price".
std::string change_in_words(const Record* before, const Record& after);

}  // namespace footring::store

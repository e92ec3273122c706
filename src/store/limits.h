// store/limits.h - what a record must be before it is stored: checked once, at the door.
//   errors  kTooLarge over a limit, kBadInput for text that is no UTF-8 or holds NUL, amounts that are no amounts,
//           grades and pieces that no piece file could hold; the first fault, `where` names the field
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "store/store.h"

namespace footring::store {

inline constexpr std::size_t kMostTextBytes = 64 * 1024;
inline constexpr std::size_t kMostIdBytes = 200;
inline constexpr std::size_t kMostAnswerBytes = 1024 * 1024;
inline constexpr std::size_t kMostBodyBytes = 1024 * 1024;
inline constexpr int kDeepestBody = 64;  // levels; what reads JSON level by level must not run out of stack

Expected<void> check_id(std::string_view id, std::string_view where);  // not empty, no control characters
Expected<void> check(const PieceRecord&, std::string_view where);      // its id may still be empty
Expected<void> check(const Lot&, std::string_view where);
Expected<void> check(const PhotoMeta&, std::string_view where);
Expected<void> check(const Reading&, std::string_view where);
Expected<void> check(const Record&, std::string_view where);  // its id may still be empty
Expected<void> check_sentence(std::string_view what);
Expected<void> check(const Query&);

}  // namespace footring::store

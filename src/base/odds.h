// base/odds.h - odds as people say them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

namespace footring {

// "very likely", "about even", "all but ruled out". Symmetric about one half, so that "unlikely" is exactly the
// other side of "likely".
std::string odds_in_words(double share);
// "71 in 100"; "over 99 in 100" and "under 1 in 100" where rounding would claim certainty.
std::string odds_in_figures(double share);

}  // namespace footring

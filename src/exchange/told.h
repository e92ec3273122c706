// exchange/told.h - how far an import is, told now and then to whoever asked for it; it can be stopped there.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <functional>
#include <string_view>

namespace footring::exchange {

// `step` is one of the words below, with `done` of `of` rows. False stops: nothing is stored then.
using Told = std::function<bool(std::string_view step, std::size_t done, std::size_t of)>;
inline constexpr std::string_view kReading = "reading", kComparing = "comparing", kStoring = "storing";

inline constexpr std::size_t kToldEvery = 500;  // rows
// Whether to go on behind row `done`.
inline bool told_of(const Told& told, std::string_view step, std::size_t done, std::size_t of) {
    return !told || (done % kToldEvery != 0 && done != of) || told(step, done, of);
}

}  // namespace footring::exchange

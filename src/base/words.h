// base/words.h - words put together, for sentences and labels.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace footring {

std::string capital(std::string_view);  // the first letter, when it is one of ASCII
// Those that are not empty, with `between` between them.
std::string joined(const std::vector<std::string>&, std::string_view between);
std::string listed(const std::vector<std::string>&, std::string_view last = " and ");  // "a, b and c"

}  // namespace footring

// SPDX-License-Identifier: Apache-2.0
#include "photo/reading.h"

#include <cstddef>

namespace footring::photo {

std::string_view name_of(OutlineKind kind) {
    constexpr std::string_view kNames[] = {"none", "round", "oval", "square", "octagonal", "other"};
    return kNames[static_cast<std::size_t>(kind)];
}

}  // namespace footring::photo

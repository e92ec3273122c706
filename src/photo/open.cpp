// SPDX-License-Identifier: Apache-2.0
#include "photo/open.h"

#include "photo/develop.h"
#include "photo/image_header.h"

namespace footring::photo {

Expected<Picture> open(std::string_view bytes, std::string_view where) {
    const auto header = admit(bytes, where);
    if (!header) return std::unexpected(header.error());
    auto developed = develop(bytes, *header, where);
    if (!developed) return std::unexpected(developed.error());
    return std::move(developed->picture);
}

}  // namespace footring::photo

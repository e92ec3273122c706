// SPDX-License-Identifier: Apache-2.0
#include "photo/open.h"

#include <algorithm>

#include "photo/develop.h"
#include "photo/image_header.h"

namespace footring::photo {

namespace {
Expected<Developed> developed_from(std::string_view bytes, std::string_view where, int longest) {
    const auto header = admit(bytes, where);
    if (!header) return std::unexpected(header.error());
    DarkroomOptions options;
    options.longest = longest;
    return develop(bytes, *header, where, options);
}
}  // namespace

Expected<Picture> open(std::string_view bytes, std::string_view where) {
    auto developed = developed_from(bytes, where, 0);
    if (!developed) return std::unexpected(developed.error());
    return std::move(developed->picture);
}

Expected<Reduced> open_reduced(std::string_view bytes, std::string_view where, int longest) {
    auto developed = developed_from(bytes, where, longest);
    if (!developed) return std::unexpected(developed.error());
    Reduced out{std::move(developed->picture), 1, developed->full_width, developed->full_height};
    const int seen = std::max(out.picture.bgr.cols, out.picture.bgr.rows),
              full = std::max(out.full_width, out.full_height);
    while (full > out.by * seen) out.by *= 2;  // sides of a reduced picture are rounded up
    return out;
}

}  // namespace footring::photo

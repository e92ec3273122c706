// photo/thumbnail.h - is this a photograph that we take, and what does it look like small?
//   in      the bytes of a JPEG, PNG, WebP or TIFF file, at most 80 MB and 60 megapixels
//   out     type, size in px after EXIF rotation, and a JPEG at most `longest` px on its longer side
//   errors  kTooLarge before anything is decoded (the size stands in the header); kBadInput for what is no
//           photograph or is torn
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"

namespace footring::photo {

inline constexpr std::size_t kMostBytes = 80'000'000;
inline constexpr long long kMostPixels = 60'000'000;

struct Thumbnail {
    std::string type;  // "image/jpeg", ...
    int width, height;
    std::string jpeg;
};
Expected<Thumbnail> thumbnail(std::string_view bytes, int longest, std::string_view where);

}  // namespace footring::photo

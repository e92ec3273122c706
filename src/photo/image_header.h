// photo/image_header.h - what a photograph says about itself, read without decoding it.
//   in      the bytes of a file, of any kind
//   out     format, size as stored (before rotation), orientation (EXIF 2.32, tag 0x0112: 1 as stored ... 8),
//   whether
//           it has transparent parts
//   errors  kBadInput: no photograph that we take, torn, or moving. Sizes are not judged here.
//   source  JPEG: ISO/IEC 10918-1 annex B; PNG: ISO/IEC 15948; WebP: RFC 9649; TIFF: revision 6.0, 1992
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <string_view>

#include "base/problem.h"

namespace footring::photo {

enum class Format : std::uint8_t { kJpeg, kPng, kWebp, kTiff };
std::string_view mime_of(Format);

struct ImageHeader {
    Format format = Format::kJpeg;
    std::int64_t width = 0, height = 0;  // px, at least 1
    int orientation = 1;
    bool transparent = false;
};
Expected<ImageHeader> read_header(std::string_view bytes, std::string_view where);

}  // namespace footring::photo

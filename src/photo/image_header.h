// photo/image_header.h - what a photograph says about itself, read without decoding it.
//   in      the bytes of a file, of any kind
//   out     format, size as stored (before rotation), orientation (EXIF 2.32, tag 0x0112: 1 as stored ... 8),
//           whether it has transparent parts, where its EXIF block lies. HEIF turns and cuts its picture by itself:
//           the size is the largest that any of its parts claims, the orientation 1.
//   errors  kBadInput: no photograph that we take, torn, or moving. read_header() does not judge sizes; admit()
//   does,
//           and answers kTooLarge.
//   source  JPEG: ISO/IEC 10918-1 annex B; PNG: ISO/IEC 15948; WebP: RFC 9649; TIFF: revision 6.0, 1992; HEIF:
//           ISO/IEC 23008-12 (ispe, grid) in the boxes of ISO/IEC 14496-12
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>

#include "base/problem.h"

namespace footring::photo {

inline constexpr std::size_t kMostBytes = 80'000'000;
inline constexpr long long kMostPixels = 60'000'000;

enum class Format : std::uint8_t { kJpeg, kPng, kWebp, kTiff, kHeif };
std::string_view mime_of(Format);

struct ImageHeader {
    Format format = Format::kJpeg;
    std::int64_t width = 0, height = 0;  // px, at least 1
    int orientation = 1;
    bool transparent = false;
    std::string_view exif;  // within the bytes, from "II" or "MM" on; empty: none, or HEIF, whose library finds it
    std::string_view icc;   // within the bytes; of WebP only, the other libraries find it
};
Expected<ImageHeader> read_header(std::string_view bytes, std::string_view where);

// At most kMostBytes, a header that can be read, at most kMostPixels in it.
Expected<ImageHeader> admit(std::string_view bytes, std::string_view where);

}  // namespace footring::photo

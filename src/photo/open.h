// photo/open.h - a file's bytes become a Picture, in a process of its own that a hostile file cannot leave.
//   in      JPEG, PNG, HEIC/HEIF, WebP or TIFF, at most kMostBytes and kMostPixels; `where` names it in a Problem
//   out     sRGB through the embedded colour profile (lcms2), EXIF orientation applied, transparent parts on white,
//           16 bits a channel brought to 8
//   errors  kTooLarge by the header, before anything is decoded; kBadInput: no photograph, torn, moving, or its
//           decoding ran out of memory or time; kOurFault: the darkroom program cannot be started
//   How: `footring-darkroom`, which stands beside the running program, gets the bytes in one memory file and
//   answers into another, where the pixels stay. It limits its own memory and time and gives up files, processes
//   and network before it reads a byte.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

#include "base/problem.h"
#include "photo/picture.h"

namespace footring::photo {

Expected<Picture> open(std::string_view bytes, std::string_view where);

// Where fewer pixels do: the longer side has at least one and a half times `longest` (px, > 0), if it has as many
// at all. A JPEG is so decoded in a fraction of the time.
struct Reduced {
    Picture picture;
    int by = 1;                           // px of the photograph along each side of a pixel: 1, 2, 4 or 8
    int full_width = 0, full_height = 0;  // px, upright
};
Expected<Reduced> open_reduced(std::string_view bytes, std::string_view where, int longest);

}  // namespace footring::photo

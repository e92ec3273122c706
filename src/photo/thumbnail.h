// photo/thumbnail.h - is this a photograph that we take, and what does it look like small?
//   in      the bytes of a JPEG, PNG, HEIC, WebP or TIFF file, at most kMostBytes and kMostPixels;
//           `longest` in px, from 1 to 4096; `where` names the file in a Problem
//   out     type, size in px after EXIF rotation, and a JPEG (sRGB, transparent parts on white) of at most
//           `longest` px on its longer side, never larger than the photograph
//   errors  those of photo/open.h, which decodes it in a process of its own
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <string_view>

#include "base/problem.h"
#include "photo/image_header.h"

namespace footring::photo {

struct Thumbnail {
    std::string type;  // "image/jpeg", ...
    int width, height;
    std::string jpeg;
};
Expected<Thumbnail> thumbnail(std::string_view bytes, int longest, std::string_view where);

}  // namespace footring::photo

// photo/develop.h - the darkroom program, started, fed, watched, and its answer checked.
//   in      the bytes of a photograph and the header that admit() read from them
//   out     the picture; its full size, when fewer pixels than that were asked for
//   errors  as open.h says
//   Any number of threads may call at once. Nothing is left behind: no process, no descriptor.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "photo/image_header.h"
#include "photo/picture.h"

namespace footring::photo {

struct DarkroomOptions {
    std::string program;                 // empty: footring-darkroom, beside the running program
    std::vector<std::string> arguments;  // after its name
    // (0, ...) Then it is killed. It stops itself after 20 s of processor time, which take longer on a busy
    // machine.
    std::chrono::milliseconds patience{60000};
    int longest = 0;  // px [0, ...): the longer side need be no more than about twice this; 0: all pixels
};
struct Developed {
    Picture picture;
    int full_width = 0, full_height = 0;  // px, upright
};
Expected<Developed> develop(std::string_view bytes, const ImageHeader&, std::string_view where,
                            const DarkroomOptions& = {});

}  // namespace footring::photo

// photo/darkroom/try.h - the darkroom proves its confinement on itself: it confines itself as for a photograph,
// then tries a deed that is forbidden there.
//   in      open, socket, exec, fork, thread, kill, code, memory, write; with `bare-` before it, without being
//           confined, which shows that the deed can be done otherwise
//   out     exit status: 0 refused, 1 done, 2 no such deed
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>

namespace footring::photo::darkroom {

int try_deed(std::string_view deed);

}  // namespace footring::photo::darkroom

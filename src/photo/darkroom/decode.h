// photo/darkroom/decode.h - the decoders: bytes become pixels. Runs in the darkroom, where a hostile file may do
// its worst; the fuzzer runs it too.
//   in      a Request, the bytes, and where to get the memory of the picture once its size is known
//   out     an Answer
//   errors  an Answer whose outcome is not kDone; nothing is thrown
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <functional>
#include <string_view>

#include "photo/darkroom/exchange.h"

namespace footring::photo::darkroom {

// Memory for that many bytes, or nothing when there is none.
using Allocate = std::function<std::uint8_t*(std::size_t)>;

// Libraries that are loaded only when a file needs them; call it before giving up the right to open files.
bool prepare(Format);
Answer decode(const Request&, std::string_view bytes, const Allocate&);

}  // namespace footring::photo::darkroom

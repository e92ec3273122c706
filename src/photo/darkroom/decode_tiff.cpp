// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

void decode_tiff(Job&) { throw Refused{Outcome::kNotRead}; }

}  // namespace footring::photo::darkroom

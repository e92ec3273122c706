// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/decoders.h"

namespace footring::photo::darkroom {

bool prepare_heif() { return true; }
void decode_heif(Job&) { throw Refused{Outcome::kNotRead}; }

}  // namespace footring::photo::darkroom

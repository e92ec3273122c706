// services/json_reader.h - the reader of book/json_reader.h, for this room's formats.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include "book/json_reader.h"

namespace footring::services {

using book::JsonReader;

}  // namespace footring::services

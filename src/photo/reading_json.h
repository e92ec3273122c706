// photo/reading_json.h - a Reading as the JSON object that `footring read --json` prints and the web app draws.
//   Members and their order are docs/commands.md#read.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

#include "photo/reading.h"

namespace footring::photo {

nlohmann::ordered_json reading_json(const Reading&);

}  // namespace footring::photo

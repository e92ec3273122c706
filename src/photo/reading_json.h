// photo/reading_json.h - a Reading as the JSON object that `footring read --json` prints, the web app draws and the
// store keeps.
//   Members and their order are docs/commands.md#read. What was not found is null; `looks` and `piece` are the
//   suggestions in the words of the piece file.
//   Rounded  px to 0.01, plate units and s to 0.0001, mm to 0.01, degrees to 0.01, chances to 0.0001, colours to
//            0.01, mm_per_px and photo_from_plate to nine figures: finer than any of them is known.
//   The pictures of a Reading (strip_jpeg ... mark_png) are bytes and are kept apart.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "base/problem.h"
#include "photo/reading.h"

namespace footring::photo {

nlohmann::ordered_json reading_json(const Reading&);

// What reading_json wrote, read back: reading_json of the answer is the same JSON. Members that are missing keep
// their defaults, others are passed over. kBadInput where a member is not of the kind it should be, at
// `where: /border/repeats`.
Expected<Reading> reading_from_json(const nlohmann::json&, std::string_view where);

}  // namespace footring::photo

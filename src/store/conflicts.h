// store/conflicts.h - may this put happen, given what is stored under its id? The same for every kind of record.
//   errors  kNotFound: no such record; kConflict: taken, changed or removed since; `where` is "lot lot-0001"
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "store/tables.h"

namespace footring::store {

std::unexpected<Problem> no_such(std::string_view kind, const std::string& id);
Expected<void> check_revision(std::string_view kind, const std::string& id, std::int64_t revision,
                              const std::optional<Entry>& stored);

}  // namespace footring::store

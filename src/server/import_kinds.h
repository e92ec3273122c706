// server/import_kinds.h - what a table may be brought into, and how: pieces, sales, treatments of a pack.
//   To add one: its function in import_kinds.cpp with a line in kKinds, and its word in openapi.json.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>

#include "exchange/told.h"
#include "server/importer.h"

namespace footring::server {

// {"pieces": [{"field", "sentence"}], ...}: what a column may become.
nlohmann::ordered_json import_fields();
bool is_import_kind(std::string_view into);

// What it came to, as `ImportResult` of openapi.json; absent when it was stopped, with nothing stored.
std::expected<std::optional<nlohmann::ordered_json>, Problems> run_import(App&, BookEditor&, const ImportTable&,
                                                                          const ImportAsk&, const exchange::Told&);

}  // namespace footring::server

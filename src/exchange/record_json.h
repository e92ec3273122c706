// exchange/record_json.h - what is kept of a piece, as JSON: in the HTTP API, in exports and in cupboard folders.
//   Fields that are empty are written as empty text; optional ones (cost, decision, attribution) are left out.
//   Reading reports every fault at once and ignores what the store itself sets (created, changed).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::exchange {

nlohmann::ordered_json lot_json(const store::Lot&);
nlohmann::ordered_json record_json(const store::PieceRecord&);
nlohmann::ordered_json photo_json(const store::PhotoMeta&);
nlohmann::ordered_json change_json(const store::Change&);

std::expected<store::Lot, std::vector<Problem>> lot_from_json(const nlohmann::json&, std::string_view where);
// `notes` receives what was read and ignored. `attribution` is taken as it is: only imports keep it.
std::expected<store::PieceRecord, std::vector<Problem>> record_from_json(const nlohmann::json&,
                                                                         std::string_view where,
                                                                         std::vector<std::string>& notes);
// The decision alone: {treatment, grade, date, note}.
std::expected<store::Decision, std::vector<Problem>> decision_from_json(const nlohmann::json&,
                                                                        std::string_view where);

}  // namespace footring::exchange

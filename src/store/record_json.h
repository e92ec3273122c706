// store/record_json.h - records as JSON: how they are stored and kept in the history. What goes in and out of the
//   program is exchange/record_json.h: this form must stay readable for ever, that one may follow the API.
//   {"piece": {...}, "lot": "lot-0001", "place": "top shelf", "cost": 12.5, "currency": "GBP", "note": "...",
//    "search_words": "117 Oat Fern", "decision": {"treatment": "demo:t-117", "grade": "first", "date": "", "note":
//    ""}, "attribution": {"answer": {...}, "packs": "...", "when": "..."}, "created": "...", "changed": "...",
//    "revision": 12, "photos": ["<sha256>"]}
//   A Record: {"kind": "sale", "id": "sale-0001", "body": {...}, "created": "...", "changed": "...", "revision":
//   12} Empty and absent fields are left out; `piece` is a piece file (looks/piece.h). errors  kBadInput: the first
//   fault of the object; `where` names it
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "store/store.h"

namespace footring::store {

nlohmann::json to_json(const PieceRecord&);
nlohmann::json to_json(const Lot&);
nlohmann::json to_json(const PhotoMeta&);
nlohmann::json to_json(const Reading&);
nlohmann::json to_json(const Record&);

Expected<PieceRecord> piece_record_from_json(const nlohmann::json&, std::string_view where);
Expected<Lot> lot_from_json(const nlohmann::json&, std::string_view where);
Expected<PhotoMeta> photo_from_json(const nlohmann::json&, std::string_view where);
Expected<Reading> reading_from_json(const nlohmann::json&, std::string_view where);
Expected<Record> record_from_json(const nlohmann::json&, std::string_view where);

}  // namespace footring::store

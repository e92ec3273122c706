// server/records.h - pieces as the API shows and takes them: with photographs and the words of the reference.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <expected>
#include <nlohmann/json.hpp>

#include "server/app.h"
#include "store/store.h"

namespace footring::server {

// The record with `photos` and, when it is decided, the number and name of its treatment.
std::expected<nlohmann::ordered_json, Problems> full_record_json(const App&, const store::PieceRecord&);

// Makes a record ready to be stored: the ids of its piece are looked up when the piece is new or was changed, the
// treatment of its decision gets its full id, and a new decision gets what the engine says of the piece now.
// `before` absent: it is a new piece. What only the store or the server sets is taken from `before`.
std::expected<void, Problems> make_ready(App&, store::PieceRecord&, const store::PieceRecord* before);

// How many pieces the store has.
std::expected<std::int64_t, Problems> pieces_kept(const App&);

// After any change: the counts of the prior may be others now.
void note_change(App&);

}  // namespace footring::server

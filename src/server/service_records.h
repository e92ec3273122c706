// server/service_records.h - services and compositions as they are kept and as the API shows them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <vector>

#include "server/app.h"
#include "services/plan.h"
#include "store/store.h"

namespace footring::server {

inline constexpr const char* kServiceKind = "service";
inline constexpr const char* kCompositionKind = "composition";

// What is kept, read again; the id is that of the record.
std::expected<services::Service, Problems> service_of(const store::Record&);
std::expected<services::Composition, Problems> composition_of(const store::Record&);
std::expected<std::vector<services::Composition>, Problems> own_compositions(const App&);

nlohmann::ordered_json service_record_json(const App&, const store::Record&,
                                           const std::vector<services::Composition>& own);
nlohmann::ordered_json composition_record_json(const services::Composition&, const store::Record* kept);

// Every piece that is kept, with what it is: what the person decided, else the odds.
std::expected<std::vector<services::Owned>, Problems> owned_pieces(App&);
std::expected<services::Owned, Problems> owned_piece(App&, const looks::Piece&,
                                                     const std::optional<store::Decision>&);

}  // namespace footring::server

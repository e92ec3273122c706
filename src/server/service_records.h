// server/service_records.h - services and compositions as they are kept and as the API shows them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <vector>

#include "exchange/kept_services.h"
#include "server/app.h"
#include "services/plan.h"
#include "store/store.h"

namespace footring::server {

inline constexpr const char* kServiceKind = "service";
inline constexpr const char* kCompositionKind = "composition";

using exchange::composition_of;
using exchange::service_of;
std::expected<std::vector<services::Composition>, Problems> own_compositions(const App&);

nlohmann::ordered_json service_record_json(const App&, const store::Record&,
                                           const std::vector<services::Composition>& own);
nlohmann::ordered_json composition_record_json(const services::Composition&, const store::Record* kept);

// The allotment of that job, or of the newest that has one when `id` is empty. kNotFound when there is none.
std::expected<std::shared_ptr<const LaidOut>, Problems> laid_out(const App&, const std::string& id);

}  // namespace footring::server

// services/services_json.h - answers of this room as JSON, as the command prints it and the pages read it.
//   The members are docs/services.md#answers. Ids are the shortest that the open packs allow.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

#include "services/wants.h"

namespace footring::services {

nlohmann::ordered_json treatment_json(const book::Book&, book::Ref<book::Treatment>);  // {id, number, name}
nlohmann::ordered_json lines_json(const book::Book&, const PlannedService&);
nlohmann::ordered_json table_json(const Fitting&, const Allotment&, std::uint32_t service);
nlohmann::ordered_json allotment_json(const Fitting&, const Allotment&, const Prices&);
nlohmann::ordered_json wants_json(const Fitting&, const Wants&, const Prices&);
nlohmann::ordered_json parting_json(const Fitting&, const std::vector<Parted>&);
// `with`: the fitting that has the found piece, last.
nlohmann::ordered_json found_json(const Fitting& with, const Found&);
nlohmann::ordered_json why_json(const Fitting&, std::size_t piece, std::uint32_t service);
nlohmann::ordered_json moved_json(const std::vector<Moved>&);

}  // namespace footring::services

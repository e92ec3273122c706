// exchange/iiif.h - a piece's photographs as a manifest of the IIIF Presentation API 3.0: a canvas for each.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "exchange/described.h"

namespace footring::exchange {

// Of a piece that has photographs; a manifest has at least one canvas.
nlohmann::ordered_json iiif_manifest(const Described&, std::string_view base);
// A collection of manifests: those pieces that have photographs.
nlohmann::ordered_json iiif_collection(const std::vector<Described>&, std::string_view base);

}  // namespace footring::exchange

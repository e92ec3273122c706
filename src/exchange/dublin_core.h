// exchange/dublin_core.h - pieces as RDF/XML with the terms of the Dublin Core Metadata Initiative (ISO 15836).
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "exchange/described.h"

namespace footring::exchange {

std::string dublin_core(const std::vector<Described>&, std::string_view base);

}  // namespace footring::exchange

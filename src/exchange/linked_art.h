// exchange/linked_art.h - a piece as Linked Art: JSON-LD of a HumanMadeObject (Linked Art model 1.0, CIDOC-CRM).
//   Terms of the Getty vocabularies carry their URIs. Dates become the first and last moment that they allow. What
//   the person decided is said by an AttributeAssignment beside, because it is a judgement and not a fact.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <nlohmann/json.hpp>

#include "exchange/described.h"

namespace footring::exchange {

// `base`: an http address that ends the ids of pieces, makers and treatments begin with.
nlohmann::ordered_json linked_art(const Described&, std::string_view base);

}  // namespace footring::exchange

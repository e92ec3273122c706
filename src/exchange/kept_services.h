// exchange/kept_services.h - services and compositions as a store keeps them, and services.json of a cupboard
// folder
//   into a store.
//   in      {"compositions": [...], "services": [...]}, as docs/services.md writes them; each needs an id
//   out     one Record each, of the kinds composition and service
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/problem.h"
#include "book/book.h"
#include "services/service.h"
#include "store/store.h"

namespace footring::exchange {

// What is kept, read again; the id is that of the record.
std::expected<services::Service, std::vector<Problem>> service_of(const store::Record&);
std::expected<services::Composition, std::vector<Problem>> composition_of(const store::Record&);
std::expected<services::Given, std::vector<Problem>> kept_services(const store::Store&);  // every fault at once

// What is to be kept; every fault at once. With a `book`, treatments and forms are looked up in it.
std::expected<std::vector<store::Record>, std::vector<Problem>> service_records(const nlohmann::json&,
                                                                                const book::Book* book,
                                                                                const std::string& where);

}  // namespace footring::exchange

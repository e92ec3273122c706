// exchange/others.h - what is kept beside pieces and lots, as it goes out and comes in: sales, services, letters,
//   mappings; every kind of store/record_kinds.h.
//   out     [{"kind": "letter", "id": "letter-0001", "body": {...}}, ...], the body as it is kept
//   in      the same; a body is read as its kind is read (worth/sale.h, exchange/letter.h, services/service.h ...),
//   and
//           kept as it stands. One whose id is in the store is changed, when it differs
//   errors  every fault at once
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "base/problem.h"
#include "store/store.h"

namespace footring::exchange {

Expected<nlohmann::ordered_json> others_json(const store::Store&);  // all kinds, in the order of record_kinds.h
std::expected<std::vector<store::Record>, std::vector<Problem>> others_from_json(const nlohmann::json& list,
                                                                                 const std::string& where);

struct Others {
    int added = 0, changed = 0, unchanged = 0;
};
// Adds and changes them, all or none; a dry run only counts.
Expected<Others> keep_others(store::Store&, std::vector<store::Record>, bool dry_run);

}  // namespace footring::exchange

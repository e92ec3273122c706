// store/people_of_tables.h - the rules for accounts, sessions and the audit trail, over the Tables of any database.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>

#include "store/people.h"
#include "store/tables.h"

namespace footring::store {

std::unique_ptr<People> people_of(std::shared_ptr<Tables>, Now, std::string who);

}  // namespace footring::store

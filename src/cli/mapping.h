// cli/mapping.h - the option --map "Heading of the list=field", which may be repeated; nothing after = leaves a
// column out. SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "book/columns.h"
#include "cli/command.h"

namespace footring::cli {

// `fields`: what there is; every fault at once.
book::Mapping read_mapping(const Call&, const std::vector<std::string>& fields, std::vector<Problem>& problems);

}  // namespace footring::cli

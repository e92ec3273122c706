// cli/prices_input.h - recorded sales that a command line names, and what services may cost by them.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/command.h"
#include "cli/reference.h"
#include "exchange/reckoned.h"

namespace footring::cli {

// Every fault of every file at once in `problems`.
exchange::ReadSales read_sales(const std::vector<std::string>& paths, const exchange::SalesReading&, World&,
                               const book::Book&, std::vector<Problem>& problems);

// The sales of --sales, else those kept in the cupboard of --pieces, else sales.csv of the folder that it names.
exchange::KeptSales sales_for_services(const Call&, World&, const Reference&, std::vector<Problem>& problems);

// What services lack, priced. Without prices when there are too few sales and none were named.
std::expected<services::Prices, std::vector<Problem>> prices_for_services(const Call&, const Reference&,
                                                                          const services::Fitting&,
                                                                          const exchange::KeptSales&);

}  // namespace footring::cli

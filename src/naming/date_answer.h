// naming/date_answer.h - a distribution over years, summed up: median, shortest runs that hold 68 % and 95 %, EDTF.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "naming/answer.h"

namespace footring::naming {

// by_year[i] is the probability of year first_year + i; at least one year, sum 1.
DateAnswer date_answer(std::vector<double> by_year, int first_year);

}  // namespace footring::naming

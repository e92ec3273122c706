// store/time.h - moments as the store writes them: "2026-03-01T09:30:00Z", UTC, so that text order is time order.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <chrono>
#include <cstdint>
#include <string>

#include "base/problem.h"

namespace footring::store {

std::string utc(std::chrono::system_clock::time_point);
// kBadInput for days outside [0, 36500]; kOurFault when `moment` is not written as above.
Expected<std::string> seconds_after(const std::string& moment, std::int64_t seconds);  // kOurFault as below
Expected<std::string> days_before(const std::string& moment, int days);

}  // namespace footring::store

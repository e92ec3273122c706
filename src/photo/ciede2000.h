// photo/ciede2000.h - how different two colours look.
//   source  CIE 142-2001; Sharma, Wu, Dalal, Color Research and Application 30(1), 2005, 21-30 (kL = kC = kH = 1)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>

namespace footring::photo {

double ciede2000(const std::array<double, 3>& lab_a, const std::array<double, 3>& lab_b);

}  // namespace footring::photo

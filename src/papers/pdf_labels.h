// papers/pdf_labels.h - labels at their exact places on the sheet. Private to this room.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <vector>

#include "papers/pdf_blocks.h"

namespace footring::papers {

std::vector<Strip> label_sheets(Canvas&, const Labels&);

}  // namespace footring::papers

// papers/html.h - a paper as one page for a browser: nothing is loaded from elsewhere, and nothing runs.
//   out     a whole HTML document: style sheet, drawings and photographs are in it. It prints well, too. The same
//   paper
//           gives the same bytes.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "papers/paper.h"

namespace footring::papers {

std::string html(const Paper&, PageSize = PageSize::kA4);

}  // namespace footring::papers

// papers/pdf.h - a paper set on pages.
//   out     a PDF 1.5: text that can be selected and searched, fonts embedded as subsets, tagged in reading order,
//   an
//           outline, links, page labels; photographs as the JPEG files they are. The same paper and options give
//           the same bytes.
//   errors  kStore when a font is not installed; kOurFault when Cairo cannot write
//   source  ISO 32000-1:2008, 14.8.4 (structure types)
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "base/problem.h"
#include "papers/paper.h"

namespace footring::papers {

struct PdfOptions {
    PageSize size = PageSize::kA4;
    std::string made = "2026-01-01T00:00:00Z";  // date of making that the file names, ISO 8601
};
Expected<std::string> pdf(const Paper&, const PdfOptions&);

}  // namespace footring::papers

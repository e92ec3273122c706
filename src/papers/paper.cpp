// SPDX-License-Identifier: Apache-2.0
#include "papers/paper.h"

namespace footring::papers {

std::string Text::plain() const {
    std::string out;
    for (const Run& run : runs) out += run.text;
    return out;
}

Sheet size_of(PageSize size) { return size == PageSize::kA4 ? Sheet{210, 297} : Sheet{8.5 * 25.4, 11 * 25.4}; }

}  // namespace footring::papers

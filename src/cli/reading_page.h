// cli/reading_page.h - a photograph's reading as a page for a terminal.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>

#include "book/book.h"
#include "cli/command.h"
#include "photo/reading.h"

namespace footring::cli {

std::string reading_page(const photo::Reading&, const book::Book&, const World&);

}  // namespace footring::cli

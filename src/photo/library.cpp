// SPDX-License-Identifier: Apache-2.0
#include "photo/library.h"

#include "photo/ornaments.h"

namespace footring::photo {

Library::Library(const book::Book& book) : book_(&book), ornaments_(std::make_unique<Ornaments>(book)) {}
Library::Library(Library&&) noexcept = default;
Library::~Library() = default;
const std::vector<std::string>& Library::notes() const { return ornaments_->notes(); }

}  // namespace footring::photo

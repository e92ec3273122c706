// photo/library.h - the open packs as photographs are compared with them: drawings rasterised and described, glaze
// colours, mark wording, recorded sizes. Made once for a Book, then only read; may be used from many threads.
//   cost    about 2 ms a drawing; drawings that cannot be rasterised are left out, with a sentence in notes()
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "book/book.h"

namespace footring::photo {

class Ornaments;  // photo/ornaments.h

class Library {
  public:
    explicit Library(const book::Book&);  // keeps a reference: the Book must outlive it
    Library(Library&&) noexcept;
    ~Library();
    const book::Book& book() const { return *book_; }
    const Ornaments& ornaments() const { return *ornaments_; }
    const std::vector<std::string>& notes() const;

  private:
    const book::Book* book_;
    std::unique_ptr<Ornaments> ornaments_;
};

}  // namespace footring::photo

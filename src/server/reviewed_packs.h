// server/reviewed_packs.h - the packs as they were when the pieces were last reviewed: book/reviewed/ in the data
// folder.
//   Undecided pieces keep nothing of what was said of them; what the Book said then is worked out again from this
//   copy. Made when there is none yet, and replaced when a review has been looked through. A copy that cannot be
//   read any more counts as none: all that is lost is one comparison. Thread rule: the caller's.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <filesystem>
#include <optional>
#include <vector>

#include "base/problem.h"
#include "book/book.h"

namespace footring::server {

class ReviewedPacks {
  public:
    explicit ReviewedPacks(const std::filesystem::path& data) : folder_(data / "book" / "reviewed") {}

    bool there() const;
    // The folders of packs as they are now, in place of the copy; a crash leaves the old copy, or none.
    Expected<void> take(const std::vector<std::filesystem::path>& packs) const;
    std::optional<book::Book> read() const;

  private:
    std::filesystem::path folder_;
};

}  // namespace footring::server

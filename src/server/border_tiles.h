// server/border_tiles.h - which pieces of the cupboard bear a border like this one, whether or not a pack draws it.
//   Readings keep one repeat of each border (photo/border_tile.h). A tile that was fetched once stays here under
//   its digest, some ten kilobytes each; what the visitor may see is asked of the store each time. Thread rule: any
//   thread may call anything.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "base/problem.h"
#include "photo/border_tile.h"
#include "store/store.h"

namespace footring::server {

class BorderTiles {
  public:
    static constexpr std::size_t kMostKept = 20'000;
    struct Alike {
        std::string piece, sha256;  // of the photograph
        double likeness = 0;        // the chance that it is the same ornament
    };
    // Each other piece once, with its likest photograph; the likest first, none that is more likely another border.
    // Empty as well when that photograph shows no border that repeats. kNotFound: it was not read yet.
    Expected<std::vector<Alike>> like(const store::Store&, const std::string& sha256, std::size_t most);

  private:
    // Absent: it is gone, or is no tile; that is never an error of who asks.
    std::optional<photo::BorderTile> tile(const store::Store&, const std::string& sha256,
                                          const std::string& digest);

    std::mutex mutex_;
    std::map<std::string, photo::BorderTile> kept_;  // by digest
};

}  // namespace footring::server

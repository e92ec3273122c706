// photo/ornament_shelf.h - the drawings of the open packs, prepared for comparison. Internal to photo/.
//   Up to kExactUpTo drawings are kept as they are compared; of more, only the pixels, from which the hundred that
//   the index finds are prepared anew each time.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "book/book.h"
#include "photo/finish_match.h"
#include "photo/ornament_index.h"
#include "photo/ornaments.h"
#include "photo/seen_border.h"
#include "photo/tile_match.h"

namespace footring::photo {

struct Prepared {
    Waves coarse, fine;
    int symmetry = 1;  // of a disc: turned by 1/symmetry it is the same
};
struct Shelved {
    book::Ref<book::Ornament> ornament;
    std::string id;  // as short as the open packs allow
    std::optional<int> repeats;
    Colours colours;
    cv::Mat pixels;  // CV_8UC1, ink
    double aspect = 1;
    std::vector<std::optional<Lab>> rows;  // colours across, of what is nothing but stripes; else empty
    bool etched = false;  // all ink, and a pattern in its lightness: seen as a band with a faint pattern
    double border_chance = 0, centre_chance = 0;     // logarithms: how the pack uses it
    std::shared_ptr<const Prepared> border, centre;  // absent when there are many
};

inline constexpr std::size_t kStripeRows = 24;  // from the first inked row to the last

class OrnamentShelf {
  public:
    explicit OrnamentShelf(const book::Book&, std::size_t exact_up_to = kExactUpTo);
    const std::vector<Shelved>& all() const { return all_; }
    std::shared_ptr<const Prepared> border(const Shelved&) const;
    std::shared_ptr<const Prepared> centre(const Shelved&) const;
    // Places in all() of what may be this tile (kFine in size).
    std::vector<std::uint32_t> borders_like(const cv::Mat& tile) const;
    std::vector<std::uint32_t> centres_like(const cv::Mat& tile) const;
    const std::vector<std::string>& notes() const { return notes_; }

  private:
    std::vector<Shelved> all_;
    std::unique_ptr<OrnamentIndex> borders_, centres_;  // absent up to kExactUpTo
    std::vector<std::string> notes_;
};

}  // namespace footring::photo

// photo/ornaments.h - which drawing of the open packs is this? Scores of borders and centres as seen, calibrated.
//   Drawings are SVG or PNG tiles (book::Ornament::drawing_data), rasterised by librsvg and libpng. A tile may
//   itself hold the same motif several times (its inner period); `repeats` of the answer counts tiles, as packs do.
//   Along and across are scaled independently; where in the strip a repeat begins is free; mirrored is different.
//   Search    descriptors in an HNSW graph (hnswlib) when there are more than kExactUpTo drawings; brute force
//   below
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "photo/decoration.h"
#include "photo/reading.h"

namespace footring::photo {

inline constexpr std::size_t kExactUpTo = 2000;

struct BorderMatch {
    std::vector<Scored> ornaments;  // best first, at most 10; scores with "none of them" sum to 1
    std::optional<int> repeats;     // tiles round the rim, by the best drawing's inner period
};
struct CentreMatch {
    std::vector<Scored> ornaments;
    double angle_deg = 0;  // of the best, from +x towards +y
};

class Ornaments {
  public:
    explicit Ornaments(const book::Book&);
    ~Ornaments();
    BorderMatch border(const Repeat&) const;
    CentreMatch centre(const Ink&) const;
    std::vector<Scored> line(const Line&) const;  // ornaments of kind line or band with that finish and width
    // The finish that drawings with more than half of the chance together are recorded under; empty: there is none.
    std::string recorded_finish(const std::vector<Scored>&) const;
    const std::vector<std::string>& notes() const;

  private:
    struct Inside;
    std::unique_ptr<Inside> inside_;
};

}  // namespace footring::photo

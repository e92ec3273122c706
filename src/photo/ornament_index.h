// photo/ornament_index.h - the nearest of many descriptors. Internal to photo/; no OpenCV.
//   Vectors of kDescriptorSize numbers by Euclidean distance: all compared up to kExactUpTo of them, above that a
//   graph of near neighbours (hierarchical navigable small world: Malkov and Yashunin, IEEE TPAMI 42(4), 2020,
//   824-836). The order of adding decides the graph, nothing else does.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

namespace footring::photo {

inline constexpr std::size_t kDescriptorSize = 104;

class OrnamentIndex {
  public:
    // `flat`: vectors one after another. Graph of `vectors` over `exact_up_to`.
    OrnamentIndex(std::vector<float> flat, std::size_t exact_up_to);
    ~OrnamentIndex();
    OrnamentIndex(OrnamentIndex&&) noexcept;
    std::size_t size() const { return count_; }
    // Places of at most `most` vectors, nearest first; `query` has kDescriptorSize numbers.
    std::vector<std::uint32_t> nearest(const float* query, std::size_t most) const;

  private:
    struct Graph;
    std::vector<float> flat_;
    std::size_t count_;
    std::unique_ptr<Graph> graph_;
};

}  // namespace footring::photo

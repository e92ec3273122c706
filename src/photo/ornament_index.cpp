// SPDX-License-Identifier: Apache-2.0
#include "photo/ornament_index.h"

#include <hnswlib/hnswlib.h>

#include <algorithm>

namespace footring::photo {

namespace {
// Measured on 100,000 generated drawings (bench/RESULTS.md): 16 links and a beam of 300 find 98 % of the true
// hundred.
constexpr std::size_t kLinks = 16, kBuildBeam = 120, kSearchBeam = 300;
}  // namespace

struct OrnamentIndex::Graph {
    explicit Graph(std::size_t count) : space(kDescriptorSize), hnsw(&space, count, kLinks, kBuildBeam) {
        hnsw.ef_ = kSearchBeam;
    }
    hnswlib::L2Space space;
    hnswlib::HierarchicalNSW<float> hnsw;
};

OrnamentIndex::OrnamentIndex(std::vector<float> flat, std::size_t exact_up_to)
    : flat_(std::move(flat)), count_(flat_.size() / kDescriptorSize) {
    if (count_ <= exact_up_to) return;
    graph_ = std::make_unique<Graph>(count_);
    for (std::size_t i = 0; i < count_; ++i) graph_->hnsw.addPoint(flat_.data() + i * kDescriptorSize, i);
    flat_ = {};  // the graph has its own copy
}
OrnamentIndex::~OrnamentIndex() = default;
OrnamentIndex::OrnamentIndex(OrnamentIndex&&) noexcept = default;

std::vector<std::uint32_t> OrnamentIndex::nearest(const float* query, std::size_t most) const {
    most = std::min(most, count_);
    std::vector<std::uint32_t> out;
    if (graph_) {
        auto found = graph_->hnsw.searchKnn(query, most);
        out.resize(found.size());
        for (std::size_t i = out.size(); i-- > 0; found.pop())
            out[i] = static_cast<std::uint32_t>(found.top().second);
        return out;
    }
    std::vector<std::pair<float, std::uint32_t>> all(count_);
    for (std::size_t i = 0; i < count_; ++i) {
        const float* v = flat_.data() + i * kDescriptorSize;
        float sum = 0;
        for (std::size_t k = 0; k < kDescriptorSize; ++k) sum += (v[k] - query[k]) * (v[k] - query[k]);
        all[i] = {sum, static_cast<std::uint32_t>(i)};
    }
    std::ranges::partial_sort(all, all.begin() + static_cast<std::ptrdiff_t>(most));
    for (std::size_t i = 0; i < most; ++i) out.push_back(all[i].second);
    return out;
}

}  // namespace footring::photo

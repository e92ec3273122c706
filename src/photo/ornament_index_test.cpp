// SPDX-License-Identifier: Apache-2.0
#include "photo/ornament_index.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace footring::photo {
namespace {

// Points about a few hundred centres, as drawings of one taste lie close together.
std::vector<float> clustered(std::size_t count, unsigned seed) {
    std::mt19937 random(seed);
    const auto unit = [&] { return static_cast<float>(static_cast<double>(random()) / 4294967296.0); };
    std::vector<float> centres(200 * kDescriptorSize), out(count * kDescriptorSize);
    for (float& v : centres) v = unit();
    for (std::size_t i = 0; i < count; ++i) {
        const std::size_t c = random() % 200;
        for (std::size_t k = 0; k < kDescriptorSize; ++k)
            out[i * kDescriptorSize + k] = centres[c * kDescriptorSize + k] + 0.3f * unit();
    }
    return out;
}

TEST(OrnamentIndex, GraphFindsWhatComparingAllFinds) {
    const auto points = clustered(3000, 1), queries = clustered(40, 2);
    const OrnamentIndex exact(points, points.size()), graph(points, 100);
    std::size_t found = 0;
    for (std::size_t q = 0; q < 40; ++q) {
        const float* query = queries.data() + q * kDescriptorSize;
        const auto a = exact.nearest(query, 50);
        for (const auto at : graph.nearest(query, 50)) found += std::ranges::count(a, at) > 0 ? 1u : 0u;
    }
    EXPECT_GE(static_cast<double>(found), 0.95 * 40 * 50);
}
TEST(OrnamentIndex, NearestComesFirstAndNoMoreThanThereAre) {
    const auto points = clustered(20, 3);
    const OrnamentIndex exact(points, 100), graph(points, 1);
    for (std::uint32_t i = 0; i < 20; ++i) {
        EXPECT_EQ(exact.nearest(points.data() + i * kDescriptorSize, 100).at(0), i);
        EXPECT_EQ(graph.nearest(points.data() + i * kDescriptorSize, 100).at(0), i);
    }
    EXPECT_EQ(exact.nearest(points.data(), 100).size(), 20u);
    EXPECT_TRUE(OrnamentIndex({}, 10).nearest(points.data(), 5).empty());
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/border_tile.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

#include "photo/decoration.h"
#include "photo/test_scene.h"

namespace footring::photo {
namespace {

using testing::tile_named;

// One repeat as seen: begun elsewhere, and paler where it is worn.
BorderTile seen_tile(const std::string& name, double begins = 0, double kept = 1, int count = 12) {
    const cv::Mat ink = tile_named(name), twice = cv::repeat(ink, 1, 2);
    const int from = static_cast<int>(begins * ink.cols);
    Repeat seen;
    seen.mean.ink = twice.colRange(from, from + ink.cols) * kept;
    seen.count = count;
    return BorderTile::from_png(border_tile_png(seen)).value();
}

TEST(BorderTile, IsLikeTheSameOrnamentWhereverItBeginsAndHoweverWorn) {
    for (const char* name : {"leaf", "pair", "key", "dots"})
        EXPECT_GT(seen_tile(name).likeness(seen_tile(name, 0.37, 0.6, 14)), 0.95) << name;
}

TEST(BorderTile, IsUnlikeOthers) {
    const char* names[] = {"leaf", "pair", "key", "dots", "spray"};
    for (const char* one : names)
        for (const char* other : names)
            if (one != other) {
                EXPECT_LT(seen_tile(one).likeness(seen_tile(other, 0.2)), 0.3) << one << other;
            }
}

TEST(BorderTile, IsMadeOfWhatRepeatsAloneAndReadFromNothingElse) {
    Repeat plain;
    plain.mean.ink = tile_named("leaf");
    plain.count = 1;
    EXPECT_EQ(border_tile_png(plain), "");
    plain.count = 8;
    const std::string png = border_tile_png(plain);
    EXPECT_LT(png.size(), 10'000u);
    EXPECT_TRUE(BorderTile::from_png(png));
    EXPECT_FALSE(BorderTile::from_png(""));
    EXPECT_FALSE(BorderTile::from_png("no picture"));
    EXPECT_FALSE(BorderTile::from_png(png.substr(0, png.size() / 3)));
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "book/colour.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "book/glyph.h"

namespace footring::book {
namespace {

TEST(Colour, AgreesWithThePublishedPairsOfLabAndSrgb) {
    // W3C CSS Color Module Level 4 gives lab() under D50: "#008000" beside lab(46.2775% -47.5621 48.5837); the
    // other pairs are of its test suite (css-color/lab-00x), whose sRGB is stated in per cent.
    EXPECT_EQ(srgb_of_lab({46.2775, -47.5621, 48.5837}), "#008000");
    EXPECT_EQ(srgb_of_lab({0, 0, 0}), "#000000");
    EXPECT_EQ(srgb_of_lab({100, 0, 0}), "#ffffff");
    const std::pair<Lab, std::array<double, 3>> kPairs[] = {{{50, 50, 0}, {75.6208, 30.4487, 47.5634}},
                                                            {{70, -45, 0}, {10.7906, 75.5567, 66.3982}},
                                                            {{70, 0, 70}, {76.6254, 66.3607, 5.5775}},
                                                            {{55, 0, -60}, {12.8128, 53.1050, 92.7645}}};
    for (const auto& [lab, percent] : kPairs) {
        const Rgb rgb = rgb_of_lab(lab);
        EXPECT_NEAR(rgb.r * 100, percent[0], 0.05);  // its white points have five digits, ours too
        EXPECT_NEAR(rgb.g * 100, percent[1], 0.05);
        EXPECT_NEAR(rgb.b * 100, percent[2], 0.05);
    }
}

TEST(Colour, ComesBackFromSrgbWhereItIsInTheGamut) {
    for (double l = 25; l <= 85; l += 10)  // these boxes lie inside sRGB; darker and lighter ones do not
        for (double a = -12; a <= 12; a += 6)
            for (double b = -8; b <= 8; b += 4) {
                const Lab back = lab_of_rgb(rgb_of_lab({l, a, b}));
                EXPECT_NEAR(back[0], l, 1e-3);
                EXPECT_NEAR(back[1], a, 1e-3);
                EXPECT_NEAR(back[2], b, 1e-3);
            }
}

TEST(Colour, KeepsTheChartWithinTheRoundingOfEightBits) {
    std::ifstream file(std::string(FOOTRING_ROOT) + "/tests/facts/colorchecker.csv");
    std::string line;
    std::getline(file, line);
    int patches = 0;
    while (std::getline(file, line)) {
        std::vector<std::string> cell;
        std::istringstream row(line);
        for (std::string c; std::getline(row, c, ',');) cell.push_back(c);
        ASSERT_EQ(cell.size(), 8u) << line;
        ++patches;
        const Lab lab{std::stod(cell[5]), std::stod(cell[6]), std::stod(cell[7])};
        const Lab back = lab_of_rgb(rgb_of_hex(srgb_of_lab(lab)));
        const double off = std::hypot(lab[0] - back[0], lab[1] - back[1], lab[2] - back[2]);
        if (cell[1] == "cyan") EXPECT_GT(off, 2) << "cyan lies outside sRGB and is clipped";
        else EXPECT_LT(off, 0.7) << cell[1];  // half a step of 8 bits is up to 0.6 in a* of dark colours
    }
    EXPECT_EQ(patches, 24);
}

TEST(Colour, IsClippedToTheScreenAndNeverMalformed) {
    EXPECT_EQ(srgb_of_lab({150, 0, 0}), "#ffffff");
    EXPECT_EQ(srgb_of_lab({-20, 0, 0}), "#000000");
    EXPECT_EQ(srgb_of_lab({50, 500, -500}).size(), 7u);
    EXPECT_EQ(hex_of(rgb_of_hex("red\" onload=\"x")), "#000000");
}

TEST(Finish, KnowsMetalsInsidePhrases) {
    EXPECT_TRUE(ink_of("gold").metal);
    EXPECT_EQ(ink_of("Matt GOLD, 22k").base, ink_of("gold").base);
    EXPECT_TRUE(ink_of("platinum").metal);
    EXPECT_NE(ink_of("platinum").base, ink_of("silver").base);
    EXPECT_TRUE(ink_of("copper lustre").metal);
    EXPECT_TRUE(ink_of("pink lustre").metal);
    EXPECT_FALSE(ink_of("silver grey").metal);
    EXPECT_FALSE(ink_of("goldenrod").metal);
}

TEST(Finish, KnowsColourWordsOfCssAndOfTheTrade) {
    EXPECT_EQ(ink_of("rebeccapurple").base, "#663399");
    EXPECT_EQ(ink_of("Dark blue").base, "#00008b");
    EXPECT_EQ(ink_of("cobalt-blue enamel").base, ink_of("cobalt").base);
    EXPECT_EQ(ink_of("sang de boeuf").base, "#7a1b1a");
    EXPECT_EQ(ink_of("#1A2b3C").base, "#1a2b3c");
    EXPECT_NE(ink_of("pale celadon").base, ink_of("celadon").base);
    EXPECT_TRUE(ink_of("polychrome enamels").mixed);
    for (const char* word : {"oxblood", "celadon", "cobalt", "maroon", "mazarine", "puce", "ironred"})
        EXPECT_NE(ink_of(word).base, ink_of(std::string(word) + "zz").base) << word << " is not in the list";
}

TEST(Finish, GivesAnUnknownWordTheSameMutedHueEachTime) {
    std::set<std::string> seen;
    for (const char* word : {"zarfel", "quollish", "brimmet", "oddle", "vantry", "miskin", "dreel", "flax-sheen"}) {
        const std::string hex = ink_of(word).base;
        EXPECT_EQ(hex, ink_of(word).base);
        const Lab lab = lab_of_rgb(rgb_of_hex(hex));
        EXPECT_LT(std::hypot(lab[1], lab[2]), 40) << word;
        seen.insert(hex);
    }
    EXPECT_GE(seen.size(), 5u);  // 24 hues: eight words rarely meet
    EXPECT_EQ(ink_of("").base.size(), 7u);
    EXPECT_EQ(ink_of("\"/><script>").base.size(), 7u);
}

}  // namespace
}  // namespace footring::book

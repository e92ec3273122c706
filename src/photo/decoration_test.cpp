// Rim, centre, glaze and faults, read from photographs with exact truth.
// SPDX-License-Identifier: Apache-2.0
#include "photo/decoration.h"

#include <gtest/gtest.h>

#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/ciede2000.h"
#include "photo/glaze.h"
#include "photo/ink.h"
#include "photo/sampling.h"
#include "photo/test_scene.h"

namespace footring::photo {

namespace {
using testing::SceneBorder;
using testing::SceneCentre;
using testing::SceneLine;
using testing::SceneSpec;
using testing::tile_named;

SceneSpec plate(double tilt = 15, std::uint64_t seed = 1) {
    SceneSpec spec;
    spec.size = {800, 640};
    spec.tilt_deg = tilt;
    spec.turn_deg = 40;
    spec.fill = 0.85;
    spec.seed = seed;
    return spec;
}
SceneBorder border(const std::string& tile, int repeats, const std::string& finish, double wear = 0) {
    SceneBorder b;
    b.tile = tile_named(tile);
    b.repeats = repeats;
    b.finish = finish;
    b.wear = wear;
    b.from = 0.07;
    b.to = 0.07 + std::min(0.16, 5.4 / repeats / (static_cast<double>(b.tile.cols) / b.tile.rows));
    return b;
}
RimReading rim_of(const SceneSpec& spec) {
    const auto scene = render(spec);
    return read_rim(scene.picture, scene.plate, Light{});
}
}  // namespace

TEST(ReadRim, OfABarePlateFindsNothingUnderShadowReliefAndTilt) {
    auto spec = plate(30);
    spec.shadow = 0.6;
    spec.relief = 0.006;
    const auto rim = rim_of(spec);
    EXPECT_LT(rim.border.present, 0.3);
    EXPECT_FALSE(rim.border.repeats);
    EXPECT_LT(rim.edge_line.present, 0.5);
    EXPECT_LT(rim.verge_line.present, 0.5);
    EXPECT_FALSE(rim.repeat);
}

// The picture with the half on one side of a line through its middle in shade, or mirroring a window.
void light_half(cv::Mat& bgr, double linear_factor, cv::Vec3d more = {0, 0, 0}) {
    for (int y = 0; y < bgr.rows; ++y)
        for (int x = 0; x < bgr.cols; ++x) {
            if (2 * x + y < bgr.cols + bgr.rows / 2) continue;
            auto& p = bgr.at<cv::Vec3b>(y, x);
            for (int k = 0; k < 3; ++k)
                p[k] = cv::saturate_cast<uchar>(
                    srgb_from_linear(std::min(1.0, linear_factor * linear_from_srgb(p[k]) + more[k])));
        }
}

TEST(ReadRim, SeesLinesAndBordersInSunAndShadeAlike) {
    auto spec = plate(20);
    spec.glaze_lab = {90, -1, 6};
    spec.lines = {{.at = 0.012, .width = 0.014, .finish = "platinum", .wear = 0.2}};
    spec.border = border("leaf", 14, "gold");
    auto scene = render(spec);
    light_half(scene.picture.bgr, 0.22);
    const auto rim = read_rim(scene.picture, scene.plate, Light{});
    EXPECT_GT(rim.edge_line.present, 0.5);
    EXPECT_GT(rim.border.present, 0.9);
    EXPECT_EQ(rim.border.repeats, 14);
    auto bare = plate(20);
    auto bare_scene = render(bare);
    light_half(bare_scene.picture.bgr, 0.22);
    const auto nothing = read_rim(bare_scene.picture, bare_scene.plate, Light{});
    EXPECT_LT(nothing.border.present, 0.3);
    EXPECT_LT(nothing.edge_line.present, 0.5);
}

TEST(GlazeTone, IsThatOfTheGlazeAndNotOfAWindowMirroredInHalfOfIt) {
    auto spec = plate(20);
    spec.glaze_lab = {78, 9, 8};
    auto scene = render(spec);
    const GlazeTone before = glaze_tone(scene.picture, scene.plate);
    light_half(scene.picture.bgr, 1, {0.45, 0.45, 0.45});
    const GlazeTone after = glaze_tone(scene.picture, scene.plate);
    for (int k : {0, 2}) EXPECT_NEAR(after.bgr[k] / after.bgr[1], before.bgr[k] / before.bgr[1], 0.05);
}

TEST(ReadRim, CountsGoldSprigsAndSaysHowFarTheyAreWorn) {
    auto spec = plate(25);
    spec.border = border("leaf", 12, "gold", 0.35);
    const auto scene = render(spec);
    const auto rim = read_rim(scene.picture, scene.plate, Light{});
    EXPECT_GT(rim.border.present, 0.9);
    EXPECT_EQ(rim.border.repeats, 12);
    EXPECT_EQ(rim.border.finish, "gold");
    EXPECT_NEAR(rim.border.wear, scene.wear, 0.08);
    ASSERT_EQ(rim.border.map.size(), 360u);
    EXPECT_LT(*std::min_element(rim.border.map.begin(), rim.border.map.end()), 0.4f);
    EXPECT_GT(*std::max_element(rim.border.map.begin(), rim.border.map.end()), 0.9f);
    EXPECT_LT(rim.edge_line.present, 0.5);
}

TEST(ReadRim, OfAnUnwornBorderSaysThatNothingIsLost) {
    auto spec = plate(10);
    spec.border = border("pair", 14, "blue");
    const auto rim = rim_of(spec);
    EXPECT_EQ(rim.border.repeats, 14);
    EXPECT_LT(rim.border.wear, 0.06);
    ASSERT_TRUE(rim.repeat);
    EXPECT_EQ(rim.repeat->count, 14);
    EXPECT_EQ(rim.repeat->strip_ink.cols, 14 * rim.repeat->mean.ink.cols);
    EXPECT_NEAR(rim.repeat->length, 2 * 3.14159 * (1 - (rim.border.from + rim.border.to) / 2) / 14, 0.01);
}

TEST(ReadRim, GivesTheMeanRepeatUprightAndTurnedAsTheDrawing) {
    auto spec = plate(20);
    spec.border = border("leaf", 10, "maroon");
    const auto rim = rim_of(spec);
    ASSERT_TRUE(rim.repeat);
    // of four ways to lay the tile over the mean repeat, the upright one fits best, at some shift
    cv::Mat tile, mean = rim.repeat->mean.ink;
    cv::resize(spec.border->tile.rowRange(20, 140), tile, mean.size(), 0, 0, cv::INTER_AREA);
    const auto fit = [&](const cv::Mat& m) {
        double best = 0;
        for (int shift = 0; shift < m.cols; ++shift) {
            cv::Mat moved;
            if (shift == 0) moved = m;
            else cv::hconcat(m.colRange(shift, m.cols), m.colRange(0, shift), moved);
            best = std::max(best, moved.dot(mean) / (cv::norm(moved) * cv::norm(mean)));
        }
        return best;
    };
    cv::Mat mirrored, overturned, both;
    cv::flip(tile, mirrored, 1);
    cv::flip(tile, overturned, 0);
    cv::flip(tile, both, -1);
    const double upright = fit(tile);
    EXPECT_GT(upright, 0.75);
    EXPECT_GT(upright, fit(mirrored) + 0.05);
    EXPECT_GT(upright, fit(overturned) + 0.05);
    EXPECT_GT(upright, fit(both) + 0.05);
}

TEST(ReadRim, TellsPalePlatinumOnADarkGlazeFromTheMirrorOfALamp) {
    auto spec = plate(12);
    spec.glaze_lab = {46, -2, -10};
    spec.border = border("leaf", 16, "white");
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.border.present, 0.9);
    EXPECT_EQ(rim.border.repeats, 16);
}

TEST(ReadRim, KeepsNeutralInkOnAColouredGlazeNeutral) {
    auto spec = plate(8);
    spec.size = {700, 525};  // strokes of two pixels
    spec.glaze_lab = {62, 38, 59};
    spec.border = border("leaf", 20, "silver");
    const std::string finish = rim_of(spec).border.finish;
    EXPECT_TRUE(finish == "silver" || finish == "platinum" || finish == "grey") << finish;
    spec.border->finish = "gold";
    EXPECT_EQ(rim_of(spec).border.finish, "gold");
}

TEST(ReadRim, FindsAnEdgeLineOfWhichMostIsWornAway) {
    auto spec = plate(20);
    spec.lines = {SceneLine{.at = 0.012, .width = 0.016, .finish = "gold", .wear = 0.6}};
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.edge_line.present, 0.7);
    EXPECT_EQ(rim.edge_line.colour, "gold");
    EXPECT_NEAR(rim.edge_line.at, 0.012, 0.004);
    EXPECT_NEAR(rim.edge_line.width, 0.016, 0.005);
    ASSERT_TRUE(rim.edge_line.width_mm);
    EXPECT_NEAR(*rim.edge_line.width_mm, rim.edge_line.width * 125, 1e-9);
    EXPECT_LT(rim.border.present, 0.5);
}

TEST(ReadRim, FindsAWornEdgeLineAboveABorderOfFewRepeats) {
    auto spec = plate(20);
    spec.border = border("leaf", 6, "gold");
    spec.border->from = 0.10, spec.border->to = 0.24;
    spec.lines = {SceneLine{.at = 0.012, .width = 0.018, .finish = "gold", .wear = 0.6}};
    const auto rim = rim_of(spec);
    EXPECT_EQ(rim.border.repeats, 6);
    EXPECT_GT(rim.edge_line.present, 0.7);
    EXPECT_NEAR(rim.edge_line.width, 0.018, 0.006);
}

TEST(ReadRim, FindsAnEdgeLineThoughABandFillsWhatLiesNextToIt) {
    auto spec = plate(25);
    spec.lines = {SceneLine{.at = 0.006, .width = 0.012, .finish = "gold", .wear = 0},
                  SceneLine{.at = 0.13, .width = 0.20, .finish = "maroon", .wear = 0}};
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.edge_line.present, 0.7);
    EXPECT_NEAR(rim.edge_line.width, 0.012, 0.005);
    EXPECT_GT(rim.border.present, 0.7);
}

TEST(ReadRim, FindsPlatinumThatIsHereAndThereAsLightAsTheGlaze) {
    auto spec = plate(30);
    spec.glaze_lab = {84, 3, 16};
    spec.lines = {SceneLine{.at = 0.009, .width = 0.018, .finish = "platinum", .wear = 0.2}};
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.edge_line.present, 0.7);
    EXPECT_NEAR(rim.edge_line.width, 0.018, 0.006);
}

TEST(ReadRim, TakesALineInAnotherColourBesideABorderForAVergeLine) {
    auto spec = plate(20);
    spec.border = border("leaf", 16, "gold");
    const double at = spec.border->to + 0.025;  // within reach of what frames a border
    spec.lines = {SceneLine{.at = at, .width = 0.014, .finish = "blue", .wear = 0}};
    const auto rim = rim_of(spec);
    EXPECT_EQ(rim.border.repeats, 16);
    EXPECT_GT(rim.verge_line.present, 0.7);
    EXPECT_NEAR(rim.verge_line.at, at, 0.012);
    EXPECT_LT(rim.border.to, at - 0.007);
}

TEST(ReadRim, TellsAVergeLineFromTheLinesOfABorder) {
    auto spec = plate(15);
    spec.border = border("key", 24, "green");
    const auto framed = rim_of(spec);
    EXPECT_EQ(framed.border.repeats, 24);
    EXPECT_LT(framed.edge_line.present, 0.5);
    EXPECT_LT(framed.verge_line.present, 0.5);
    EXPECT_NEAR(framed.border.from, 0.08, 0.015);  // its upper frame line
    spec.lines = {SceneLine{.at = 0.30, .width = 0.012, .finish = "blue", .wear = 0}};
    const auto lined = rim_of(spec);
    EXPECT_EQ(lined.border.repeats, 24);
    EXPECT_GT(lined.verge_line.present, 0.7);
    EXPECT_NEAR(lined.verge_line.at, 0.30, 0.01);
    EXPECT_TRUE(lined.verge_line.colour == "blue" || lined.verge_line.colour == "cobalt")
        << lined.verge_line.colour;
}

TEST(ReadRim, CallsAPlainBandABorderWithoutRepeats) {
    auto spec = plate(20);
    SceneBorder band;
    band.tile = cv::Mat(16, 16, CV_32FC1, cv::Scalar(1));
    band.from = 0.06;
    band.to = 0.15;
    band.finish = "maroon";
    spec.border = band;
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.border.present, 0.7);
    EXPECT_FALSE(rim.border.repeats);
    EXPECT_NEAR(rim.border.from, 0.06, 0.012);
    EXPECT_NEAR(rim.border.to, 0.15, 0.012);
    EXPECT_EQ(rim.border.finish, "maroon");
}

TEST(ReadRim, CountsWhatABandBearsInShadesOfItsOwnColourThoughItIsWorn) {
    auto spec = plate(20);
    SceneBorder band = border("leaf", 14, "gold", 0.15);
    const cv::Mat leaf = band.tile;
    band.tile = cv::Mat(leaf.size(), CV_8UC4);
    for (int r = 0; r < leaf.rows; ++r)
        for (int c = 0; c < leaf.cols; ++c) {
            const float dark = 1 - 0.45f * leaf.at<float>(r, c);
            band.tile.at<cv::Vec4b>(r, c) = {cv::saturate_cast<uchar>(45 * dark),
                                             cv::saturate_cast<uchar>(140 * dark),
                                             cv::saturate_cast<uchar>(190 * dark), 255};
        }
    spec.border = band;
    const auto rim = rim_of(spec);
    EXPECT_GT(rim.border.present, 0.7);
    EXPECT_EQ(rim.border.repeats, 14);
}

TEST(ReadRim, OfAnOvalDishCountsSprigsOfEqualLengthAlongTheEdge) {
    auto spec = plate(20);
    spec.aspect = 0.75;
    spec.border = border("spray", 6, "coral");
    EXPECT_EQ(rim_of(spec).border.repeats, 6);
}

TEST(ReadCentre, SeesAMedallionAndWhereItLies) {
    auto spec = plate(20);
    SceneCentre c;
    c.tile = tile_named("rosette");
    c.radius = 0.22;
    c.finish = "gold";
    spec.centre = c;
    const auto scene = render(spec);
    const auto seen = read_centre(scene.picture, scene.plate, Light{}, 0.6, Slope{});
    EXPECT_GT(seen.centre.present, 0.9);
    EXPECT_NEAR(seen.centre.radius, 0.22 * 0.97, 0.02);
    EXPECT_NEAR(seen.centre.middle.x, 0, 0.03);
    EXPECT_NEAR(seen.centre.middle.y, 0, 0.05);  // the floor's depth is taken as usual
    EXPECT_EQ(seen.centre.finish, "gold");
    ASSERT_TRUE(seen.seen);
    EXPECT_EQ(seen.seen->ink.rows, seen.seen->ink.cols);
    EXPECT_FALSE(seen.framed);
}

TEST(ReadCentre, SeesARingThatFramesItApartFromIt) {
    auto spec = plate(10);
    SceneCentre c;
    c.tile = tile_named("rosette");
    c.radius = 0.2;
    spec.centre = c;
    for (const double wear : {0.0, 0.25}) {
        spec.lines = {SceneLine{.at = 0.65, .width = 0.012, .finish = "gold", .wear = wear}};
        const auto scene = render(spec);
        const auto seen = read_centre(scene.picture, scene.plate, Light{}, 0.6, Slope{});
        EXPECT_NEAR(seen.centre.radius, 0.2 * 0.97, 0.02);
        ASSERT_TRUE(seen.framed) << wear;
        EXPECT_NEAR(seen.framed->radius, 0.355, 0.02);
        EXPECT_NEAR(seen.framed->middle.x, 0, 0.03);
        EXPECT_GT(seen.framed->seen.ink.rows, 1.5 * seen.seen->ink.rows);
    }
}

TEST(ReadCentre, SeesNothingInABareWellWithAHighlightAndALineRoundIt) {
    auto spec = plate(25);
    spec.light = {0.1, -0.5, 1.2};  // mirrored in the floor of the well
    spec.highlight = 1;
    spec.lines = {SceneLine{.at = 0.42, .width = 0.01, .finish = "blue", .wear = 0}};
    const auto scene = render(spec);
    EXPECT_LT(read_centre(scene.picture, scene.plate, Light{}, 0.6, Slope{}).centre.present, 0.3);
}

TEST(ReadGlaze, IsTheColourOfTheBareGlazeUnderTheLightThatTheCardShows) {
    auto spec = plate(12);
    spec.glaze_lab = {84, -6.8, 11.5};
    spec.border = border("leaf", 9, "gold");
    spec.gain = {0.75, 0.9, 0.95};
    const auto scene = render(spec);
    Light light;
    for (int k = 0; k < 3; ++k) light.gain[k] = 1 / spec.gain[k];
    light.sigma = 0.5;
    light.from_card = true;
    const auto rim = read_rim(scene.picture, scene.plate, light);
    auto glaze = read_glaze(scene.picture, scene.plate, light, rim, {});
    ASSERT_TRUE(glaze.lab);
    EXPECT_LT(ciede2000(*glaze.lab, spec.glaze_lab), 2.0);
    EXPECT_LT(glaze.sigma, 3);

    book::Book book;
    const auto row = [](const char* id, std::array<double, 3> lab) {
        book::Glaze g;
        g.id = id;
        g.lab = lab;
        return g;
    };
    book.glazes = {row("oat", {88.1, 1.2, 9.4}), row("sedge", {84, -6.8, 11.5}), row("snow", {94.6, -0.3, 1.2})};
    book.index();
    find_nearest(glaze, book);
    ASSERT_EQ(glaze.nearest.size(), 3u);
    EXPECT_EQ(glaze.nearest[0].id, "sedge");
    EXPECT_GT(glaze.nearest[0].chance, 0.8);
    double sum = 0;
    for (const auto& near : glaze.nearest) sum += near.chance;
    EXPECT_LT(sum, 1);
}

TEST(ReadFaults, CountsSpecksOnBareGlazeAndNotTheDotsOfABorder) {
    auto spec = plate(8);
    spec.size = {1300, 1000};
    spec.specks_per_dm2 = 8;
    spec.border = border("dots", 12, "black");
    const auto scene = render(spec);
    const auto rim = read_rim(scene.picture, scene.plate, Light{});
    const auto faults = read_faults(scene.picture, scene.plate, Light{}, rim, {});
    EXPECT_NEAR(faults.specks_per_dm2, 8, 3.5);
    spec.specks_per_dm2 = 0;
    const auto clean = render(spec);
    EXPECT_LT(read_faults(clean.picture, clean.plate, Light{}, read_rim(clean.picture, clean.plate, Light{}), {})
                  .specks_per_dm2,
              0.8);
}

}  // namespace footring::photo

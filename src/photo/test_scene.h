// photo/test_scene.h - photographs whose truth is known exactly, made in the test itself. Tests only.
//   A plate of revolution (or oval: the same profile at equal distances from the rim) stands on a table; a pinhole
//   camera looks at it; light comes from a lamp and from everywhere. Linear light inside, sRGB outside.
//   The renderer is deliberately simple: it holds the code to geometry and to truth, not to one renderer's look.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "photo/outline.h"
#include "photo/picture.h"

namespace footring::photo::testing {

// One repeat, along the rim to the right, outwards up. CV_32FC1: coverage 0..1, coloured by the finish;
// CV_8UC4: blue, green, red, coverage.
struct SceneBorder {
    cv::Mat tile;
    double from = 0.05, to = 0.20;  // t
    int repeats = 12;
    double phase = 0.0;           // s of the middle of the first repeat
    std::string finish = "gold";  // gold, platinum, silver, or a word of book::ink_of
    double wear = 0;              // share lost, in patches
    double wear_patch = 0.05;     // their size in plate units
    std::vector<int> left_out{};  // repeats that are missing wholly
};
struct SceneLine {
    double at = 0.012, width = 0.012;  // t of its middle
    std::string finish = "gold";
    double wear = 0;
};
struct SceneCentre {
    cv::Mat tile;  // as of a border; square; +x to the right
    double radius = 0.2;
    cv::Point2d middle{0, 0};
    double angle_deg = 0;
    std::string finish = "gold";
};
struct SceneSpec {
    cv::Size size{1200, 900};
    double aspect = 1;  // short / long
    double diameter_mm = 250, height_mm = 25;
    double drop = 0.25;                                // of the sloping rim, depth for each unit inwards
    double verge = 0.32;                               // t where the rim ends and the well begins
    double tilt_deg = 20, turn_deg = 0, roll_deg = 0;  // turn: of the plate about its own axis
    double fill = 0.8;                                 // long diameter / picture height
    cv::Point2d off{0, 0};  // of the plate's centre from the picture's, in picture heights
    double distance = 5;    // of the camera from the rim's centre, in long radii
    std::array<double, 3> glaze_lab{92, 0, 5};
    std::optional<SceneBorder> border;
    std::vector<SceneLine> lines;
    std::optional<SceneCentre> centre;
    double relief = 0;  // height of moulded beads along the rim in plate units (0.004: plainly seen)
    int relief_repeats = 40;
    double highlight = 0.6;            // strength of the glaze's mirror image of the lamp
    double shadow = 0;                 // 0..1: how dark a shadow of the rim falls on the nearer side
    double ambient = 0.45;             // share of light that comes from everywhere
    cv::Vec3d light{-0.5, -0.6, 1.2};  // towards the lamp, plate frame before turning
    cv::Vec3d gain{1, 1, 1};           // B, G, R: colour of the light times exposure
    double specks_per_dm2 = 0;         // dark dots of 0.5 to 1 mm
    double noise = 0.006;              // standard deviation, of 1 in sRGB
    double blur_px = 0.7;
    bool card = false;
    cv::Point2d card_at_mm{150, 60};  // of its top left corner from the plate's centre
    double card_turn_deg = 8;
    std::array<double, 3> table_lab{45, 12, 24};
    std::uint64_t seed = 1;
};
struct Scene {
    Picture picture;
    Plate plate;                  // exact
    cv::Matx33d photo_from_card;  // mat pixels from mm
    double wear = 0;              // share of the border's ink that is lost
    int specks = 0;
    double area_dm2 = 0;  // of the plate, seen from above
};
Scene render(const SceneSpec&);

// The depth of the plate's surface below the rim at t, in plate units (<= 0).
double depth_at(const SceneSpec&, double t);

// Tiles of coverage. `leaf`: one leafy motif between bare sides; `pair`: two different motifs side by side;
// `key`: an angular meander with a frame line above and below; `dots`: three equal dots; `spray`: a motif that
// fills the middle third only; `rosette`: square, for centres.
cv::Mat tile_named(const std::string&);

}  // namespace footring::photo::testing

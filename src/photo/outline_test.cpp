// SPDX-License-Identifier: Apache-2.0
#include "photo/outline.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "photo/hoop.h"
#include "photo/rim_line.h"
#include "photo/rim_search.h"
#include "photo/rim_table.h"
#include "photo/sampling.h"
#include "photo/test_scene.h"

namespace footring::photo {
namespace {

using testing::render;
using testing::Scene;
using testing::SceneSpec;

SceneSpec small_scene() {
    SceneSpec spec;
    spec.size = {1000, 750};
    spec.lines = {{.at = 0.012, .width = 0.012, .finish = "gold"}, {.at = 0.32, .width = 0.01, .finish = "gold"}};
    return spec;
}
// The image of the true rim.
Axes true_axes(const Scene& scene, Hoop* hoop = nullptr) {
    const auto& p = scene.plate.photo_from_plate;
    const cv::Matx33d photo_from_plane(p(0, 0), p(0, 1), p(0, 3), p(1, 0), p(1, 1), p(1, 3), p(2, 0), p(2, 1),
                                       p(2, 3));
    const cv::Matx33d back = photo_from_plane.inv();
    const double b = scene.plate.aspect;
    const auto found = hoop_of(cv::Matx33d(back.t() * cv::Matx33d(1, 0, 0, 0, 1 / (b * b), 0, 0, 0, -1) * back));
    if (hoop) *hoop = *found;
    return axes_of(*found);
}
std::optional<Plate> found_in(const Scene& scene, const SceneSpec& spec, std::vector<std::string>* why = nullptr) {
    std::vector<std::string> notes;
    auto plate =
        find_plate(scene.picture, find_card(scene.picture), {.rim_height_mm = spec.height_mm, .rim = {}}, notes);
    if (why) *why = notes;
    return plate;
}
void expect_rim(const Plate& plate, const Scene& scene, double share) {
    const Axes truth = true_axes(scene);
    EXPECT_NEAR(plate.outline.rim.a / truth.a, 1, share);
    EXPECT_NEAR(plate.outline.rim.b / truth.b, 1, share);
}
cv::Point2d seen_at(const cv::Matx34d& m, double x, double y, double z) {
    const cv::Vec3d h = m * cv::Vec4d(x, y, z, 1);
    return {h[0] / h[2], h[1] / h[2]};
}

TEST(Outline, OfARoundPlateWithTheCardHasItsTrueSizeAndPose) {
    for (const double tilt : {0.0, 20.0, 35.0}) {
        SceneSpec spec = small_scene();
        spec.tilt_deg = tilt;
        spec.fill = 0.6;
        spec.card = true;
        spec.card_at_mm = {135, -20};
        const Scene scene = render(spec);
        const auto plate = found_in(scene, spec);
        ASSERT_TRUE(plate) << tilt;
        EXPECT_EQ(plate->outline.kind, OutlineKind::kRound);
        expect_rim(*plate, scene, 0.005);
        ASSERT_TRUE(plate->outline.long_mm);
        EXPECT_NEAR(*plate->outline.long_mm / spec.diameter_mm, 1, 0.005) << tilt;
        EXPECT_NEAR(*plate->outline.short_mm / spec.diameter_mm, 1, 0.005) << tilt;
        EXPECT_LT(*plate->outline.sigma_mm, 3);
        EXPECT_NEAR(plate->outline.tilt_deg, tilt, 2) << tilt;
        EXPECT_GT(plate->outline.seen, 0.9);
        // A point below the rim's plane is seen where the camera truly sees it: the frame's z is right.
        for (const double z : {0.0, -0.15}) {
            const cv::Point2d is = seen_at(plate->photo_from_plate, 0, 0, z),
                              must = seen_at(scene.plate.photo_from_plate, 0, 0, z);
            EXPECT_LT(cv::norm(is - must), 3) << tilt << " " << z;
        }
    }
}

TEST(Outline, CorrectsForTheHeightOfTheRimAboveTheCard) {
    SceneSpec spec = small_scene();
    spec.tilt_deg = 10;
    spec.fill = 0.6;
    spec.height_mm = 60;
    spec.card = true;
    spec.card_at_mm = {140, -20};
    const Scene scene = render(spec);
    std::vector<std::string> notes;
    const auto card = find_card(scene.picture);
    const auto right = find_plate(scene.picture, card, {.rim_height_mm = 60, .rim = {}}, notes);
    const auto wrong = find_plate(scene.picture, card, {.rim_height_mm = 0, .rim = {}}, notes);
    ASSERT_TRUE(right && wrong);
    EXPECT_NEAR(*right->outline.long_mm / 250, 1, 0.006);
    // Taken to lie on the table it would be larger by distance / (distance - height): 625 mm and 60 mm.
    EXPECT_NEAR(*wrong->outline.long_mm / *right->outline.long_mm, 685.0 / 625, 0.02);
}

TEST(Outline, OfAnOvalIsToldFromARoundPlateAslantByTheCard) {
    SceneSpec spec = small_scene();
    spec.aspect = 0.75;
    spec.tilt_deg = 20;
    spec.turn_deg = 30;
    spec.fill = 0.55;
    spec.card = true;
    spec.card_at_mm = {140, -20};
    const Scene scene = render(spec);
    const auto plate = found_in(scene, spec);
    ASSERT_TRUE(plate);
    EXPECT_EQ(plate->outline.kind, OutlineKind::kOval);
    EXPECT_NEAR(plate->aspect, 0.75, 0.01);
    EXPECT_NEAR(*plate->outline.long_mm, 250, 2.5);
    EXPECT_NEAR(*plate->outline.short_mm, 187.5, 2.5);
    const cv::Point2d end = seen_at(plate->photo_from_plate, 1, 0, 0),
                      one = seen_at(scene.plate.photo_from_plate, 1, 0, 0),
                      other = seen_at(scene.plate.photo_from_plate, -1, 0, 0);
    EXPECT_LT(std::min(cv::norm(end - one), cv::norm(end - other)), 6);
}

TEST(Outline, OfAnOvalWithoutACardIsToldByItsInnerRings) {
    SceneSpec spec = small_scene();
    spec.aspect = 0.72;
    spec.tilt_deg = 8;
    spec.turn_deg = 5;
    const Scene oval = render(spec);
    const auto as_oval = found_in(oval, spec);
    ASSERT_TRUE(as_oval);
    EXPECT_EQ(as_oval->outline.kind, OutlineKind::kOval);
    EXPECT_FALSE(as_oval->outline.long_mm);
    EXPECT_NEAR(as_oval->aspect, 0.72, 0.02);
    spec.aspect = 1;
    spec.tilt_deg = 44;
    const Scene round = render(spec);
    const auto as_round = found_in(round, spec);
    ASSERT_TRUE(as_round);
    EXPECT_EQ(as_round->outline.kind, OutlineKind::kRound);
    EXPECT_NEAR(as_round->outline.tilt_deg, 44, 2);
}

TEST(Outline, IsTheRimAndNotItsShadowNorALineUponIt) {
    SceneSpec spec = small_scene();
    spec.glaze_lab = {93, 0, 3};
    spec.table_lab = {86, 0, 4};  // pale on pale
    spec.tilt_deg = 25;
    spec.shadow = 0.4;
    spec.lines = {{.at = 0.04, .width = 0.015, .finish = "gold"}};
    const Scene scene = render(spec);
    const auto plate = found_in(scene, spec);
    ASSERT_TRUE(plate);
    expect_rim(*plate, scene, 0.006);
}

TEST(Outline, FollowsTheOuterSideOfALineThatIsLikeTheTable) {
    SceneSpec spec = small_scene();
    spec.lines = {{.at = 0.008, .width = 0.016, .finish = "gold"}};
    spec.table_lab = {42, 12, 30};  // brown wood
    spec.tilt_deg = 25;
    spec.shadow = 0.4;
    const Scene scene = render(spec);
    Hoop truth;
    const Axes axes = true_axes(scene, &truth);
    // The inner side of the line at one side of the plate, the outer at the other.
    const Hoop between = changed(truth, {-0.008, 0.008, 0, 0, 0});
    ASSERT_GT(apart(truth, between), 0.007 * axes.b);
    const auto found = where_table_begins(scene.picture.bgr, between, false);
    ASSERT_TRUE(found);
    EXPECT_LT(apart(truth, *found), 0.004 * axes.b);
    EXPECT_FALSE(where_table_begins(scene.picture.bgr, truth, false));
    const auto plate = found_in(scene, spec);
    ASSERT_TRUE(plate);
    expect_rim(*plate, scene, 0.005);
}

// As phones store it: colour at half the size of lightness.
cv::Mat as_jpeg(const cv::Mat& bgr) {
    std::vector<uchar> bytes;
    cv::imencode(".jpg", bgr, bytes, {cv::IMWRITE_JPEG_QUALITY, 85});
    return cv::imdecode(bytes, cv::IMREAD_COLOR);
}

TEST(Outline, FollowsTheOuterSideOfALineAsDarkAsTheCloth) {
    SceneSpec spec = small_scene();
    spec.lines = {{.at = 0.009, .width = 0.018, .finish = "brown"}};
    spec.table_lab = {30, 2, -24};  // blue cloth, as dark as the line
    spec.glaze_lab = {90, -1, 2};
    spec.tilt_deg = 28;
    spec.shadow = 0.5;
    const Scene scene = render(spec);
    const auto plate = found_in(scene, spec);
    ASSERT_TRUE(plate);
    expect_rim(*plate, scene, 0.004);
}

TEST(Outline, TakesColourThatRunsOverTheRimOntoADarkTableForNoLine) {
    SceneSpec spec = small_scene();
    spec.lines = {};
    spec.glaze_lab = {76, -12, 10};  // green
    spec.table_lab = {14, 8, 12};    // dark wood
    spec.tilt_deg = 30;
    const Scene scene = render(spec);
    Hoop truth;
    true_axes(scene, &truth);
    EXPECT_FALSE(outer_side_of_line(as_jpeg(scene.picture.bgr), truth));
}

TEST(Outline, BearsAWedgeThatIsMissingAndAPieceBeyondThePicture) {
    SceneSpec spec = small_scene();
    spec.fill = 0.9;
    Scene scene = render(spec);
    Hoop truth;
    true_axes(scene, &truth);
    // A pie-shaped piece of 50 degrees shows the table.
    std::vector<cv::Point> wedge{truth.centre};
    for (int i = 0; i <= 20; ++i)
        wedge.emplace_back(truth.centre + (truth.at(0.3 + 0.044 * i) - truth.centre) * 1.03);
    cv::fillPoly(scene.picture.bgr, std::vector<std::vector<cv::Point>>{wedge}, cv::Scalar(70, 95, 120));
    const auto chipped = found_in(scene, spec);
    ASSERT_TRUE(chipped);
    expect_rim(*chipped, scene, 0.005);
    // And the left third is cut off.
    const int cut = 330;
    Scene whole = render(spec);
    whole.picture.bgr = whole.picture.bgr(cv::Rect(cut, 0, 1000 - cut, 750)).clone();
    const auto part = found_in(whole, spec);
    ASSERT_TRUE(part);
    EXPECT_NEAR(part->outline.rim.a / axes_of(truth).a, 1, 0.015);
    EXPECT_NEAR(part->outline.rim.centre.x + cut, truth.centre.x + 0.5, 5);
    EXPECT_LT(part->outline.seen, 0.85);
}

TEST(Outline, SetByHandIsHonoured) {
    SceneSpec spec = small_scene();
    const Scene scene = render(spec);
    Hoop truth;
    true_axes(scene, &truth);
    std::vector<std::string> notes;
    Ellipse hand = ellipse_of(truth);
    hand.a *= 1.004;  // as exact as a hand is
    const auto near = find_plate(scene.picture, {}, {.rim_height_mm = 25, .rim = hand}, notes);
    ASSERT_TRUE(near);
    expect_rim(*near, scene, 0.003);
    const Ellipse elsewhere{{120, 90}, 60, 50, 0};  // where nothing is to be seen
    const auto kept = find_plate(scene.picture, {}, {.rim_height_mm = 25, .rim = elsewhere}, notes);
    ASSERT_TRUE(kept);
    EXPECT_NEAR(kept->outline.rim.a, 60, 2);
    EXPECT_NEAR(kept->outline.rim.centre.x, 120, 2);
}

cv::Mat photograph(const std::string& path) { return cv::imread(path); }
std::string ours(const std::string& name) { return std::string(FOOTRING_ROOT) + "/tests/photographs/" + name; }
// Debian's python3-skimage brings these; it is in packages.txt.
std::string theirs(const std::string& name) { return "/usr/lib/python3/dist-packages/skimage/data/" + name; }

TEST(Ellipses, OfARealCupAndItsHalfHiddenSaucerAreFound) {
    const cv::Mat bgr = photograph(ours("coffee.png"));
    ASSERT_FALSE(bgr.empty());
    const auto found = find_ellipses(bgr);
    // tests/photographs/README.md
    const Hoop cup = hoop_of(Ellipse{{290.8, 113.1}, 117.8, 95.0, 6.4}),
               saucer = hoop_of(Ellipse{{277.7, 220.6}, 202.1, 169.7, 6.4});
    for (const Hoop& must : {cup, saucer}) {
        double nearest = 1e9;
        for (const auto& f : found) nearest = std::min(nearest, apart(must, f.hoop));
        EXPECT_LT(nearest, 3) << axes_of(must).a;
    }
    Picture picture;
    picture.bgr = bgr;
    std::vector<std::string> notes;
    const auto plate = find_plate(picture, {}, {}, notes);
    ASSERT_TRUE(plate);
    const Hoop is = hoop_of(plate->outline.rim);
    EXPECT_LT(std::min(apart(cup, is), apart(saucer, is)), 3);
}

TEST(Outline, IsAbsentWhereThereIsNoPieceAndSaysWhy) {
    for (const char* name : {"coins.png", "page.png", "astronaut.png", "chelsea.png", "brick.png"}) {
        Picture picture;
        picture.bgr = photograph(theirs(name));
        ASSERT_FALSE(picture.bgr.empty()) << name << ": Debian's python3-skimage is needed";
        std::vector<std::string> notes;
        EXPECT_FALSE(find_plate(picture, find_card(picture), {}, notes)) << name;
        EXPECT_EQ(notes.size(), 1u) << name;
    }
    Picture table;
    table.bgr = cv::Mat(480, 640, CV_8UC3, cv::Scalar(90, 110, 140));
    std::vector<std::string> notes;
    EXPECT_FALSE(find_plate(table, {}, {}, notes));
    ASSERT_EQ(notes.size(), 1u);
    EXPECT_EQ(notes[0], "No piece was found: nothing in the picture has a rim that runs most of the way round.");
    table.bgr = cv::Mat(20, 30, CV_8UC3, cv::Scalar(90, 110, 140));
    EXPECT_FALSE(find_plate(table, {}, {}, notes));
    EXPECT_EQ(notes.back(), "The picture is too small to hold a piece.");
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/card.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>

#include "photo/card_layout.h"
#include "photo/sampling.h"

namespace footring::photo {
namespace {

constexpr double kPxPerMm = 20;

// The card from above, 20 px for each mm.
cv::Mat flat_card() {
    cv::Mat card(cvRound(kCardHeightMm * kPxPerMm), cvRound(kCardWidthMm * kPxPerMm), CV_8UC3,
                 cv::Scalar::all(255));
    const auto fill = [&](double x, double y, double w, double h, int grey) {
        card(cv::Rect(cvRound(x * kPxPerMm), cvRound(y * kPxPerMm), cvRound(w * kPxPerMm), cvRound(h * kPxPerMm)))
            .setTo(cv::Scalar::all(grey));
    };
    for (int id = 0; id < kMarkers; ++id) {
        const auto at = marker_mm(id)[0];
        fill(at.x, at.y, 12, 12, 0);
        const auto bits = marker_bits(id);
        for (std::size_t y = 0; y < 4; ++y)
            for (std::size_t x = 0; x < 4; ++x)
                if (bits[y][x])
                    fill(at.x + 2 + 2 * static_cast<double>(x), at.y + 2 + 2 * static_cast<double>(y), 2, 2, 255);
    }
    for (const auto& patch : kPatches) fill(patch.left_mm, kPatchTopMm, kPatchWidthMm, kPatchHeightMm, patch.srgb);
    return card;
}

struct Shot {
    Picture picture;
    cv::Matx33d photo_from_card;
};
// On a brown table, tilted about the picture's horizontal; `mm_px`: px for a millimetre in the card's middle.
Shot shot(double tilt_deg, double turn_deg, double mm_px, double blur) {
    const cv::Size size(1600, 1200);
    const double tilt = tilt_deg * CV_PI / 180, turn = turn_deg * CV_PI / 180, focal = 1400,
                 distance = focal / mm_px;
    const cv::Matx33d centre(1, 0, -kCardWidthMm / 2, 0, 1, -kCardHeightMm / 2, 0, 0, 1);
    const cv::Matx33d spin(std::cos(turn), -std::sin(turn), 0, std::sin(turn), std::cos(turn), 0, 0, 0, 1);
    const cv::Matx33d stand(1, 0, 0, 0, std::cos(tilt), 0, 0, -std::sin(tilt), distance);
    const cv::Matx33d camera(focal, 0, 799.5, 0, focal, 599.5, 0, 0, 1);
    Shot out;
    out.photo_from_card = camera * stand * spin * centre;
    // Drawn three times as large and averaged, so that edges are as soft as a lens makes them.
    const cv::Matx33d larger(3, 0, 1, 0, 3, 1, 0, 0, 1),
        mm_from_px(1 / kPxPerMm, 0, 0.5 / kPxPerMm, 0, 1 / kPxPerMm, 0.5 / kPxPerMm, 0, 0, 1);
    cv::Mat large(size * 3, CV_8UC3, cv::Scalar(60, 90, 130));
    cv::warpPerspective(flat_card(), large, larger * out.photo_from_card * mm_from_px, large.size(), cv::INTER_AREA,
                        cv::BORDER_TRANSPARENT);
    cv::resize(large, out.picture.bgr, size, 0, 0, cv::INTER_AREA);
    if (blur > 0) cv::GaussianBlur(out.picture.bgr, out.picture.bgr, {}, blur);
    cv::Mat noise(size, CV_16SC3);
    cv::RNG random(3);
    random.fill(noise, cv::RNG::NORMAL, 0, 2);
    cv::add(out.picture.bgr, noise, out.picture.bgr, cv::noArray(), CV_8UC3);
    return out;
}
double worst_corner(const CardFound& found, const cv::Matx33d& truth) {
    double worst = 0;
    for (const auto& mm : card_mm())
        worst = std::max(worst, cv::norm(through(found.photo_from_card, mm) - through(truth, mm)));
    return worst;
}
void cover(Picture& picture, const cv::Matx33d& photo_from_card, int id) {
    std::vector<cv::Point> area;
    for (const auto& mm : marker_mm(id)) area.emplace_back(through(photo_from_card, mm));
    cv::fillConvexPoly(picture.bgr, area, cv::Scalar(40, 60, 200));
}

TEST(Card, IsFoundToAThirdOfAPixelFromAboveAndUpToFiftyDegreesAslant) {
    for (const double tilt : {0.0, 20.0, 50.0})
        for (const double turn : {10.0, 140.0}) {
            const Shot s = shot(tilt, turn, 5, 0.6);
            const auto found = find_card(s.picture);
            ASSERT_TRUE(found) << tilt << " " << turn;
            EXPECT_EQ(found->seen.seen, (std::array{true, true, true, true}));
            EXPECT_LT(worst_corner(*found, s.photo_from_card), 0.34) << tilt << " " << turn;
            EXPECT_LT(found->sigma_px, 0.25);
            EXPECT_NEAR(found->seen.corners[2].x, through(s.photo_from_card, {85.6, 53.98}).x + 0.5, 0.34);
        }
}

TEST(Card, IsFoundSmallAndBlurred) {
    const Shot small = shot(15, 30, 1.7, 0.5), blurred = shot(25, -20, 4, 2.5);
    for (const Shot* s : {&small, &blurred}) {
        const auto found = find_card(s->picture);
        ASSERT_TRUE(found);
        EXPECT_LT(worst_corner(*found, s->photo_from_card), 0.8);
    }
}

TEST(Card, IsFoundWithHalfOfItInShadow) {
    Shot s = shot(20, 15, 5, 0.6);
    cv::Mat shade = s.picture.bgr(cv::Rect(0, 0, 790, 1200));
    shade.convertTo(shade, -1, 0.35);
    const auto found = find_card(s.picture);
    ASSERT_TRUE(found);
    EXPECT_LT(worst_corner(*found, s.photo_from_card), 0.5);
}

TEST(Card, NeedsTwoOfItsMarkers) {
    Shot s = shot(20, 15, 5, 0.6);
    cover(s.picture, s.photo_from_card, 1);
    cover(s.picture, s.photo_from_card, 3);
    const auto two = find_card(s.picture);
    ASSERT_TRUE(two);
    EXPECT_EQ(two->seen.seen, (std::array{true, false, true, false}));
    EXPECT_LT(worst_corner(*two, s.photo_from_card), 1.0);
    cover(s.picture, s.photo_from_card, 0);
    EXPECT_FALSE(find_card(s.picture));
}

TEST(Card, IsNotMisledByALooseMarkerElsewhere) {
    Shot s = shot(10, 5, 5, 0.6);
    cover(s.picture, s.photo_from_card, 2);
    const auto bits = marker_bits(2);  // turned on its head, far from the card
    cv::Mat loose(96, 96, CV_8UC3, cv::Scalar::all(255));
    loose(cv::Rect(12, 12, 72, 72)).setTo(cv::Scalar::all(0));
    for (int y = 0; y < 4; ++y)
        for (int x = 0; x < 4; ++x)
            if (bits[static_cast<std::size_t>(3 - y)][static_cast<std::size_t>(3 - x)])
                loose(cv::Rect(24 + 12 * x, 24 + 12 * y, 12, 12)).setTo(cv::Scalar::all(255));
    loose.copyTo(s.picture.bgr(cv::Rect(100, 100, 96, 96)));
    const auto found = find_card(s.picture);
    ASSERT_TRUE(found);
    EXPECT_FALSE(found->seen.seen[2]);
    EXPECT_LT(worst_corner(*found, s.photo_from_card), 0.5);
}

TEST(Card, IsNotSeenWhereThereIsNone) {
    Picture picture;
    picture.bgr = cv::Mat(900, 1200, CV_8UC3);
    cv::RNG random(11);
    random.fill(picture.bgr, cv::RNG::UNIFORM, 0, 255);
    EXPECT_FALSE(find_card(picture));
    for (int y = 0; y < 900; y += 50)
        for (int x = 0; x < 1200; x += 50)
            picture.bgr(cv::Rect(x, y, 50, 50)).setTo(cv::Scalar::all((x + y) / 50 % 2 ? 230 : 20));
    EXPECT_FALSE(find_card(picture));  // a chequered cloth
    picture.bgr = cv::Mat(20, 20, CV_8UC3, cv::Scalar::all(9));
    EXPECT_FALSE(find_card(picture));
}

// The light is warm and a little dim: blue, green and red arrive by these shares.
const cv::Vec3d kShares(0.55, 0.75, 0.9);
void tint(Picture& picture) {
    for (auto it = picture.bgr.begin<cv::Vec3b>(); it != picture.bgr.end<cv::Vec3b>(); ++it)
        for (int c = 0; c < 3; ++c)
            (*it)[c] = cv::saturate_cast<uchar>(srgb_from_linear(kShares[c] * linear_from_srgb((*it)[c])));
}

TEST(CardLight, UndoesTheColourOfTheLight) {
    Shot s = shot(15, 10, 5, 0.6);
    tint(s.picture);
    const auto found = find_card(s.picture);
    ASSERT_TRUE(found);
    const Light light = light_of(s.picture, *found);
    EXPECT_TRUE(light.from_card);
    for (int c = 0; c < 3; ++c) {
        EXPECT_NEAR(light.gain[c] * kShares[c], 1, 0.02) << c;
        EXPECT_NEAR(light.offset[c], 0, 0.01) << c;
    }
    EXPECT_LT(light.sigma, 2);
}

TEST(CardLight, LeavesOutThePatchesThatLieInShadow) {
    Shot s = shot(0, 0, 5, 0.6);
    tint(s.picture);
    const double edge = through(s.photo_from_card, {27, 0}).x;  // the lightest patch and a hair of the next
    cv::Mat shade = s.picture.bgr(cv::Rect(0, 0, static_cast<int>(edge), 1200));
    shade.convertTo(shade, -1, 0.6);
    const auto found = find_card(s.picture);
    ASSERT_TRUE(found);
    const Light light = light_of(s.picture, *found);
    for (int c = 0; c < 3; ++c) EXPECT_NEAR(light.gain[c] * kShares[c], 1, 0.04) << c;
}

TEST(CardLight, BearsAnOverexposedLightestPatch) {
    Shot s = shot(0, 0, 5, 0.6);
    s.picture.bgr.convertTo(s.picture.bgr, -1, 1.25);
    const auto found = find_card(s.picture);
    ASSERT_TRUE(found);
    const Light light = light_of(s.picture, *found);
    const double seen = linear_from_srgb(160 * 1.25), truth = linear_from_srgb(160);
    for (int c = 0; c < 3; ++c) EXPECT_NEAR((light.gain[c] * seen + light.offset[c]) / truth, 1, 0.05) << c;
}

TEST(CardLight, IsAWideGuessWithoutACard) {
    Picture picture;
    picture.bgr = cv::Mat(300, 400, CV_8UC3, cv::Scalar(120, 160, 190));
    const Light light = light_without_card(picture);
    EXPECT_FALSE(light.from_card);
    EXPECT_GE(light.sigma, 5);
    EXPECT_GT(light.gain[0], light.gain[2]);  // towards neutral
}

}  // namespace
}  // namespace footring::photo

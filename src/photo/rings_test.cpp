// SPDX-License-Identifier: Apache-2.0
#include "photo/rings.h"

#include <gtest/gtest.h>

namespace footring::photo {
namespace {

TEST(BestRepeat, KnowsHowMuchOfALineWearLaysBare) {
    // The best of two: bare where both are.
    EXPECT_NEAR((BestRepeat{{}, 2}.bare_by_wear(0.4)), 0.6 * 0.6, 1e-12);
    // The second best of six: bare where at most one is left, 0.6^6 + 6 * 0.4 * 0.6^5.
    EXPECT_NEAR((BestRepeat{{}, 6}.bare_by_wear(0.4)), 0.046656 + 0.186624, 1e-12);
    EXPECT_NEAR((BestRepeat{{}, 6}.bare_by_wear(1)), 0, 1e-12);
    EXPECT_EQ((BestRepeat{{}, 24}.bare_by_wear(0.5)), 0);
}

// A ribbon with one line, of which the stretches that `left` names are there.
cv::Mat lined(const std::vector<int>& left) {
    cv::Mat ink = cv::Mat::zeros(24, 960, CV_32F);
    for (const int i : left) ink(cv::Rect(i * 10, 6, 10, 4)).setTo(1);
    return ink;
}

TEST(FindRings, SeesAWornLineInSixRepeatsAndNoLongStrokes) {
    const cv::Mat unsure = cv::Mat::zeros(24, 960, CV_8U);
    // Two fifths are left, here and there; a repeat is 16 stretches long.
    std::vector<int> here_and_there, strokes;
    for (int i = 0; i < 96; ++i) {
        if ((i * 37 + i / 16 * 11) % 96 < 40) here_and_there.push_back(i);
        if (i % 16 < 7) strokes.push_back(i);
    }
    const auto second_best = [](const cv::Mat& ink) {
        cv::Mat out = cv::Mat::zeros(ink.rows, 160, CV_32F);
        for (int r = 0; r < ink.rows; ++r)
            for (int c = 0; c < 160; ++c) {
                int left = 0;
                for (int k = 0; k < 6; ++k) left += ink.at<float>(r, k * 160 + c) > 0.5f;
                out.at<float>(r, c) = left >= 2 ? 1.f : 0.f;
            }
        return out;
    };
    const cv::Mat worn = lined(here_and_there);
    const auto rings = find_rings(worn, unsure, {second_best(worn), 6}, 1, 400);
    ASSERT_EQ(rings.size(), 1u);
    EXPECT_NEAR(rings[0].at(), 8, 0.6);
    EXPECT_NEAR(rings[0].whole, 40 / 96.0, 0.03);
    const cv::Mat ornament = lined(strokes);
    EXPECT_TRUE(find_rings(ornament, unsure, {second_best(ornament), 6}, 1, 400).empty());
}

TEST(FindRings, SeesALineThatCornersHideInEveryRepeat) {
    cv::Mat ink = lined({}), unsure = cv::Mat::zeros(24, 960, CV_8U);
    ink.rowRange(6, 10).setTo(1);
    cv::Mat best = cv::Mat::zeros(24, 240, CV_32F);
    best.rowRange(6, 10).setTo(1);
    for (int side = 0; side < 4; ++side) unsure(cv::Rect(side * 240, 0, 50, 24)).setTo(255);
    ink.setTo(0, unsure);
    best(cv::Rect(0, 0, 50, 24)).setTo(BestRepeat::kNeverSeen);
    EXPECT_EQ(find_rings(ink, unsure, {best, 4}, 1, 400).size(), 1u);
    best(cv::Rect(0, 0, 50, 24)).setTo(0);  // seen, and bare
    EXPECT_TRUE(find_rings(ink, unsure, {best, 4}, 1, 400).empty());
}

}  // namespace
}  // namespace footring::photo

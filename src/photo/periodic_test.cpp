// SPDX-License-Identifier: Apache-2.0
#include "photo/periodic.h"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/test_scene.h"

namespace footring::photo {

namespace {
struct Ribbon {
    cv::Mat pattern, weight;
};
// `tiles` in turn, `repeats` of them; a share `wear` of the ribbon is gone, in patches.
Ribbon ribbon(const std::vector<cv::Mat>& tiles, int repeats, double wear, std::uint64_t seed = 1) {
    constexpr int kColumns = 2048, kRows = 48;
    cv::Mat row;
    std::vector<cv::Mat> parts;
    for (int i = 0; i < repeats; ++i) parts.push_back(tiles[static_cast<std::size_t>(i) % tiles.size()]);
    cv::hconcat(parts, row);
    Ribbon r;
    cv::resize(row, r.pattern, {kColumns, kRows}, 0, 0, cv::INTER_AREA);
    cv::RNG random(seed * 977 + static_cast<std::uint64_t>(repeats));
    cv::Mat noise(9, 128, CV_32F), patches;
    random.fill(noise, cv::RNG::UNIFORM, 0.0f, 1.0f);
    cv::resize(noise, patches, {kColumns, kRows}, 0, 0, cv::INTER_CUBIC);
    cv::Mat sorted = patches.reshape(1, 1).clone();
    cv::sort(sorted, sorted, cv::SORT_EVERY_ROW | cv::SORT_ASCENDING);
    if (wear > 0) r.pattern.setTo(0, patches < sorted.at<float>(static_cast<int>(wear * (sorted.cols - 1))));
    cv::Mat grain(r.pattern.size(), CV_32F);
    random.fill(grain, cv::RNG::NORMAL, 0.0f, 0.06f);
    r.pattern += grain;
    r.weight = cv::Mat(r.pattern.size(), CV_32F, cv::Scalar(1));
    return r;
}
// The same where s + drift(s) is even.
Ribbon drifting(const Ribbon& even, const cv::Vec4d& drift) {
    Periodicity bent;
    bent.drift = drift;
    cv::Mat x(even.pattern.size(), CV_32F), y(even.pattern.size(), CV_32F);
    for (int row = 0; row < x.rows; ++row)
        for (int c = 0; c < x.cols; ++c) {
            const double s = bent.even((c + 0.5) / x.cols);
            x.at<float>(row, c) = static_cast<float>((s - std::floor(s)) * x.cols - 0.5);
            y.at<float>(row, c) = static_cast<float>(row);
        }
    Ribbon out{{}, even.weight};
    cv::remap(even.pattern, out.pattern, x, y, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    return out;
}
int count_of(const Ribbon& r) { return find_repeats(r.pattern, r.weight).count; }
}  // namespace

TEST(Repeats, AreCountedFromThreeToEightyWhetherWholeOrHalfWornAway) {
    const cv::Mat leaf = testing::tile_named("leaf");
    for (const double wear : {0.0, 0.3, 0.6})
        for (const int n : {3, 4, 5, 6, 7, 8, 9, 12, 16, 23, 36, 54, 80}) {
            if (n < 5 && wear > 0.3) continue;  // three sprigs of which most is gone
            EXPECT_EQ(count_of(ribbon({leaf}, n, wear)), n) << "wear " << wear;
        }
}

TEST(Repeats, OfTwoMotifsInTurnAreNeitherHalvedNorDoubled) {
    const cv::Mat pair = testing::tile_named("pair");
    for (const int n : {4, 7, 12, 20, 30}) EXPECT_EQ(count_of(ribbon({pair}, n, 0.2)), n);
    // twins but for one dot: the pair is the repeat
    cv::Mat leaf = testing::tile_named("leaf"), dotted = leaf.clone();
    cv::circle(dotted, {30, 40}, 16, 1, cv::FILLED);
    for (const int n : {4, 6, 11}) EXPECT_EQ(count_of(ribbon({leaf, dotted}, 2 * n, 0.1)), n);
}

TEST(Repeats, OfThreeEqualDotsAreTheDots) { EXPECT_EQ(count_of(ribbon({testing::tile_named("dots")}, 9, 0)), 27); }

TEST(Repeats, AreCountedThoughAFifthOfTheRimIsHiddenAndTwoAreMissing) {
    Ribbon r = ribbon({testing::tile_named("leaf")}, 16, 0.2);
    r.weight.colRange(500, 900).setTo(0);
    r.pattern.colRange(500, 900).setTo(0.7);
    r.pattern.colRange(1280, 1536).setTo(0);
    EXPECT_EQ(count_of(r), 16);
}

TEST(Repeats, AreCountedThoughTheRibbonIsUnevenAndTheDriftIsFound) {
    const Ribbon r = drifting(ribbon({testing::tile_named("leaf")}, 40, 0.2), {0.003, -0.004, 0, 0});
    const Periodicity found = find_repeats(r.pattern, r.weight);
    EXPECT_EQ(found.count, 40);
    EXPECT_NEAR(found.drift[0], 0.003, 0.001);
    EXPECT_NEAR(found.drift[1], -0.004, 0.001);
}

// A wave so strong moves most of a spectral line into its neighbours (Bessel's J0(2 pi n d) is below a half from
// n d = 0.24 on): 25, 27 or 53 look likelier than 26.
TEST(Repeats, AreCountedThoughTheyStrayByHalfOfTheirLength) {
    const cv::Mat leaf = testing::tile_named("leaf");
    for (const int n : {16, 26, 40, 54})
        for (const double wear : {0.0, 0.25})
            for (const cv::Vec4d& drift : {cv::Vec4d(0.010, 0, 0, 0), cv::Vec4d(-0.006, 0.007, 0, 0)}) {
                const Ribbon r = drifting(ribbon({leaf}, n, wear), drift);
                const Periodicity found = find_repeats(r.pattern, r.weight);
                EXPECT_EQ(found.count, n) << "wear " << wear;
                EXPECT_NEAR(cv::norm(found.drift - drift), 0, 0.0015) << n << " repeats, wear " << wear;
            }
}

// Two strokes a repeat, more strokes than counts are tried for; and the rim is uneven by two waves, so that one
// stroke more than there are looks likelier than those there are. Once round, the phase tells.
TEST(Repeats, OfFineStrokesAreCountedThoughTheRimIsUnevenByTwoWaves) {
    cv::Mat stroke(50, 40, CV_32F, cv::Scalar(0)), dotted;
    cv::ellipse(stroke, {20, 25}, {15, 20}, 0, 0, 360, 1, 5);
    dotted = stroke.clone();
    cv::circle(dotted, {20, 25}, 6, 1, cv::FILLED);
    for (const cv::Vec4d& drift :
         {cv::Vec4d(0.0025, 0.0001, -0.00005, 0.0025), cv::Vec4d(-0.002, 0.002, 0.002, 0)}) {
        const Periodicity found = find_repeats(drifting(ribbon({stroke, dotted}, 104, 0), drift).pattern,
                                               cv::Mat(48, 2048, CV_32F, cv::Scalar(1)));
        EXPECT_EQ(found.count, 52);
        EXPECT_NEAR(cv::norm(found.drift - drift), 0, 0.001);
    }
}

// Two strokes to each of 93: all 186 are alike, and 62 has three of them.
TEST(Repeats, ThatAreDividedInStrokesAreNoLessCertainForIt) {
    cv::Mat stroke(50, 40, CV_32F, cv::Scalar(0));
    cv::line(stroke, {8, 45}, {28, 5}, 1, 9);
    const Ribbon r = ribbon({stroke}, 186, 0.2);
    const Periodicity found = find_repeats(r.pattern, r.weight);
    EXPECT_EQ(found.count, 93);
    EXPECT_GT(found.explained - found.runner_up, 0.1);
}

TEST(ChangeAlong, OfARowThatIsShadedOverPartOfTheWayRoundIsNone) {
    Ribbon r = ribbon({testing::tile_named("leaf")}, 8, 0);
    r.pattern.rowRange(40, 48).setTo(0);
    r.pattern(cv::Range(40, 48), cv::Range(300, 1100)).setTo(0.45);
    const cv::Mat repeat = evened(r.pattern, {}, 1, 2048, 0);
    cv::Mat mean = cv::Mat::zeros(48, 256, CV_32F);
    for (int i = 0; i < 8; ++i) mean += repeat.colRange(i * 256, (i + 1) * 256) / 8;
    const auto change = change_along(mean, r.pattern, r.weight, 8);
    EXPECT_GT(change[24], 0.15);
    for (std::size_t row = 40; row < 48; ++row) EXPECT_EQ(change[row], 0) << row;
}

TEST(Repeats, AreNotSeenInNoise) {
    for (std::uint64_t seed = 1; seed < 5; ++seed) {
        const Ribbon r = ribbon({cv::Mat(50, 50, CV_32F, cv::Scalar(1))}, 12, 0.5, seed);  // patches of a band
        const Periodicity p = find_repeats(r.pattern, r.weight);
        EXPECT_LT(p.explained - std::max(0.0, p.runner_up), 0.03) << p.count;
    }
}

}  // namespace footring::photo

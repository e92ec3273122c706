// SPDX-License-Identifier: Apache-2.0
#include "photo/crazing.h"

#include <gtest/gtest.h>

#include <opencv2/imgproc.hpp>
#include <vector>

namespace footring::photo {
namespace {

constexpr double kGlazePxPerMm = 3;
constexpr int kSide = 750;

// Glaze of one colour with noise, and on it the borders of random cells: a net of lines.
struct Glazed {
    cv::Mat grey{kSide, kSide, CV_8UC1}, bare{kSide, kSide, CV_8UC1, cv::Scalar(255)};

    explicit Glazed(double noise = 2) {
        cv::RNG rng(5);
        cv::Mat level(kSide, kSide, CV_32FC1);
        rng.fill(level, cv::RNG::NORMAL, 205, noise);
        level.convertTo(grey, CV_8U);
    }
    // `mesh_mm` wide on average, within `where`; `lighter` than the glaze by so much.
    Glazed& net(double mesh_mm, int lighter, cv::Rect where = {0, 0, kSide, kSide}) {
        cv::Subdiv2D cells({0, 0, kSide, kSide});
        cv::RNG rng(6);
        const double mesh = mesh_mm * kGlazePxPerMm;
        for (int i = 0; i < kSide * kSide / (mesh * mesh); ++i)
            cells.insert({rng.uniform(1.F, kSide - 1.F), rng.uniform(1.F, kSide - 1.F)});
        std::vector<std::vector<cv::Point2f>> borders;
        std::vector<cv::Point2f> middles;
        cells.getVoronoiFacetList({}, borders, middles);
        cv::Mat lines = cv::Mat::zeros(grey.size(), CV_8UC1);
        for (const auto& border : borders) {
            const std::vector<cv::Point> corners(border.begin(), border.end());
            cv::polylines(lines, corners, true, std::abs(lighter), 1, cv::LINE_AA);
        }
        cv::Mat part = grey(where);
        if (lighter > 0) part += lines(where);
        else part -= lines(where);
        return *this;
    }
    std::optional<double> chance() const { return chance_of_crazing(grey, bare, kGlazePxPerMm); }
};

TEST(Crazing, IsANetOfDarkLinesAllOverTheGlaze) {
    EXPECT_GT(Glazed().net(9, -22).chance().value(), 0.9);
    EXPECT_GT(Glazed().net(4, -22).chance().value(), 0.9) << "close meshes";
    EXPECT_GT(Glazed(4).net(9, -40).chance().value(), 0.9) << "a grainy photograph";
}

TEST(Crazing, IsNotWhatLiesInOnePlaceOrIsBrighterOrIsNoise) {
    EXPECT_LT(Glazed().chance().value(), 0.05);
    EXPECT_LT(Glazed(9).chance().value(), 0.05);
    EXPECT_LT(Glazed().net(9, -22, {0, 0, kSide, kSide / 3}).chance().value(), 0.05) << "cracks in a third of it";
    EXPECT_LT(Glazed().net(9, 22).chance().value(), 0.05) << "threads of light mirrored in the glaze";
}

TEST(Crazing, IsNotToldFromTooLittle) {
    Glazed small;
    small.bare = 0;
    EXPECT_FALSE(small.chance());
    small.bare(cv::Rect(0, 0, 100, 100)) = 255;
    EXPECT_FALSE(small.chance());
    EXPECT_FALSE(chance_of_crazing(Glazed().grey, Glazed().bare, 0.8));
}

}  // namespace
}  // namespace footring::photo

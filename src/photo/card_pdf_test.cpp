// SPDX-License-Identifier: Apache-2.0
#include "photo/card_pdf.h"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <opencv2/imgcodecs.hpp>

#include "photo/card.h"
#include "photo/card_layout.h"
#include "photo/sampling.h"

namespace footring::photo {
namespace {

constexpr double kDpi = 300;

// The page as poppler draws it.
cv::Mat drawn(const std::string& pdf, const std::string& name) {
    namespace fs = std::filesystem;
    const fs::path folder = fs::temp_directory_path() / fmt::format("footring-card-{}-{}", name, ::getpid());
    fs::create_directories(folder);
    std::ofstream(folder / "card.pdf", std::ios::binary) << pdf;
    const std::string command = fmt::format("pdftoppm -r {} -png -singlefile '{}/card.pdf' '{}/card'", kDpi,
                                            folder.string(), folder.string());
    cv::Mat page;
    if (std::system(command.c_str()) == 0) page = cv::imread((folder / "card.png").string());
    fs::remove_all(folder);
    return page;
}
double px_of(double mm) { return mm / 25.4 * kDpi; }

class CardPage : public ::testing::TestWithParam<Paper> {};

TEST_P(CardPage, ShowsACardOfTrueSizeWhereItIsSaidToBe) {
    const auto pdf = card_pdf(GetParam());
    ASSERT_TRUE(pdf);
    Picture picture;
    picture.bgr = drawn(*pdf, GetParam() == Paper::kA4 ? "a4" : "letter");
    ASSERT_FALSE(picture.bgr.empty()) << "pdftoppm (Debian: poppler-utils) is needed";
    EXPECT_NEAR(picture.bgr.cols, px_of(size_of(GetParam()).width_mm), 1.5);
    EXPECT_NEAR(picture.bgr.rows, px_of(size_of(GetParam()).height_mm), 1.5);
    const auto found = find_card(picture);
    ASSERT_TRUE(found);
    EXPECT_EQ(found->seen.seen, (std::array{true, true, true, true}));
    const auto at = [&](double x, double y) { return through(found->photo_from_card, {x, y}); };
    const double mm = 25.4 / kDpi;
    EXPECT_NEAR(cv::norm(at(kCardWidthMm, 0) - at(0, 0)) * mm, 85.60, 0.1);
    EXPECT_NEAR(cv::norm(at(0, kCardHeightMm) - at(0, 0)) * mm, 53.98, 0.1);
    EXPECT_NEAR((at(0, 0).x + 0.5) * mm, kCardOnPageXMm, 0.1);
    EXPECT_NEAR((at(0, 0).y + 0.5) * mm, kCardOnPageYMm, 0.1);
    for (const auto& patch : kPatches) {
        const cv::Point2d p = at(patch.left_mm + 5, kCardHeightMm / 2);
        EXPECT_NEAR(picture.bgr.at<cv::Vec3b>(cvRound(p.y), cvRound(p.x))[1], patch.srgb, 1) << patch.srgb;
    }
    const Light light = light_of(picture, *found);
    for (int c = 0; c < 3; ++c) EXPECT_NEAR(light.gain[c], 1, 0.01);
}

TEST_P(CardPage, HasARulerOfAHundredAndFiftyMillimetres) {
    const auto pdf = card_pdf(GetParam());
    ASSERT_TRUE(pdf);
    const cv::Mat page = drawn(*pdf, GetParam() == Paper::kA4 ? "a4-ruler" : "letter-ruler");
    ASSERT_FALSE(page.empty()) << "pdftoppm (Debian: poppler-utils) is needed";
    // Across the ruler half a millimetre above its line: each tick is dark.
    const int y = cvRound(px_of(kRulerOnPageYMm - 1.5));
    std::vector<double> ticks;
    for (int x = cvRound(px_of(kRulerOnPageXMm - 2)); x < px_of(kRulerOnPageXMm + kRulerMm + 2); ++x) {
        double weight = 0, sum = 0;
        for (; page.at<cv::Vec3b>(y, x)[1] < 250; ++x) {
            const double dark = 255 - page.at<cv::Vec3b>(y, x)[1];
            weight += dark, sum += dark * (x + 0.5);
        }
        if (weight > 0) ticks.push_back(sum / weight / kDpi * 25.4 - kRulerOnPageXMm);
    }
    ASSERT_EQ(ticks.size(), 151u);
    for (std::size_t i = 0; i < ticks.size(); ++i) EXPECT_NEAR(ticks[i], static_cast<double>(i), 0.1);
}

INSTANTIATE_TEST_SUITE_P(Papers, CardPage, ::testing::Values(Paper::kA4, Paper::kLetter));

TEST(CardPdf, IsTheSameEachTime) {
    const auto once = card_pdf(Paper::kA4), again = card_pdf(Paper::kA4);
    ASSERT_TRUE(once && again);
    EXPECT_EQ(*once, *again);
    EXPECT_EQ(once->substr(0, 5), "%PDF-");
}

}  // namespace
}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/open.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace footring::photo {
namespace {

std::string encoded(const char* ending, const cv::Mat& pixels, const std::vector<int>& how = {}) {
    std::vector<uchar> bytes;
    cv::imencode(ending, pixels, bytes, how);
    return {bytes.begin(), bytes.end()};
}
cv::Mat noise(int width, int height, int type = CV_8UC3) {
    cv::Mat out(height, width, type);
    cv::RNG random(7);
    random.fill(out, cv::RNG::UNIFORM, 0, CV_MAT_DEPTH(type) == CV_16U ? 65536 : 256);
    return out;
}

TEST(Open, GivesThePixelsThatAnotherDecoderGives) {
    const cv::Mat small = noise(37, 23);
    for (const char* ending : {".png", ".jpg"}) {
        const std::string bytes = encoded(ending, small);
        const auto picture = open(bytes, ending);
        ASSERT_TRUE(picture) << to_line(picture.error());
        const cv::Mat expected = cv::imdecode(std::vector<uchar>(bytes.begin(), bytes.end()), cv::IMREAD_COLOR);
        EXPECT_EQ(cv::norm(picture->bgr, expected, cv::NORM_INF), 0) << ending;
    }
}

}  // namespace
}  // namespace footring::photo

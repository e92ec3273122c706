// SPDX-License-Identifier: Apache-2.0
#include "photo/thumbnail.h"

#include <fmt/format.h>

#include <algorithm>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/develop.h"

namespace footring::photo {

namespace {

constexpr int kMostLongest = 4096, kJpegQuality = 85;

cv::Mat smaller(const cv::Mat& pixels, int longest) {
    const int side = std::max(pixels.cols, pixels.rows);
    if (side <= longest) return pixels;
    const double scale = static_cast<double>(longest) / side;
    const cv::Size size(std::max(1, cvRound(pixels.cols * scale)), std::max(1, cvRound(pixels.rows * scale)));
    cv::Mat out;
    cv::resize(pixels, out, size, 0, 0, cv::INTER_AREA);
    return out;
}

}  // namespace

Expected<Thumbnail> thumbnail(std::string_view bytes, int longest, std::string_view where) {
    if (longest < 1 || longest > kMostLongest)
        return fail(ProblemCode::kOurFault, std::string(where),
                    fmt::format("a thumbnail of {} px was asked", longest), "please report this sentence");
    const auto header = admit(bytes, where);
    if (!header) return std::unexpected(header.error());
    DarkroomOptions options;
    options.longest = longest;
    const auto developed = develop(bytes, *header, where, options);
    if (!developed) return std::unexpected(developed.error());
    try {
        std::vector<uchar> jpeg;
        cv::imencode(".jpg", smaller(developed->picture.bgr, longest), jpeg,
                     {cv::IMWRITE_JPEG_QUALITY, kJpegQuality});
        return Thumbnail{developed->picture.type, developed->full_width, developed->full_height,
                         std::string(jpeg.begin(), jpeg.end())};
    } catch (const std::exception& e) {  // cv::Exception, or no memory
        return fail(ProblemCode::kOurFault, std::string(where),
                    fmt::format("it cannot be made smaller ({})", e.what()), "try again");
    }
}

}  // namespace footring::photo

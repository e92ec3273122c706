// SPDX-License-Identifier: Apache-2.0
#include "photo/thumbnail.h"

#include <fmt/format.h>

#include <algorithm>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/image_header.h"

namespace footring::photo {

namespace {

constexpr int kMostLongest = 4096, kJpegQuality = 85;

// JPEG can be decoded at 1/2, 1/4, 1/8, which is several times faster; half as much again is left for a smooth
// resize.
int decode_flags(const ImageHeader& h, int longest) {
    if (h.transparent) return cv::IMREAD_UNCHANGED;  // never turned by OpenCV
    const std::int64_t enough = std::int64_t{longest} * 3 / 2, side = std::max(h.width, h.height);
    int flags = cv::IMREAD_COLOR;
    if (h.format == Format::kJpeg && side / 8 >= enough) flags = cv::IMREAD_REDUCED_COLOR_8;
    else if (h.format == Format::kJpeg && side / 4 >= enough) flags = cv::IMREAD_REDUCED_COLOR_4;
    else if (h.format == Format::kJpeg && side / 2 >= enough) flags = cv::IMREAD_REDUCED_COLOR_2;
    // TIFF may hold floats, which OpenCV gives only as they are: in_eight_bits() reduces them.
    if (h.format == Format::kTiff) flags |= cv::IMREAD_ANYDEPTH;
    return flags | cv::IMREAD_IGNORE_ORIENTATION;
}

cv::Mat in_eight_bits(const cv::Mat& pixels) {
    if (pixels.depth() == CV_8U) return pixels;
    cv::Mat out;
    const double scale = pixels.depth() == CV_16U ? 1.0 / 257 : 255.0;  // 65535 becomes 255; so does 1 of floats
    pixels.convertTo(out, CV_8U, scale);
    return out;
}

// Grey, colour, or colour with transparency, as colour on white.
cv::Mat on_white(const cv::Mat& decoded) {
    const cv::Mat pixels = in_eight_bits(decoded);
    cv::Mat out;
    if (pixels.channels() == 1) cv::cvtColor(pixels, out, cv::COLOR_GRAY2BGR);
    else if (pixels.channels() == 3) out = pixels;
    else {
        out.create(pixels.size(), CV_8UC3);
        for (int y = 0; y < pixels.rows; ++y) {
            const auto* from = pixels.ptr<cv::Vec4b>(y);
            auto* to = out.ptr<cv::Vec3b>(y);
            for (int x = 0; x < pixels.cols; ++x)
                for (int c = 0; c < 3; ++c)
                    to[x][c] = static_cast<uchar>((from[x][c] * from[x][3] + 255 * (255 - from[x][3]) + 127) / 255);
        }
    }
    return out;
}

cv::Mat upright(const cv::Mat& stored, int orientation) {
    cv::Mat out = stored;
    if (orientation >= 5) cv::transpose(stored, out);  // 5 to 8 lie on their side
    switch (orientation) {
        case 2:
        case 6:
            cv::flip(out, out, 1);
            break;  // left and right
        case 3:
        case 7:
            cv::flip(out, out, -1);
            break;
        case 4:
        case 8:
            cv::flip(out, out, 0);
            break;  // top and bottom
        default:
            break;
    }
    return out;
}

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
    if (bytes.size() > kMostBytes)
        return fail(
            ProblemCode::kTooLarge, std::string(where),
            fmt::format("the file has {} MB, the most is {} MB", bytes.size() / 1'000'000, kMostBytes / 1'000'000),
            "save it with stronger compression, as JPEG for example");
    const auto header = read_header(bytes, where);
    if (!header) return std::unexpected(header.error());
    if (header->width > kMostPixels / header->height)
        return fail(ProblemCode::kTooLarge, std::string(where),
                    fmt::format("the photograph has {} x {} pixels, the most is {} megapixels", header->width,
                                header->height, kMostPixels / 1'000'000),
                    "make a smaller copy and send that");
    const auto torn = [&] {
        return fail(ProblemCode::kBadInput, std::string(where),
                    "the photograph is torn: it ends too early, or its data are damaged",
                    "copy it from the camera again");
    };
    try {
        // OpenCV takes no constant bytes, and does not write to them.
        const cv::Mat input(1, static_cast<int>(bytes.size()), CV_8U, const_cast<char*>(bytes.data()));
        const cv::Mat decoded = cv::imdecode(input, decode_flags(*header, longest));
        if (decoded.empty()) return torn();
        // OpenCV turns TIFF itself, whatever the flags; the others it leaves as stored.
        const int still_to_turn = header->format == Format::kTiff ? 1 : header->orientation;
        const cv::Mat small = smaller(upright(on_white(decoded), still_to_turn), longest);
        std::vector<uchar> jpeg;
        cv::imencode(".jpg", small, jpeg, {cv::IMWRITE_JPEG_QUALITY, kJpegQuality});
        Thumbnail out{std::string(mime_of(header->format)), static_cast<int>(header->width),
                      static_cast<int>(header->height), std::string(jpeg.begin(), jpeg.end())};
        if (header->orientation >= 5) std::swap(out.width, out.height);
        return out;
    } catch (const std::exception&) {  // cv::Exception, or no memory for pixels that the header did promise
        return torn();
    }
}

}  // namespace footring::photo

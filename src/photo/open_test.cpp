// SPDX-License-Identifier: Apache-2.0
#include "photo/open.h"

#include <gtest/gtest.h>

#include <cmath>

#include "photo/image_header.h"
#include "photo/test_files.h"
#include "photo/test_heic.h"

namespace footring::photo {
namespace {

using namespace files;

double largest_difference(const cv::Mat& a, const cv::Mat& b) {
    return a.size() == b.size() && a.type() == b.type() ? cv::norm(a, b, cv::NORM_INF) : 1e9;
}
// Slow and obvious: each upright pixel looked up where EXIF 2.32 says that it is stored.
cv::Mat stood_upright(const cv::Mat& stored, int orientation) {
    const int w = stored.cols, h = stored.rows;
    cv::Mat out(orientation >= 5 ? w : h, orientation >= 5 ? h : w, CV_8UC3);
    for (int y = 0; y < out.rows; ++y)
        for (int x = 0; x < out.cols; ++x) {
            const cv::Point from[] = {{x, y}, {w - 1 - x, y}, {w - 1 - x, h - 1 - y}, {x, h - 1 - y},
                                      {y, x}, {y, h - 1 - x}, {w - 1 - y, h - 1 - x}, {w - 1 - y, x}};
            out.at<cv::Vec3b>(y, x) = stored.at<cv::Vec3b>(from[orientation - 1]);
        }
    return out;
}
std::string line_of(const std::string& bytes) {
    const auto picture = open(bytes, "a");
    return picture ? "a picture" : to_line(picture.error());
}
constexpr const char* kTorn =
    "a: the photograph is torn: it ends too early, or its data are damaged: copy it from the camera again";
constexpr const char* kNotRead =
    "a: the photograph keeps its colours in a way that is not read here: save it anew as JPEG and send that";

TEST(Open, GivesThePixelsThatAnotherDecoderGives) {
    const cv::Mat small = noise(37, 23);
    for (const char* ending : {".png", ".jpg", ".webp", ".tiff"}) {
        const std::string bytes = encoded(ending, small);
        const auto picture = open(bytes, ending);
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_EQ(largest_difference(picture->bgr, decoded(bytes)), 0) << ending;
        EXPECT_FALSE(picture->focal_px);
        EXPECT_EQ(picture->notes, std::vector<std::string>{});
    }
    const std::string progressive = encoded(".jpg", small, {cv::IMWRITE_JPEG_PROGRESSIVE, 1});
    EXPECT_EQ(largest_difference(open(progressive, "a")->bgr, decoded(progressive)), 0);
    const std::string grey = encoded(".jpg", noise(37, 23, CV_8UC1));
    EXPECT_EQ(largest_difference(open(grey, "a")->bgr, decoded(grey)), 0);
}

TEST(Open, GivesPixelsThatMayBeWrittenOverAndOutliveTheCall) {
    auto picture = open(encoded(".png", cv::Mat(50, 40, CV_8UC3, cv::Scalar(1, 2, 3))), "a");
    ASSERT_TRUE(picture);
    const Picture copy = *picture;
    picture = std::unexpected(Problem{});
    cv::Mat kept = copy.bgr;
    kept.setTo(cv::Scalar(9, 9, 9));
    EXPECT_EQ(copy.bgr.at<cv::Vec3b>(49, 39), cv::Vec3b(9, 9, 9));
}

TEST(Open, StandsEveryOrientationUprightToThePixel) {
    const cv::Mat stored = noise(150, 71);  // more rows and columns than are turned at once
    const std::string plain = encoded(".png", stored),
                      webp = encoded(".webp", stored, {cv::IMWRITE_WEBP_QUALITY, 101});
    cv::Mat rgb;
    cv::cvtColor(stored, rgb, cv::COLOR_BGR2RGB);
    for (int orientation = 1; orientation <= 8; ++orientation) {
        const cv::Mat expected = stood_upright(stored, orientation);
        const std::string block = exif(orientation, orientation % 2 == 0);
        TiffLook look;
        look.orientation = orientation;
        for (const std::string& file :
             {png_with(plain, png_chunk("eXIf", block)), tiff_of(rgb, look),
              webp_file(webp_extended(0x08, 150, 71) + webp.substr(12) + webp_chunk("EXIF", block))}) {
            const auto picture = open(file, "a");
            ASSERT_TRUE(picture) << to_line(picture.error());
            EXPECT_EQ(largest_difference(picture->bgr, expected), 0) << orientation << picture->type;
        }
        const std::string jpeg = encoded(".jpg", stored);
        const auto picture = open(jpeg_with(jpeg, jpeg_exif(block)), "a");
        ASSERT_TRUE(picture);
        EXPECT_EQ(largest_difference(picture->bgr, stood_upright(decoded(jpeg), orientation)), 0) << orientation;
    }
}

TEST(Open, TakesTheFocalLengthFromWhatTheCameraWrote) {
    // FocalLengthIn35mmFilm is for a frame of 36 x 24 mm, whose diagonal is 43.27 mm (EXIF 2.32, tag 0xA405).
    const double expected = 26 / 43.27 * std::hypot(300.0, 400.0);
    const std::string block = exif(6, false, 26), png = encoded(".png", noise(400, 300));
    for (const std::string& file : {jpeg_with(encoded(".jpg", noise(400, 300)), jpeg_exif(block)),
                                    png_with(png, png_chunk("eXIf", exif(6, true, 26)))}) {
        const auto picture = open(file, "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        ASSERT_TRUE(picture->focal_px);
        EXPECT_NEAR(*picture->focal_px, expected, 1e-9);
        EXPECT_EQ(picture->bgr.size(), cv::Size(300, 400));
    }
    EXPECT_FALSE(open(jpeg_with(encoded(".jpg", noise(9, 9)), jpeg_exif(exif(1, false, 0))), "a")->focal_px);
    EXPECT_FALSE(open(jpeg_with(encoded(".jpg", noise(9, 9)), jpeg_exif("II*")), "a")->focal_px);
}

TEST(Open, TakesPicturesOfOnePixelAndOfOneLongRow) {
    for (const char* ending : {".jpg", ".png", ".webp", ".tiff"}) {
        const cv::Mat one(1, 1, CV_8UC3, cv::Scalar::all(77));
        const auto picture = open(encoded(ending, one), ending);
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_LE(largest_difference(picture->bgr, one), 1) << ending;
    }
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        for (const cv::Size size : {cv::Size(30000, 10), cv::Size(10, 30000)}) {
            const cv::Mat strip(size, CV_8UC3, cv::Scalar::all(77));
            const auto picture = open(encoded(ending, strip), ending);
            ASSERT_TRUE(picture) << to_line(picture.error());
            EXPECT_LE(largest_difference(picture->bgr, strip), 1) << ending;
        }
    }
    const cv::Mat row(10, 16383, CV_8UC3, cv::Scalar::all(77));  // the longest that WebP can be
    EXPECT_LE(largest_difference(open(encoded(".webp", row), "a")->bgr, row), 1);
}

TEST(Open, BringsSixteenBitsToEightByTheNearestLevel) {
    cv::Mat deep(1, 4, CV_16UC3);
    const int levels[] = {0, 128, 129, 65535};  // 128/257 is under one half, 129/257 above
    for (int x = 0; x < 4; ++x) deep.at<cv::Vec3w>(0, x) = cv::Vec3w::all(static_cast<ushort>(levels[x]));
    for (const char* ending : {".png", ".tiff"}) {
        const auto picture = open(encoded(ending, deep), ending);
        ASSERT_TRUE(picture) << to_line(picture.error());
        const int expected[] = {0, 0, 1, 255};
        for (int x = 0; x < 4; ++x) EXPECT_EQ(picture->bgr.at<cv::Vec3b>(0, x)[1], expected[x]) << ending << x;
    }
}

TEST(Open, ReadsEveryPackingOfTiff) {
    const cv::Mat rgb = noise(70, 45);
    cv::Mat bgr, deep;
    cv::cvtColor(rgb, bgr, cv::COLOR_RGB2BGR);
    rgb.convertTo(deep, CV_16U, 257);
    for (const int planar : {PLANARCONFIG_CONTIG, PLANARCONFIG_SEPARATE})
        for (const int tile : {0, 32})
            for (const int bits : {8, 16})
                for (const int compression :
                     {COMPRESSION_NONE, COMPRESSION_LZW, COMPRESSION_ADOBE_DEFLATE, COMPRESSION_PACKBITS}) {
                    TiffLook look;
                    look.planar = planar;
                    look.tile = tile;
                    look.bits = bits;
                    look.compression = compression;
                    const auto picture = open(tiff_of(bits == 8 ? rgb : deep, look), "a");
                    ASSERT_TRUE(picture) << to_line(picture.error());
                    EXPECT_EQ(largest_difference(picture->bgr, bgr), 0)
                        << planar << ' ' << tile << ' ' << bits << ' ' << compression;
                }
}

TEST(Open, ReadsEveryKindOfColourThatTiffHasForPhotographs) {
    const cv::Mat grey = noise(40, 30, CV_8UC1);
    cv::Mat expected;
    TiffLook look;
    look.samples = 1;
    look.photometric = PHOTOMETRIC_MINISBLACK;
    cv::cvtColor(grey, expected, cv::COLOR_GRAY2BGR);
    EXPECT_EQ(largest_difference(open(tiff_of(grey, look), "a")->bgr, expected), 0);
    look.photometric = PHOTOMETRIC_MINISWHITE;
    EXPECT_EQ(largest_difference(open(tiff_of(grey, look), "a")->bgr, cv::Scalar::all(255) - expected), 0);

    // Two bits: the levels 0, 1, 2, 3 in one byte.
    TiffLook two = look;
    two.bits = 2;
    two.photometric = PHOTOMETRIC_MINISBLACK;
    const std::string levels = tiff_file([&](TIFF* t) {
        set_tags(t, 4, 1, two);
        char byte = 0x1B;
        TIFFWriteScanline(t, &byte, 0, 0);
    });
    const auto stairs = open(levels, "a");
    ASSERT_TRUE(stairs) << to_line(stairs.error());
    for (int x = 0; x < 4; ++x)
        EXPECT_EQ(stairs->bgr.at<cv::Vec3b>(0, x), cv::Vec3b::all(static_cast<uchar>(85 * x)));

    TiffLook palette = two;
    palette.photometric = PHOTOMETRIC_PALETTE;
    for (const int scale : {1, 257}) {  // 16 bits, as the standard has it, and 8, as some programs do
        const std::string indexed = tiff_file([&](TIFF* t) {
            set_tags(t, 4, 1, palette);
            std::uint16_t map[3][4];
            for (int c = 0; c < 3; ++c)
                for (int i = 0; i < 4; ++i) map[c][i] = static_cast<std::uint16_t>((10 * i + 60 * c) * scale);
            TIFFSetField(t, TIFFTAG_COLORMAP, map[0], map[1], map[2]);
            char byte = 0x1B;
            TIFFWriteScanline(t, &byte, 0, 0);
        });
        const auto p = open(indexed, "a");
        ASSERT_TRUE(p) << to_line(p.error());
        EXPECT_EQ(p->bgr.at<cv::Vec3b>(0, 3), cv::Vec3b(150, 90, 30)) << scale;
    }

    // Half red, half transparent: colours that are multiplied by their alpha already, and such that are not.
    for (const std::uint16_t kind : {EXTRASAMPLE_ASSOCALPHA, EXTRASAMPLE_UNASSALPHA}) {
        TiffLook alpha;
        alpha.samples = 4;
        alpha.extra = {kind};
        const cv::Mat half(3, 3, CV_8UC4, cv::Scalar(kind == EXTRASAMPLE_ASSOCALPHA ? 128 : 255, 0, 0, 128));
        EXPECT_EQ(open(tiff_of(half, alpha), "a")->bgr.at<cv::Vec3b>(1, 1), cv::Vec3b(127, 127, 255));
    }
    TiffLook jpeg;
    jpeg.photometric = PHOTOMETRIC_YCBCR;
    jpeg.compression = COMPRESSION_JPEG;
    jpeg.rows_a_strip = 16;
    const auto from_jpeg = open(tiff_of(cv::Mat(64, 64, CV_8UC3, cv::Scalar(200, 120, 40)), jpeg), "a");
    ASSERT_TRUE(from_jpeg) << to_line(from_jpeg.error());
    EXPECT_LE(largest_difference(from_jpeg->bgr, cv::Mat(64, 64, CV_8UC3, cv::Scalar(40, 120, 200))), 2);
    // Inks: R = (1 - C)(1 - K).
    TiffLook inks;
    inks.photometric = PHOTOMETRIC_SEPARATED;
    inks.samples = 4;
    const auto printed = open(tiff_of(cv::Mat(3, 3, CV_8UC4, cv::Scalar(0, 51, 255, 51)), inks), "a");
    ASSERT_TRUE(printed) << to_line(printed.error());
    EXPECT_EQ(printed->bgr.at<cv::Vec3b>(1, 1), cv::Vec3b(0, 163, 204));

    TiffLook lab;
    lab.photometric = PHOTOMETRIC_CIELAB;
    EXPECT_EQ(line_of(tiff_of(cv::Mat(3, 3, CV_8UC3), lab)), kNotRead);
    TiffLook preview;  // the raw files of many cameras begin so
    preview.subfile = FILETYPE_REDUCEDIMAGE;
    EXPECT_EQ(line_of(tiff_of(cv::Mat(3, 3, CV_8UC3), preview)), kNotRead);
}

TEST(Open, TakesTheFirstPageOfSeveralAndSaysSo) {
    const TiffLook look;
    const auto pages = [&](std::uint32_t second) {
        return tiff_file([&](TIFF* t) {
            TiffLook next = look;
            next.subfile = second;
            set_tags(t, 8, 8, look);
            write_page(t, cv::Mat(8, 8, CV_8UC3, cv::Scalar(10, 20, 30)), look);
            set_tags(t, 4, 4, next);
            write_page(t, cv::Mat(4, 4, CV_8UC3, cv::Scalar(1, 1, 1)), next);
        });
    };
    const auto picture = open(pages(FILETYPE_PAGE), "a");
    ASSERT_TRUE(picture) << to_line(picture.error());
    EXPECT_EQ(picture->bgr.size(), cv::Size(8, 8));
    EXPECT_EQ(picture->bgr.at<cv::Vec3b>(0, 0), cv::Vec3b(30, 20, 10));
    EXPECT_EQ(picture->notes, std::vector<std::string>{"The file holds several pictures: the first was taken."});
    EXPECT_EQ(open(pages(FILETYPE_REDUCEDIMAGE), "a")->notes,
              std::vector<std::string>{});  // a preview of the first
}

TEST(Open, ReadsHeicWithItsFocalLength) {
    HeicLook look;
    look.exif_block = exif(1, true, 26);
    const auto picture = open(heic_of(corners(128, 64), look), "a");
    ASSERT_TRUE(picture) << to_line(picture.error());
    EXPECT_EQ(picture->type, "image/heic");
    EXPECT_EQ(picture->bgr.size(), cv::Size(128, 64));
    EXPECT_LE(cv::norm(picture->bgr.at<cv::Vec3b>(10, 10) - cv::Vec3b(0, 0, 255), cv::NORM_INF), 4);
    EXPECT_LE(cv::norm(picture->bgr.at<cv::Vec3b>(10, 110) - cv::Vec3b(0, 255, 0), cv::NORM_INF), 4);
    EXPECT_LE(cv::norm(picture->bgr.at<cv::Vec3b>(50, 10) - cv::Vec3b(255, 0, 0), cv::NORM_INF), 4);
    ASSERT_TRUE(picture->focal_px);
    EXPECT_NEAR(*picture->focal_px, 26 / 43.27 * std::hypot(128.0, 64.0), 1e-9);
    EXPECT_EQ(picture->notes, std::vector<std::string>{});
}

TEST(Open, TurnsHeicOnceThoughItSaysSoTwice) {
    // Cameras write the turn both as a property of the picture and into EXIF. Only the first counts (ISO/IEC
    // 23008-12).
    HeicLook look;
    look.turned = heif_orientation_rotate_90_cw;
    look.exif_block = exif(6, true);
    const auto picture = open(heic_of(corners(128, 64), look), "a");
    ASSERT_TRUE(picture) << to_line(picture.error());
    ASSERT_EQ(picture->bgr.size(), cv::Size(64, 128));
    // Turned clockwise by a quarter, blue comes to the top left and red to the top right.
    EXPECT_GT(picture->bgr.at<cv::Vec3b>(10, 10)[0], 200);
    EXPECT_LT(picture->bgr.at<cv::Vec3b>(10, 10)[2], 50);
    EXPECT_GT(picture->bgr.at<cv::Vec3b>(10, 54)[2], 200);
    EXPECT_LT(picture->bgr.at<cv::Vec3b>(10, 54)[0], 50);
}

TEST(Open, RefusesHeicThatIsTooLargeTornOrOfAnotherKind) {
    std::string heic = heic_of(corners(128, 64));
    const auto header = read_header(heic, "a");
    ASSERT_TRUE(header);
    EXPECT_EQ(header->width, 128);
    EXPECT_EQ(header->height, 64);
    for (std::size_t length = 40; length < heic.size(); length += heic.size() / 15)
        EXPECT_EQ(line_of(heic.substr(0, length)), kTorn) << length;
    std::string bomb = heic;
    bomb.replace(bomb.find("ispe") + 8, 8, big(60000, 4) + big(60000, 4));
    EXPECT_EQ(line_of(bomb),
              "a: the photograph has 60000 x 60000 pixels, the most is 60 megapixels: make a smaller copy and send "
              "that");
    EXPECT_EQ(line_of(big(20, 4) + "ftypavif" + big(0, 4) + "mif1"),
              "a: AVIF photographs are not read here: convert it to JPEG");
    HeicLook two;
    two.images = 2;
    EXPECT_EQ(open(heic_of(corners(128, 64), two), "a")->notes,
              std::vector<std::string>{"The file holds several pictures: the first was taken."});
}

TEST(OpenReduced, DecodesAJpegNoFinerThanIsAskedAndSaysHowMuch) {
    cv::Mat large(1501, 2000, CV_8UC3);
    for (int y = 0; y < large.rows; ++y)
        for (int x = 0; x < large.cols; ++x)
            large.at<cv::Vec3b>(y, x) = cv::Vec3b(static_cast<uchar>(x / 8), static_cast<uchar>(y / 8), 90);
    const std::string jpeg = encoded(".jpg", large);
    for (const auto& [longest, by] : {std::pair{600, 2}, {300, 4}, {5000, 1}}) {
        const auto opened = open_reduced(jpeg, "a", longest);
        ASSERT_TRUE(opened);
        EXPECT_EQ(opened->by, by) << longest;
        EXPECT_EQ(opened->full_width, 2000);
        EXPECT_EQ(opened->full_height, 1501);
        EXPECT_EQ(opened->picture.bgr.cols, (2000 + by - 1) / by);
        EXPECT_EQ(opened->picture.bgr.rows, (1501 + by - 1) / by);
        // Pixel (i, j) is what lies at by * i ... of the photograph.
        const int i = 1000 / by, j = 720 / by;
        const cv::Vec3b seen = opened->picture.bgr.at<cv::Vec3b>(j, i), there = large.at<cv::Vec3b>(by * j, by * i);
        EXPECT_LE(cv::norm(cv::Vec3i(seen) - cv::Vec3i(there)), 5) << longest;
    }
    const auto png = open_reduced(encoded(".png", large), "a", 300);  // other formats come whole
    ASSERT_TRUE(png);
    EXPECT_EQ(png->by, 1);
    EXPECT_FALSE(open_reduced("no photograph", "a", 300));
}

}  // namespace
}  // namespace footring::photo

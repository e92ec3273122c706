// SPDX-License-Identifier: Apache-2.0
#include "photo/thumbnail.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <random>

#include "photo/image_header.h"

namespace footring::photo {
namespace {

constexpr int kLongest = 64;

std::string encoded(const char* ending, const cv::Mat& pixels, const std::vector<int>& how = {}) {
    std::vector<uchar> bytes;
    cv::imencode(ending, pixels, bytes, how);
    return {bytes.begin(), bytes.end()};
}
// Red at the top left, green at the top right, blue at the bottom left, white at the bottom right.
cv::Mat corners(int width, int height) {
    cv::Mat out(height, width, CV_8UC3);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            out.at<cv::Vec3b>(y, x) = 2 * y < height
                                          ? (2 * x < width ? cv::Vec3b(0, 0, 255) : cv::Vec3b(0, 255, 0))
                                          : (2 * x < width ? cv::Vec3b(255, 0, 0) : cv::Vec3b(255, 255, 255));
    return out;
}
// The corner's colour as a letter, read from a thumbnail.
char colour_at(const cv::Mat& pixels, int x, int y) {
    const auto p = pixels.at<cv::Vec3b>(y, x);
    const bool b = p[0] > 127, g = p[1] > 127, r = p[2] > 127;
    return r && g && b ? 'w' : r ? 'r' : g ? 'g' : b ? 'b' : 'k';
}
std::string corners_of(const Thumbnail& t) {
    const cv::Mat p = cv::imdecode(std::vector<uchar>(t.jpeg.begin(), t.jpeg.end()), cv::IMREAD_COLOR);
    const int right = p.cols - 2, low = p.rows - 2;
    return {colour_at(p, 1, 1), colour_at(p, right, 1), colour_at(p, 1, low), colour_at(p, right, low)};
}
cv::Size size_of(const Thumbnail& t) {
    return cv::imdecode(std::vector<uchar>(t.jpeg.begin(), t.jpeg.end()), cv::IMREAD_COLOR).size();
}

std::string big(std::uint32_t value, int bytes) {
    std::string out;
    for (int i = bytes - 1; i >= 0; --i) out += static_cast<char>(value >> (8 * i) & 0xFF);
    return out;
}
std::string little(std::uint32_t value, int bytes) {
    const std::string out = big(value, bytes);
    return {out.rbegin(), out.rend()};
}
// An EXIF block with nothing but the orientation, in either order of bytes.
std::string exif(int orientation, bool motorola) {
    const auto n = [&](std::uint32_t value, int bytes) {
        return motorola ? big(value, bytes) : little(value, bytes);
    };
    return (motorola ? std::string("MM") : std::string("II")) + n(42, 2) + n(8, 4) + n(1, 2) + n(0x112, 2) +
           n(3, 2) + n(1, 4) + n(static_cast<std::uint32_t>(orientation), 2) + n(0, 2) + n(0, 4);
}
std::string jpeg_turned(int orientation, bool motorola) {
    const std::string block = std::string("Exif\0\0", 6) + exif(orientation, motorola);
    std::string bytes = encoded(".jpg", corners(96, 48));
    return bytes.insert(2, "\xFF\xE1" + big(static_cast<std::uint32_t>(block.size()) + 2, 2) + block);
}
std::string webp_chunk(const std::string& name, std::string data) {
    const auto length = static_cast<std::uint32_t>(data.size());
    if (length % 2 == 1) data += '\0';
    return name + little(length, 4) + data;
}
std::string webp_file(const std::string& chunks) {
    return "RIFF" + little(static_cast<std::uint32_t>(chunks.size()) + 4, 4) + "WEBP" + chunks;
}
std::string tiff_header(std::uint32_t width, std::uint32_t height) {
    return "II" + little(42, 2) + little(8, 4) + little(2, 2) + little(0x100, 2) + little(4, 2) + little(1, 4) +
           little(width, 4) + little(0x101, 2) + little(4, 2) + little(1, 4) + little(height, 4) + little(0, 4);
}
// The picture of corners(96, 48), uncompressed, in one strip, with 8 or 16 bits a channel.
std::string tiff_turned(std::uint32_t orientation, std::uint32_t bits) {
    const cv::Mat picture = corners(96, 48);
    std::string pixels;
    for (int y = 0; y < picture.rows; ++y)
        for (int x = 0; x < picture.cols; ++x)
            for (const int channel : {2, 1, 0})
                pixels += std::string(bits / 8, static_cast<char>(picture.at<cv::Vec3b>(y, x)[channel]));
    const auto length = static_cast<std::uint32_t>(pixels.size());
    const auto entry = [](std::uint32_t tag, std::uint32_t type, std::uint32_t count, std::uint32_t value) {
        return little(tag, 2) + little(type, 2) + little(count, 4) + little(value, 4);
    };
    constexpr std::uint32_t kShort = 3, kLong = 4, kPixelsAt = 8 + 6;
    return "II" + little(42, 2) + little(kPixelsAt + length, 4) + little(bits, 2) + little(bits, 2) +
           little(bits, 2) + pixels + little(10, 2) + entry(0x100, kLong, 1, 96) + entry(0x101, kLong, 1, 48) +
           entry(0x102, kShort, 3, 8) + entry(0x103, kShort, 1, 1) + entry(0x106, kShort, 1, 2) +
           entry(0x111, kLong, 1, kPixelsAt) + entry(0x112, kShort, 1, orientation) + entry(0x115, kShort, 1, 3) +
           entry(0x116, kLong, 1, 48) + entry(0x117, kLong, 1, length) + little(0, 4);
}

std::string line_of(const std::string& bytes) {
    const auto answer = thumbnail(bytes, kLongest, "a.jpg");
    return answer ? "a thumbnail" : to_line(answer.error());
}
constexpr const char* kTorn =
    "a.jpg: the photograph is torn: it ends too early, or its data are damaged: copy it from the camera again";

TEST(Thumbnail, TakesTheFourFormatsAndKeepsTheirProportions) {
    const std::pair<const char*, const char*> formats[] = {
        {".jpg", "image/jpeg"}, {".png", "image/png"}, {".webp", "image/webp"}, {".tiff", "image/tiff"}};
    for (const auto& [ending, type] : formats) {
        const auto t = thumbnail(encoded(ending, corners(1200, 600)), kLongest, ending);
        ASSERT_TRUE(t) << ending << to_line(t.error());
        EXPECT_EQ(t->type, type);
        EXPECT_EQ(t->width, 1200);
        EXPECT_EQ(t->height, 600);
        EXPECT_EQ(size_of(*t), cv::Size(64, 32));
        EXPECT_EQ(corners_of(*t), "rgbw") << ending;
    }
}

TEST(Thumbnail, NeverEnlarges) {
    for (const char* ending : {".jpg", ".png", ".webp", ".tiff"}) {
        const auto t = thumbnail(encoded(ending, cv::Mat(1, 1, CV_8UC3, cv::Scalar(9, 9, 9))), kLongest, ending);
        ASSERT_TRUE(t) << to_line(t.error());
        EXPECT_EQ(t->width, 1);
        EXPECT_EQ(t->height, 1);
        EXPECT_EQ(size_of(*t), cv::Size(1, 1));
    }
}

TEST(Thumbnail, TakesAPhotographThatIsAllLength) {
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        const auto t =
            thumbnail(encoded(ending, cv::Mat(10, 30000, CV_8UC3, cv::Scalar(9, 9, 9))), kLongest, ending);
        ASSERT_TRUE(t) << to_line(t.error());
        EXPECT_EQ(t->width, 30000);
        EXPECT_EQ(size_of(*t), cv::Size(64, 1));
    }
}

TEST(Thumbnail, StandsUprightWhateverTheCameraHeld) {
    // What the eight orientations of EXIF 2.32 make of red green / blue white.
    const char* expected[] = {"rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr", "gwrb"};
    for (int orientation = 1; orientation <= 8; ++orientation) {
        for (const bool motorola : {false, true}) {
            const auto t = thumbnail(jpeg_turned(orientation, motorola), kLongest, "a.jpg");
            ASSERT_TRUE(t) << to_line(t.error());
            EXPECT_EQ(corners_of(*t), expected[orientation - 1]) << orientation;
            EXPECT_EQ(t->width, orientation >= 5 ? 48 : 96);
            EXPECT_EQ(t->height, orientation >= 5 ? 96 : 48);
        }
    }
    EXPECT_EQ(corners_of(*thumbnail(jpeg_turned(9, false), kLongest, "a.jpg")), "rgbw");
}

TEST(Thumbnail, StandsUprightInTheOtherFormatsToo) {
    std::string png = encoded(".png", corners(96, 48));
    const std::string block = exif(6, true);
    // The check value of an ancillary chunk is computed as ISO/IEC 15948 annex D says.
    std::uint32_t crc = 0xFFFFFFFF;
    for (const char c : "eXIf" + block) {
        crc ^= static_cast<unsigned char>(c);
        for (int k = 0; k < 8; ++k) crc = (crc & 1) != 0 ? 0xEDB88320 ^ (crc >> 1) : crc >> 1;
    }
    png.insert(33, big(static_cast<std::uint32_t>(block.size()), 4) + "eXIf" + block + big(~crc, 4));
    const auto from_png = thumbnail(png, kLongest, "a.png");
    ASSERT_TRUE(from_png) << to_line(from_png.error());
    EXPECT_EQ(corners_of(*from_png), "brwg");
    EXPECT_EQ(from_png->width, 48);

    const std::string plain = encoded(".webp", corners(96, 48)).substr(12);
    const std::string size = std::string(1, '\x08') + std::string(3, '\0') + little(95, 3) + little(47, 3);
    const auto from_webp =
        thumbnail(webp_file(webp_chunk("VP8X", size) + plain + webp_chunk("EXIF", block)), kLongest, "a.webp");
    ASSERT_TRUE(from_webp) << to_line(from_webp.error());
    EXPECT_EQ(corners_of(*from_webp), "brwg");

    const char* expected[] = {"rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr", "gwrb"};
    for (std::uint32_t orientation = 1; orientation <= 8; ++orientation) {
        for (const std::uint32_t bits : {8u, 16u}) {
            const auto from_tiff = thumbnail(tiff_turned(orientation, bits), kLongest, "a.tiff");
            ASSERT_TRUE(from_tiff) << to_line(from_tiff.error());
            EXPECT_EQ(corners_of(*from_tiff), expected[orientation - 1]) << orientation << " in bits " << bits;
            EXPECT_EQ(from_tiff->width, orientation >= 5 ? 48 : 96);
        }
    }
}

TEST(Thumbnail, TakesSixteenBitsAndGreyAndKeepsTheirBrightness) {
    for (const char* ending : {".png", ".tiff"}) {
        for (const int type : {CV_16UC3, CV_16UC1}) {
            const auto t =
                thumbnail(encoded(ending, cv::Mat(40, 40, type, cv::Scalar::all(0x8080))), kLongest, ending);
            ASSERT_TRUE(t) << to_line(t.error());
            const cv::Mat p = cv::imdecode(std::vector<uchar>(t->jpeg.begin(), t->jpeg.end()), cv::IMREAD_COLOR);
            EXPECT_NEAR(p.at<cv::Vec3b>(20, 20)[1], 0x80, 2) << ending << type;
        }
    }
}

TEST(Thumbnail, TakesFloatsFromZeroToOne) {
    const auto t = thumbnail(
        encoded(".tiff", cv::Mat(40, 40, CV_32FC3, cv::Scalar::all(0.5)), {cv::IMWRITE_TIFF_COMPRESSION, 1}),
        kLongest, "a.tiff");
    ASSERT_TRUE(t) << to_line(t.error());
    const cv::Mat p = cv::imdecode(std::vector<uchar>(t->jpeg.begin(), t->jpeg.end()), cv::IMREAD_COLOR);
    EXPECT_NEAR(p.at<cv::Vec3b>(20, 20)[1], 128, 2);
}

TEST(Thumbnail, PutsTransparentPartsOnWhite) {
    cv::Mat half(40, 40, CV_8UC4, cv::Scalar(0, 0, 0, 0));
    half(cv::Rect(0, 0, 20, 40)) = cv::Scalar(0, 0, 255, 255);
    for (const char* ending : {".png", ".webp"}) {
        const auto t = thumbnail(encoded(ending, half), kLongest, ending);
        ASSERT_TRUE(t) << to_line(t.error());
        EXPECT_EQ(corners_of(*t), "rwrw") << ending;
    }
    cv::Mat deep(40, 40, CV_16UC4, cv::Scalar(0, 0, 0, 0));
    const auto t = thumbnail(encoded(".png", deep), kLongest, "deep.png");
    ASSERT_TRUE(t) << to_line(t.error());
    EXPECT_EQ(corners_of(*t), "wwww");
}

TEST(Thumbnail, RefusesWhatIsNoPhotograph) {
    EXPECT_EQ(line_of(""), "a.jpg: the file is empty: send the photograph as one of these");
    EXPECT_EQ(line_of("%PDF-1.7"),
              "a.jpg: this is no JPEG, PNG, HEIC, WebP or TIFF file: send the photograph as one of these");
    EXPECT_EQ(line_of("GIF89a"),
              "a.jpg: this is no JPEG, PNG, HEIC, WebP or TIFF file: send the photograph as one of these");
    EXPECT_EQ(line_of("<svg xmlns='http://www.w3.org/2000/svg'/>"),
              "a.jpg: this is no JPEG, PNG, HEIC, WebP or TIFF file: send the photograph as one of these");
}

TEST(Thumbnail, AsksToConvertWhatItDoesNotRead) {
    for (const char* brand : {"avif", "avis"})
        EXPECT_EQ(line_of(big(24, 4) + "ftyp" + brand + big(0, 4)),
                  "a.jpg: AVIF photographs are not read here: convert it to JPEG");
}

TEST(Thumbnail, RefusesAMovingPicture) {
    const std::string moves = std::string(1, '\x02') + std::string(3, '\0') + little(95, 3) + little(47, 3);
    EXPECT_EQ(line_of(webp_file(webp_chunk("VP8X", moves) + webp_chunk("ANIM", std::string(6, '\0')))),
              "a.jpg: this is a moving picture: send a still photograph");
}

TEST(Thumbnail, RefusesABombByItsHeader) {
    const std::string line =
        "a.jpg: the photograph has 60000 x 60000 pixels, the most is 60 megapixels: make a "
        "smaller copy and send that";
    const std::string side = big(60000, 4);
    std::string png = encoded(".png", corners(4, 4));
    png.replace(16, 8, side + side);
    EXPECT_EQ(line_of(png), line);
    std::string jpeg = encoded(".jpg", corners(16, 16));
    jpeg.replace(jpeg.find("\xFF\xC0") + 5, 4, side.substr(2) + side.substr(2));
    EXPECT_EQ(line_of(jpeg), line);
    EXPECT_EQ(line_of(tiff_header(60000, 60000)), line);
    EXPECT_EQ(thumbnail(tiff_header(0xFFFFFFFF, 0xFFFFFFFF), kLongest, "a").error().code, ProblemCode::kTooLarge);
    const std::string canvas = std::string(4, '\0') + little(59999, 3) + little(59999, 3);
    EXPECT_EQ(line_of(webp_file(webp_chunk("VP8X", canvas) + encoded(".webp", corners(4, 4)).substr(12))), line);
    EXPECT_EQ(to_line(thumbnail(std::string(kMostBytes + 1, 'x'), kLongest, "a").error()),
              "a: the file has 80 MB, the most is 80 MB: save it with stronger compression, as JPEG for example");
}

TEST(Thumbnail, RefusesSizesThatTwoHeadersTellDifferently) {
    const std::string canvas = std::string(4, '\0') + little(9, 3) + little(9, 3);
    EXPECT_EQ(line_of(webp_file(webp_chunk("VP8X", canvas) + encoded(".webp", corners(96, 48)).substr(12))), kTorn);
}

TEST(Thumbnail, RefusesEveryTornCopy) {
    for (const char* ending : {".jpg", ".png", ".webp", ".tiff"}) {
        const std::string whole = encoded(ending, corners(40, 30));
        ASSERT_TRUE(thumbnail(whole, kLongest, ending)) << ending;
        for (std::size_t length = 16; length < whole.size(); length += 7) {
            const auto t = thumbnail(whole.substr(0, length), kLongest, ending);
            ASSERT_FALSE(t) << ending << " cut to " << length << " of " << whole.size();
            EXPECT_EQ(t.error().code, ProblemCode::kBadInput);
        }
    }
    EXPECT_EQ(line_of(encoded(".jpg", corners(40, 30)).substr(0, 400)), kTorn);
}

TEST(Thumbnail, TakesAJpegWithSomethingAfterItsEnd) {
    EXPECT_EQ(line_of(encoded(".jpg", corners(40, 30)) + "ftypmp42 and a film of two seconds"), "a thumbnail");
    EXPECT_EQ(line_of(encoded(".jpg", corners(40, 30), {cv::IMWRITE_JPEG_PROGRESSIVE, 1})), "a thumbnail");
}

TEST(Thumbnail, SurvivesDamageOfEveryKind) {
    std::mt19937 random(20260301);
    int refused = 0;
    for (const char* ending : {".jpg", ".png", ".webp", ".tiff"}) {
        const std::string whole = encoded(ending, corners(48, 40));
        for (int round = 0; round < 400; ++round) {
            std::string hurt = whole;
            const int places = 1 + static_cast<int>(random() % 8);
            for (int i = 0; i < places; ++i) {
                const std::size_t most = round % 2 == 0 ? hurt.size() : std::min<std::size_t>(hurt.size(), 160);
                hurt[random() % most] = static_cast<char>(random() & 0xFF);
            }
            const auto t = thumbnail(hurt, kLongest, ending);
            if (!t) ++refused;
            else EXPECT_LE(std::max(size_of(*t).width, size_of(*t).height), kLongest);
        }
    }
    EXPECT_GT(refused, 0);
    for (int round = 0; round < 2000; ++round) {
        std::string noise(random() % 300, '\0');
        for (char& c : noise) c = static_cast<char>(random() & 0xFF);
        const char* begins[] = {"\xFF\xD8\xFF", "\x89PNG\r\n\x1A\n", "RIFF", "II*", "MM"};
        EXPECT_FALSE(thumbnail(begins[round % 5] + noise, kLongest, "noise"));
    }
}

TEST(ImageHeader, BelievesTheLargerOfTwoSizes) {
    const std::string twice = "II" + little(42, 2) + little(8, 4) + little(4, 2) +                 //
                              little(0x100, 2) + little(3, 2) + little(1, 4) + little(4, 4) +      //
                              little(0x100, 2) + little(4, 2) + little(1, 4) + little(90000, 4) +  //
                              little(0x101, 2) + little(3, 2) + little(1, 4) + little(5, 4) +      //
                              little(0x112, 2) + little(3, 2) + little(1, 4) + little(8, 4) + little(0, 4);
    const auto h = read_header(twice, "a");
    ASSERT_TRUE(h) << to_line(h.error());
    EXPECT_EQ(h->width, 90000);
    EXPECT_EQ(h->height, 5);
    EXPECT_EQ(h->orientation, 8);
}

}  // namespace
}  // namespace footring::photo

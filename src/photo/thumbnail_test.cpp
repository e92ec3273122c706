// SPDX-License-Identifier: Apache-2.0
#include "photo/thumbnail.h"

#include <gtest/gtest.h>

#include <random>

#include "photo/image_header.h"
#include "photo/test_files.h"

namespace footring::photo {
namespace {

using namespace files;

constexpr int kLongest = 64;

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

std::string jpeg_turned(int orientation, bool motorola) {
    return jpeg_with(encoded(".jpg", corners(96, 48)), jpeg_exif(exif(orientation, motorola)));
}
// The picture of corners(96, 48), uncompressed, with 8 or 16 bits a channel.
std::string tiff_turned(int orientation, int bits) {
    cv::Mat rgb;
    cv::cvtColor(corners(96, 48), rgb, cv::COLOR_BGR2RGB);
    if (bits == 16) rgb.convertTo(rgb, CV_16U, 257);
    TiffLook look;
    look.bits = bits;
    look.orientation = orientation;
    return tiff_of(rgb, look);
}

std::string line_of(const std::string& bytes) {
    const auto answer = thumbnail(bytes, kLongest, "a.jpg");
    return answer ? "a thumbnail" : to_line(answer.error());
}
constexpr const char* kTorn =
    "a.jpg: the photograph is torn: it ends too early, or its data are damaged: copy it from the camera again";

TEST(Thumbnail, TakesFourFormatsAndKeepsTheirProportions) {
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
    const std::string block = exif(6, true);
    const std::string png = png_with(encoded(".png", corners(96, 48)), png_chunk("eXIf", block));
    const auto from_png = thumbnail(png, kLongest, "a.png");
    ASSERT_TRUE(from_png) << to_line(from_png.error());
    EXPECT_EQ(corners_of(*from_png), "brwg");
    EXPECT_EQ(from_png->width, 48);

    const std::string plain = encoded(".webp", corners(96, 48)).substr(12);
    const auto from_webp =
        thumbnail(webp_file(webp_extended(0x08, 96, 48) + plain + webp_chunk("EXIF", block)), kLongest, "a.webp");
    ASSERT_TRUE(from_webp) << to_line(from_webp.error());
    EXPECT_EQ(corners_of(*from_webp), "brwg");

    const char* expected[] = {"rgbw", "grwb", "wbgr", "bwrg", "rbgw", "brwg", "wgbr", "gwrb"};
    for (int orientation = 1; orientation <= 8; ++orientation) {
        for (const int bits : {8, 16}) {
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
    const std::string anim = webp_chunk("ANIM", std::string(6, '\0'));
    EXPECT_EQ(line_of(webp_file(webp_extended(0x02, 96, 48) + anim)),
              "a.jpg: this is a moving picture: send a still photograph");
    const std::string apng = png_with(encoded(".png", corners(96, 48)), png_chunk("acTL", big(2, 4) + big(0, 4)));
    EXPECT_EQ(line_of(apng), "a.jpg: this is a moving picture: send a still photograph");
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
    EXPECT_EQ(line_of(webp_file(webp_extended(0, 60000, 60000) + encoded(".webp", corners(4, 4)).substr(12))),
              line);
    EXPECT_EQ(to_line(thumbnail(std::string(kMostBytes + 1, 'x'), kLongest, "a").error()),
              "a: the file has 80 MB, the most is 80 MB: save it with stronger compression, as JPEG for example");
}

TEST(Thumbnail, RefusesSizesThatTwoHeadersTellDifferently) {
    EXPECT_EQ(line_of(webp_file(webp_extended(0, 10, 10) + encoded(".webp", corners(96, 48)).substr(12))), kTorn);
}

TEST(Thumbnail, RefusesEveryTornCopy) {
    for (const char* ending : {".jpg", ".png", ".webp", ".tiff"}) {
        const std::string whole = encoded(ending, corners(40, 30));
        ASSERT_TRUE(thumbnail(whole, kLongest, ending)) << ending;
        // Some twenty cuts; those that the header betrays cost no process.
        const std::size_t step = std::max<std::size_t>(7, whole.size() / 20);
        for (std::size_t length = 16; length < whole.size(); length += step) {
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
        for (int round = 0; round < 40; ++round) {  // a process each; fuzz/image_fuzz.cpp does millions
            std::string hurt = whole;
            const int places = 1 + static_cast<int>(random() % 8);
            for (int i = 0; i < places; ++i) {
                const std::size_t most = round % 2 == 0 ? hurt.size() : std::min<std::size_t>(hurt.size(), 160);
                hurt[random() % most] = static_cast<char>(random() & 0xFF);
            }
            const auto t = thumbnail(hurt, kLongest, ending);
            if (!t) {
                ++refused;
                EXPECT_NE(t.error().code, ProblemCode::kOurFault) << to_line(t.error());
            } else {
                EXPECT_LE(std::max(size_of(*t).width, size_of(*t).height), kLongest);
            }
        }
    }
    EXPECT_GT(refused, 0);
    for (int round = 0; round < 2000; ++round) {
        std::string junk(random() % 300, '\0');
        for (char& c : junk) c = static_cast<char>(random() & 0xFF);
        const char* begins[] = {"\xFF\xD8\xFF", "\x89PNG\r\n\x1A\n", "RIFF", "II*", "MM"};
        EXPECT_FALSE(thumbnail(begins[round % 5] + junk, kLongest, "noise"));
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

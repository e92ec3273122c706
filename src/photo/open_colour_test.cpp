// SPDX-License-Identifier: Apache-2.0
// Colour profiles: what open() makes of them against lcms2's own arithmetic, done in floats and without its
// shortcuts.
#include <gtest/gtest.h>
#include <lcms2.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <sstream>
// libjpeg's header needs FILE and size_t before it.
#include <jpeglib.h>

#include "photo/open.h"
#include "photo/test_files.h"
#include "photo/test_heic.h"

namespace footring::photo {
namespace {

using namespace files;

using Profile = std::shared_ptr<void>;
Profile owned(cmsHPROFILE profile) { return {profile, &cmsCloseProfile}; }
std::string bytes_of(const Profile& profile) {
    cmsUInt32Number size = 0;
    cmsSaveProfileToMem(profile.get(), nullptr, &size);
    std::string out(size, '\0');
    cmsSaveProfileToMem(profile.get(), out.data(), &size);
    return out;
}
constexpr cmsCIExyY kD65{0.3127, 0.3290, 1};
Profile rgb_profile(const cmsCIExyYTRIPLE& primaries, cmsToneCurve* curve) {
    cmsToneCurve* const curves[] = {curve, curve, curve};
    Profile out = owned(cmsCreateRGBProfile(&kD65, &primaries, curves));
    cmsFreeToneCurve(curve);
    return out;
}
cmsToneCurve* srgb_curve() {
    constexpr cmsFloat64Number kParts[] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    return cmsBuildParametricToneCurve(nullptr, 4, kParts);
}
// SMPTE EG 432-1 primaries with D65 and the curve of sRGB.
Profile display_p3() {
    return rgb_profile({{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}}, srgb_curve());
}
// Adobe RGB (1998) Color Image Encoding, 2005: gamma 563/256.
Profile adobe_rgb() {
    return rgb_profile({{0.64, 0.33, 1}, {0.21, 0.71, 1}, {0.15, 0.06, 1}}, cmsBuildGamma(nullptr, 563.0 / 256));
}
// A profile whose colours stand in a table, as those of scanners and printers do: what `to_lab` makes of any
// channels from 0 to 1.
Profile table_profile(cmsColorSpaceSignature space, cmsUInt32Number channels,
                      const std::function<cmsCIELab(const double*)>& to_lab) {
    Profile out = owned(cmsCreateProfilePlaceholder(nullptr));
    cmsSetProfileVersion(out.get(), 2.1);
    cmsSetDeviceClass(out.get(), cmsSigInputClass);
    cmsSetColorSpace(out.get(), space);
    cmsSetPCS(out.get(), cmsSigLabData);
    cmsStage* const table = cmsStageAllocCLut16bit(nullptr, 9, channels, 3, nullptr);
    const auto fill = [](const cmsUInt16Number* in, cmsUInt16Number* lab16, void* cargo) -> cmsInt32Number {
        double levels[4];
        for (int c = 0; c < 4; ++c) levels[c] = in[c] / 65535.0;
        const cmsCIELab lab = (*static_cast<const std::function<cmsCIELab(const double*)>*>(cargo))(levels);
        cmsFloat2LabEncodedV2(lab16, &lab);
        return TRUE;
    };
    std::function<cmsCIELab(const double*)> copy = [&](const double* in) { return to_lab(in); };
    cmsStageSampleCLut16bit(table, fill, &copy, 0);
    cmsPipeline* const pipeline = cmsPipelineAlloc(nullptr, channels, 3);
    cmsPipelineInsertStage(pipeline, cmsAT_END, table);
    cmsWriteTag(out.get(), cmsSigAToB0Tag, pipeline);
    cmsPipelineFree(pipeline);
    return out;
}

using Floats = cv::Mat;  // CV_32FC3: B, G, R, 0 .. 255
Floats converted(const Profile& from, cmsUInt32Number type, const cv::Mat& pixels) {
    const Profile srgb = owned(cmsCreate_sRGBProfile());
    const cmsHTRANSFORM transform =
        cmsCreateTransform(from.get(), type, srgb.get(), TYPE_BGR_FLT, INTENT_RELATIVE_COLORIMETRIC,
                           cmsFLAGS_NOOPTIMIZE | cmsFLAGS_BLACKPOINTCOMPENSATION);
    Floats out(pixels.size(), CV_32FC3);
    for (int y = 0; y < pixels.rows; ++y)
        cmsDoTransform(transform, pixels.ptr(y), out.ptr(y), static_cast<cmsUInt32Number>(pixels.cols));
    cmsDeleteTransform(transform);
    return cv::max(cv::min(out, cv::Scalar::all(1)), cv::Scalar::all(0)) * 255;
}
// Largest difference from the true colour, levels.
double off(const Picture& picture, const Floats& truth) {
    cv::Mat seen;
    picture.bgr.convertTo(seen, CV_32F);
    return seen.size() == truth.size() ? cv::norm(seen, truth, cv::NORM_INF) : 1e9;
}
constexpr double kOneLevel = 1.0 + 1e-3;

struct Patch {
    std::string name;
    double lab[3];
};
std::vector<Patch> colour_checker() {
    std::ifstream file(std::string(FOOTRING_ROOT) + "/tests/facts/colorchecker.csv");
    std::vector<Patch> out;
    std::string line, number;
    std::getline(file, line);
    while (std::getline(file, line)) {
        std::istringstream cells(line);
        Patch patch;
        std::getline(cells, number, ',');
        std::getline(cells, patch.name, ',');
        char comma;
        cells >> patch.lab[0] >> comma >> patch.lab[1] >> comma >> patch.lab[2];
        out.push_back(patch);
    }
    return out;
}
cv::Mat patches_in(const Profile& profile, const std::vector<Patch>& patches) {  // B, G, R, 16 bits
    const Profile lab = owned(cmsCreateLab4Profile(nullptr));
    const cmsHTRANSFORM transform =
        cmsCreateTransform(lab.get(), TYPE_Lab_DBL, profile.get(), TYPE_BGR_16, INTENT_RELATIVE_COLORIMETRIC,
                           cmsFLAGS_NOOPTIMIZE | cmsFLAGS_BLACKPOINTCOMPENSATION);
    cv::Mat out(1, static_cast<int>(patches.size()), CV_16UC3);
    for (std::size_t i = 0; i < patches.size(); ++i)
        cmsDoTransform(transform, patches[i].lab, out.ptr<cv::Vec3w>(0) + i, 1);
    cmsDeleteTransform(transform);
    return out;
}

TEST(OpenColour, GivesTheColourCheckerItsSrgbWhateverProfileItCameIn) {
    const std::vector<Patch> patches = colour_checker();
    ASSERT_EQ(patches.size(), 24u);
    const cv::Mat truth = patches_in(owned(cmsCreate_sRGBProfile()), patches);
    for (const Profile& profile : {display_p3(), adobe_rgb()}) {
        const std::string icc = bytes_of(profile);
        const cv::Mat deep = patches_in(profile, patches);
        cv::Mat rgb;
        cv::cvtColor(deep, rgb, cv::COLOR_BGR2RGB);
        TiffLook look;
        look.bits = 16;
        look.icc = icc;
        for (const std::string& file : {png_with(encoded(".png", deep), png_icc(icc)), tiff_of(rgb, look)}) {
            const auto picture = open(file, "a");
            ASSERT_TRUE(picture) << to_line(picture.error());
            for (std::size_t i = 0; i < patches.size(); ++i)
                for (int c = 0; c < 3; ++c)
                    EXPECT_NEAR(picture->bgr.at<cv::Vec3b>(0, static_cast<int>(i))[c],
                                truth.at<cv::Vec3w>(0, static_cast<int>(i))[c] / 257.0, kOneLevel)
                        << patches[i].name << ' ' << c;
        }
        // As numbers without their profile they would be wrong, so that this test can fail.
        const auto untold = open(encoded(".png", deep), "a");
        cv::Mat levels;
        truth.convertTo(levels, CV_32F, 1 / 257.0);
        EXPECT_GT(off(*untold, levels), 8);
    }
}

TEST(OpenColour, AgreesWithLcmsInEveryFormat) {
    const cv::Mat pixels = noise(61, 40);
    cv::Mat rgb;
    cv::cvtColor(pixels, rgb, cv::COLOR_BGR2RGB);
    const cmsCIExyYTRIPLE wide{{0.7347, 0.2653, 1}, {0.1596, 0.8404, 1}, {0.0366, 0.0001, 1}};
    for (const Profile& profile : {display_p3(), adobe_rgb(), rgb_profile(wide, cmsBuildGamma(nullptr, 1.8))}) {
        const std::string icc = bytes_of(profile);
        TiffLook look;
        look.icc = icc;
        const std::string webp = encoded(".webp", pixels, {cv::IMWRITE_WEBP_QUALITY, 101});
        for (const std::string& file :
             {png_with(encoded(".png", pixels), png_icc(icc)), jpeg_with(encoded(".jpg", pixels), jpeg_icc(icc)),
              tiff_of(rgb, look),
              webp_file(webp_extended(0x20, 61, 40) + webp_chunk("ICCP", icc) + webp.substr(12))}) {
            const auto picture = open(file, "a");
            ASSERT_TRUE(picture) << to_line(picture.error());
            EXPECT_LE(off(*picture, converted(profile, TYPE_BGR_8, decoded(file))), kOneLevel) << picture->type;
            EXPECT_EQ(picture->notes, std::vector<std::string>{});
        }
    }
}

TEST(OpenColour, ReadsTheProfileOfAHeicAndItsNumberedPrimaries) {
    const cv::Mat flat(64, 64, CV_8UC3, cv::Scalar(60, 190, 90));
    const Floats truth = converted(display_p3(), TYPE_BGR_8, flat);
    HeicLook profile, primaries, plain;
    profile.icc = bytes_of(display_p3());
    primaries.primaries = 12;  // of ITU-T H.273: Display P3
    for (const HeicLook& look : {profile, primaries}) {
        const auto picture = open(heic_of(flat, look), "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_LE(off(*picture, truth), 5)
            << look.primaries;  // HEVC loses two levels, the wider gamut doubles them
    }
    EXPECT_GT(off(*open(heic_of(flat, plain), "a"), truth), 20);
}

TEST(OpenColour, LeavesSrgbToThePixelAsItIsWhoeverWroteItsProfile) {
    const cv::Mat pixels = noise(61, 40);
    const Profile own = owned(cmsCreate_sRGBProfile());
    const Profile parametric = rgb_profile({{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}}, srgb_curve());
    std::vector<cmsUInt16Number> steps(1024);
    const std::unique_ptr<cmsToneCurve, decltype(&cmsFreeToneCurve)> curve(srgb_curve(), &cmsFreeToneCurve);
    for (std::size_t i = 0; i < steps.size(); ++i)
        steps[i] = static_cast<cmsUInt16Number>(
            std::lround(65535 * cmsEvalToneCurveFloat(curve.get(), static_cast<float>(i) / 1023.0F)));
    const Profile sampled = rgb_profile({{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}},
                                        cmsBuildTabulatedToneCurve16(nullptr, 1024, steps.data()));
    for (const Profile& profile : {own, parametric, sampled}) {
        const auto picture = open(png_with(encoded(".png", pixels), png_icc(bytes_of(profile))), "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_EQ(cv::norm(picture->bgr, pixels, cv::NORM_INF), 0);
    }
}

TEST(OpenColour, FollowsAProfileThatIsATable) {
    const Profile p3 = display_p3(), lab = owned(cmsCreateLab4Profile(nullptr));
    const std::shared_ptr<void> to_lab(
        cmsCreateTransform(p3.get(), TYPE_RGB_DBL, lab.get(), TYPE_Lab_DBL, INTENT_RELATIVE_COLORIMETRIC, 0),
        &cmsDeleteTransform);
    const Profile table = table_profile(cmsSigRgbData, 3, [&](const double* rgb) {
        cmsCIELab out;
        cmsDoTransform(to_lab.get(), rgb, &out, 1);
        return out;
    });
    // Colours that sRGB can show: at its edge the table that lcms2 makes of two is some levels off.
    const cv::Mat pixels = noise(61, 40) / 4 + cv::Scalar::all(96);
    const auto picture = open(png_with(encoded(".png", pixels), png_icc(bytes_of(table))), "a");
    ASSERT_TRUE(picture) << to_line(picture.error());
    EXPECT_LE(off(*picture, converted(table, TYPE_BGR_8, pixels)), 2 * kOneLevel);
    EXPECT_EQ(picture->notes, std::vector<std::string>{});
}

TEST(OpenColour, FollowsTheCurveOfAGreyProfile) {
    const cv::Mat grey = noise(61, 40, CV_8UC1);
    cmsToneCurve* const gamma = cmsBuildGamma(nullptr, 1.2);
    const Profile profile = owned(cmsCreateGrayProfile(cmsD50_xyY(), gamma));
    cmsFreeToneCurve(gamma);
    const std::string icc = bytes_of(profile);
    TiffLook look;
    look.samples = 1;
    look.photometric = PHOTOMETRIC_MINISBLACK;
    look.icc = icc;
    const Floats truth = converted(profile, TYPE_GRAY_8, grey);
    for (const std::string& file : {png_with(encoded(".png", grey), png_icc(icc)), tiff_of(grey, look)}) {
        const auto picture = open(file, "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_LE(off(*picture, truth), kOneLevel);
    }
    const std::string jpeg = encoded(".jpg", grey);
    const auto picture = open(jpeg_with(jpeg, jpeg_icc(icc)), "a");
    EXPECT_LE(off(*picture, converted(profile, TYPE_GRAY_8, decoded(jpeg, cv::IMREAD_GRAYSCALE))), kOneLevel);
}

// Four inks through libjpeg; with Adobe's marker 0 stands for full ink.
std::string cmyk_jpeg(const cv::Mat& inks, bool adobe) {
    jpeg_compress_struct info{};
    jpeg_error_mgr errors{};
    info.err = jpeg_std_error(&errors);
    jpeg_create_compress(&info);
    unsigned char* bytes = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&info, &bytes, &size);
    info.image_width = static_cast<JDIMENSION>(inks.cols);
    info.image_height = static_cast<JDIMENSION>(inks.rows);
    info.input_components = 4;
    info.in_color_space = JCS_CMYK;
    jpeg_set_defaults(&info);
    jpeg_set_quality(&info, 100, TRUE);
    info.write_Adobe_marker = adobe ? TRUE : FALSE;
    jpeg_start_compress(&info, TRUE);
    for (int y = 0; y < inks.rows; ++y) {
        cv::Mat row = inks.row(y).clone();
        if (adobe) row = cv::Scalar::all(255) - row;
        JSAMPROW rows[] = {row.data};
        jpeg_write_scanlines(&info, rows, 1);
    }
    jpeg_finish_compress(&info);
    std::string out(reinterpret_cast<char*>(bytes), size);
    jpeg_destroy_compress(&info);
    std::free(bytes);
    return out;
}

TEST(OpenColour, FollowsTheProfileOfPrintingInks) {
    // An invented press: ink takes light away evenly, black takes all, bare paper is white.
    const Profile press = table_profile(cmsSigCmykData, 4, [](const double* inks) {
        const double light = 1 - inks[3];
        return cmsCIELab{100 * light * (1 - 0.2 * (inks[0] + inks[1] + inks[2])), 30 * light * (inks[1] - inks[0]),
                         30 * light * (inks[2] - inks[1])};
    });
    const std::string icc = bytes_of(press);
    for (const cv::Scalar& inks :
         {cv::Scalar(30, 120, 60, 20), cv::Scalar(0, 0, 0, 0), cv::Scalar(60, 70, 90, 100)}) {
        const cv::Mat flat(16, 16, CV_8UC4, inks);
        for (const bool adobe : {false, true}) {
            const auto picture = open(jpeg_with(cmyk_jpeg(flat, adobe), jpeg_icc(icc)), "a");
            ASSERT_TRUE(picture) << to_line(picture.error());
            EXPECT_LE(off(*picture, converted(press, TYPE_CMYK_8, flat)), 3) << adobe;  // JPEG and tables lose some
            EXPECT_EQ(picture->notes, std::vector<std::string>{});
        }
    }
}

TEST(OpenColour, SaysThatInksWithoutAProfileAreApproximate) {
    for (const bool adobe : {false, true}) {
        const auto picture = open(cmyk_jpeg(cv::Mat(16, 16, CV_8UC4, cv::Scalar(0, 51, 255, 51)), adobe), "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        EXPECT_LE(cv::norm(picture->bgr.at<cv::Vec3b>(8, 8) - cv::Vec3b(0, 163, 204), cv::NORM_INF), 2) << adobe;
        EXPECT_EQ(picture->notes,
                  std::vector<std::string>{
                      "The photograph is in printing inks without a usable profile: its colours are approximate."});
    }
}

TEST(OpenColour, LeavesABrokenProfileAsideAndSaysSo) {
    const cv::Mat pixels = noise(20, 20);
    const std::string p3 = bytes_of(display_p3()), cut = p3.substr(0, 200);
    cmsToneCurve* const gamma = cmsBuildGamma(nullptr, 1.2);
    const std::string grey = bytes_of(owned(cmsCreateGrayProfile(cmsD50_xyY(), gamma)));
    cmsFreeToneCurve(gamma);
    for (const std::string& icc : {cut, std::string("no profile at all"), grey}) {
        TiffLook look;
        look.icc = icc;
        const auto picture = open(tiff_of(pixels, look), "a");
        ASSERT_TRUE(picture) << to_line(picture.error());
        cv::Mat bgr;
        cv::cvtColor(pixels, bgr, cv::COLOR_RGB2BGR);
        EXPECT_EQ(cv::norm(picture->bgr, bgr, cv::NORM_INF), 0);
        EXPECT_EQ(picture->notes,
                  std::vector<std::string>{
                      "The colour profile of the photograph cannot be used: its colours are taken for sRGB."});
    }
}

}  // namespace
}  // namespace footring::photo

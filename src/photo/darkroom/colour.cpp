// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/colour.h"

#include <lcms2.h>

#include <cstdlib>
#include <cstring>
#include <vector>

namespace footring::photo::darkroom {

namespace {

using Colours = Layout::Colours;
using Profile = std::unique_ptr<void, decltype(&cmsCloseProfile)>;

std::uint32_t lcms_type(const Layout& layout) {
    const std::uint32_t size = BYTES_SH(layout.deep ? 2u : 1u) | EXTRA_SH(layout.alpha ? 1u : 0u);
    switch (layout.colours) {
        case Colours::kGrey:
            return size | COLORSPACE_SH(PT_GRAY) | CHANNELS_SH(1);
        case Colours::kRgb:
            return size | COLORSPACE_SH(PT_RGB) | CHANNELS_SH(3);
        case Colours::kBgr:
            // With alpha, lcms2 calls B, G, R, A swapped with the first channel last.
            return size | COLORSPACE_SH(PT_RGB) | CHANNELS_SH(3) | DOSWAP_SH(1) |
                   SWAPFIRST_SH(layout.alpha ? 1u : 0u);
        case Colours::kCmyk:
            return size | COLORSPACE_SH(PT_CMYK) | CHANNELS_SH(4) | FLAVOR_SH(layout.less_ink ? 1u : 0u);
    }
    return 0;
}
cmsColorSpaceSignature wanted_space(Colours colours) {
    return colours == Colours::kGrey ? cmsSigGrayData : colours == Colours::kCmyk ? cmsSigCmykData : cmsSigRgbData;
}

// Every 32nd level of each colour with every other, and white.
std::vector<std::uint8_t> many_colours() {
    std::vector<std::uint8_t> out;
    for (int b = 0; b < 9; ++b)
        for (int g = 0; g < 9; ++g)
            for (int r = 0; r < 9; ++r)
                for (const int level : {b, g, r}) out.push_back(static_cast<std::uint8_t>(level * 255 / 8));
    return out;
}
std::vector<std::uint8_t> in_sixteen_bits(const std::vector<std::uint8_t>& levels) {
    std::vector<std::uint8_t> out(2 * levels.size());
    for (std::size_t i = 0; i < levels.size(); ++i) out[2 * i] = out[2 * i + 1] = levels[i];  // times 257
    return out;
}
bool about_the_same(const std::vector<std::uint8_t>& a, const std::vector<std::uint8_t>& b) {
    for (std::size_t i = 0; i < a.size(); ++i)
        if (std::abs(a[i] - b[i]) > 1) return false;
    return true;
}

}  // namespace

Colour::Colour(const Layout& layout, std::string_view icc)
    : layout_(layout), plain_(layout.colours == Colours::kBgr && !layout.deep && !layout.alpha) {
    if (icc.empty()) return;
    usable_ = false;
    const cmsContext quiet = nullptr;
    cmsSetLogErrorHandlerTHR(quiet, [](cmsContext, cmsUInt32Number, const char*) {});
    const Profile from(cmsOpenProfileFromMem(icc.data(), static_cast<cmsUInt32Number>(icc.size())),
                       &cmsCloseProfile);
    if (!from || cmsGetColorSpace(from.get()) != wanted_space(layout.colours)) return;
    const Profile to(cmsCreate_sRGBProfile(), &cmsCloseProfile);
    const auto made = [&](std::uint32_t type, cmsUInt32Number how) {
        const cmsHTRANSFORM t =
            cmsCreateTransform(from.get(), type, to.get(), TYPE_BGR_8, INTENT_RELATIVE_COLORIMETRIC,
                               cmsFLAGS_BLACKPOINTCOMPENSATION | how);
        return t != nullptr ? std::shared_ptr<void>(t, &cmsDeleteTransform) : nullptr;
    };
    if (wanted_space(layout.colours) == cmsSigRgbData) {
        const auto exact = made(TYPE_BGR_8, cmsFLAGS_NOOPTIMIZE);
        usable_ = exact != nullptr;
        if (!usable_) return;
        // There are dozens of profiles that all mean sRGB; what they do tells better than what they are called.
        const std::vector<std::uint8_t> before = many_colours();
        const std::size_t count = before.size() / 3;
        std::vector<std::uint8_t> after(before.size()), quickly(before.size());
        cmsDoTransform(exact.get(), before.data(), after.data(), static_cast<cmsUInt32Number>(count));
        if (about_the_same(before, after)) return;
        fast_ = FastMatrix::of(from.get(), to.get(), layout.deep);
        if (fast_)
            fast_->convert((layout.deep ? in_sixteen_bits(before) : before).data(), quickly.data(), count, 2, 3);
        if (fast_ && about_the_same(after, quickly)) return;
        fast_.reset();
    }
    if (layout.colours == Colours::kGrey) {  // there are few greys: each is looked up
        const auto exact = made(layout.deep ? TYPE_GRAY_16 : TYPE_GRAY_8, cmsFLAGS_NOOPTIMIZE);
        usable_ = exact != nullptr;
        if (!usable_) return;
        greys_.resize(layout.deep ? 3 * 65536 : 3 * 256);
        for (std::uint32_t level = 0; level < greys_.size() / 3; ++level) {
            const auto deep = static_cast<std::uint16_t>(level);
            const auto plain = static_cast<std::uint8_t>(level);
            cmsDoTransform(exact.get(), layout.deep ? static_cast<const void*>(&deep) : &plain, &greys_[3 * level],
                           1);
        }
        return;
    }
    // A table of tables: some levels off where colours are cut to what sRGB can show, which exact arithmetic would
    // take ten times as long to mend.
    transform_ = made(lcms_type(layout), cmsFLAGS_HIGHRESPRECALC);
    usable_ = transform_ != nullptr;
}

void Colour::convert(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const {
    if (fast_) fast_->convert(pixels, bgr, count, layout_.colours == Colours::kBgr ? 2 : 0, layout_.channels());
    else if (transform_) cmsDoTransform(transform_.get(), pixels, bgr, static_cast<cmsUInt32Number>(count));
    else if (!greys_.empty()) convert_greys(pixels, bgr, count);
    else convert_plainly(pixels, bgr, count);
    if (layout_.alpha) put_on_white(pixels, bgr, count);
}

void Colour::convert_greys(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const {
    for (std::size_t i = 0; i < count; ++i, pixels += layout_.bytes(), bgr += 3) {
        std::uint16_t deep;
        if (layout_.deep) std::memcpy(&deep, pixels, 2);
        else deep = pixels[0];
        std::memcpy(bgr, &greys_[std::size_t{3} * deep], 3);
    }
}

void Colour::convert_plainly(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const {
    if (plain_) {
        if (pixels != bgr) std::memcpy(bgr, pixels, 3 * count);
        return;
    }
    const std::size_t step = layout_.bytes(), channels = layout_.channels();
    for (std::size_t i = 0; i < count; ++i, pixels += step, bgr += 3) {
        std::uint8_t level[5];
        for (std::size_t c = 0; c < channels; ++c) {
            if (!layout_.deep) {
                level[c] = pixels[c];
                continue;
            }
            std::uint16_t deep;
            std::memcpy(&deep, pixels + 2 * c, 2);
            level[c] = static_cast<std::uint8_t>((deep + 128u) / 257u);  // 65535 becomes 255
        }
        switch (layout_.colours) {
            case Colours::kGrey:
                bgr[0] = bgr[1] = bgr[2] = level[0];
                break;
            case Colours::kRgb: {
                bgr[0] = level[2], bgr[1] = level[1], bgr[2] = level[0];
                break;
            }
            case Colours::kBgr:
                bgr[0] = level[0], bgr[1] = level[1], bgr[2] = level[2];
                break;
            case Colours::kCmyk:
                for (int c = 0; c < 3; ++c) {
                    const unsigned bare = layout_.less_ink ? level[2 - c] : 255u - level[2 - c];
                    const unsigned unblacked = layout_.less_ink ? level[3] : 255u - level[3];
                    bgr[c] = static_cast<std::uint8_t>((bare * unblacked + 127) / 255);
                }
                break;
        }
    }
}

void Colour::put_on_white(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const {
    const std::size_t step = layout_.bytes(), last = layout_.channels() - 1;
    for (std::size_t i = 0; i < count; ++i, pixels += step, bgr += 3) {
        unsigned alpha = pixels[last];
        if (layout_.deep) {
            std::uint16_t deep;
            std::memcpy(&deep, pixels + 2 * last, 2);
            alpha = (deep + 128u) / 257u;
        }
        if (alpha == 255) continue;
        for (int c = 0; c < 3; ++c)
            bgr[c] = static_cast<std::uint8_t>((bgr[c] * alpha + 255u * (255u - alpha) + 127u) / 255u);
    }
}

std::string icc_of_primaries(int primaries, int curve) {
    constexpr int kBt2020 = 9, kDisplayP3 = 12, kUnspecified = 2, kSrgb = 13;
    constexpr cmsCIExyY kD65{0.3127, 0.3290, 1};
    cmsCIExyYTRIPLE chosen;
    if (primaries == kBt2020) chosen = {{0.708, 0.292, 1}, {0.170, 0.797, 1}, {0.131, 0.046, 1}};
    else if (primaries == kDisplayP3) chosen = {{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}};
    else return {};
    // Still pictures of these primaries carry the curve of sRGB; the video curves (1, 6, 14, 15) describe a camera,
    // and displays answer them with about the same.
    const bool usual =
        curve == kUnspecified || curve == kSrgb || curve == 1 || curve == 6 || curve == 14 || curve == 15;
    if (!usual) return {};
    constexpr cmsFloat64Number kSrgbCurve[] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};  // IEC 61966-2-1
    const std::unique_ptr<cmsToneCurve, decltype(&cmsFreeToneCurve)> tone(
        cmsBuildParametricToneCurve(nullptr, 4, kSrgbCurve), &cmsFreeToneCurve);
    if (!tone) return {};
    cmsToneCurve* const tones[] = {tone.get(), tone.get(), tone.get()};
    const Profile made(cmsCreateRGBProfile(&kD65, &chosen, tones), &cmsCloseProfile);
    cmsUInt32Number size = 0;
    if (!made || cmsSaveProfileToMem(made.get(), nullptr, &size) == FALSE) return {};
    std::string out(size, '\0');
    return cmsSaveProfileToMem(made.get(), out.data(), &size) != FALSE ? out : std::string();
}

}  // namespace footring::photo::darkroom

// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/fast_matrix.h"

#include <lcms2.h>

#include <algorithm>
#include <cmath>
#include <cstring>

namespace footring::photo::darkroom {

namespace {

using Matrix = std::array<std::array<double, 3>, 3>;  // rows X, Y, Z; columns red, green, blue

bool colourants(cmsHPROFILE profile, Matrix& out) {
    constexpr cmsTagSignature kTags[] = {cmsSigRedColorantTag, cmsSigGreenColorantTag, cmsSigBlueColorantTag};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto* const xyz = static_cast<const cmsCIEXYZ*>(cmsReadTag(profile, kTags[c]));
        if (xyz == nullptr) return false;
        out[0][c] = xyz->X, out[1][c] = xyz->Y, out[2][c] = xyz->Z;
    }
    return true;
}
bool invert(const Matrix& m, Matrix& out) {
    const auto minor = [&](std::size_t r, std::size_t c) {
        const std::size_t r1 = (r + 1) % 3, r2 = (r + 2) % 3, c1 = (c + 1) % 3, c2 = (c + 2) % 3;
        return m[r1][c1] * m[r2][c2] - m[r1][c2] * m[r2][c1];
    };
    const double determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
    if (!(std::abs(determinant) > 1e-6)) return false;
    for (std::size_t r = 0; r < 3; ++r)
        for (std::size_t c = 0; c < 3; ++c) out[r][c] = minor(c, r) / determinant;
    return true;
}

}  // namespace

std::unique_ptr<FastMatrix> FastMatrix::of(void* profile, void* srgb, bool deep) {
    // A profile may bring tables besides, which lcms2 then prefers.
    if (cmsIsMatrixShaper(profile) == FALSE || cmsIsTag(profile, cmsSigAToB0Tag) != FALSE ||
        cmsIsTag(profile, cmsSigAToB1Tag) != FALSE)
        return nullptr;
    Matrix from, to, back;
    if (!colourants(profile, from) || !colourants(srgb, to) || !invert(to, back)) return nullptr;
    auto out = std::make_unique<FastMatrix>();
    out->deep_ = deep;
    const std::size_t levels = deep ? 65536 : 256;
    constexpr cmsTagSignature kCurves[] = {cmsSigRedTRCTag, cmsSigGreenTRCTag, cmsSigBlueTRCTag};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto* const curve = static_cast<const cmsToneCurve*>(cmsReadTag(profile, kCurves[c]));
        if (curve == nullptr) return nullptr;
        out->linear_[c].resize(levels);
        for (std::size_t level = 0; level < levels; ++level) {
            const float light =
                cmsEvalToneCurveFloat(curve, static_cast<float>(level) / static_cast<float>(levels - 1));
            if (!(light >= 0 && light <= 1)) return nullptr;
            out->linear_[c][level] = static_cast<std::int32_t>(std::lround(light * kOne));
        }
        for (std::size_t r = 0; r < 3; ++r) {
            const double factor = back[r][0] * from[0][c] + back[r][1] * from[1][c] + back[r][2] * from[2][c];
            if (!(std::abs(factor) < 4)) return nullptr;  // beyond that three of them would not fit in 32 bits
            out->matrix_[r][c] = static_cast<std::int32_t>(std::lround(factor * kOne / 2));
        }
    }
    out->level_.resize(kOne + 1);
    for (int i = 0; i <= kOne; ++i) {  // IEC 61966-2-1
        const double light = static_cast<double>(i) / kOne;
        const double level = light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055;
        out->level_[static_cast<std::size_t>(i)] = static_cast<std::uint8_t>(std::lround(255 * level));
    }
    return out;
}

void FastMatrix::convert(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count, std::size_t red,
                         std::size_t channels) const {
    if (deep_) convert_each<std::uint16_t>(pixels, bgr, count, red, channels);
    else convert_each<std::uint8_t>(pixels, bgr, count, red, channels);
}

template <class Level>
void FastMatrix::convert_each(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count, std::size_t red,
                              std::size_t channels) const {
    constexpr int kShift = 13;  // the matrix is halved, so that its sums stay within 32 bits
    const auto place = [&](const std::array<std::int32_t, 3>& row, std::int32_t r, std::int32_t g, std::int32_t b) {
        const std::int32_t light = (row[0] * r + row[1] * g + row[2] * b + (1 << (kShift - 1))) >> kShift;
        return level_[static_cast<std::size_t>(std::clamp(light, 0, kOne))];
    };
    const std::int32_t *const reds = linear_[0].data(), *const greens = linear_[1].data(),
                              *const blues = linear_[2].data();
    for (std::size_t i = 0; i < count; ++i, pixels += channels * sizeof(Level), bgr += 3) {
        Level level[3];
        std::memcpy(level, pixels, sizeof level);
        const std::int32_t r = reds[level[red]], g = greens[level[1]], b = blues[level[2 - red]];
        bgr[0] = place(matrix_[2], r, g, b);
        bgr[1] = place(matrix_[1], r, g, b);
        bgr[2] = place(matrix_[0], r, g, b);
    }
}

}  // namespace footring::photo::darkroom

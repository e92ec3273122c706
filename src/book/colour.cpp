// SPDX-License-Identifier: Apache-2.0
#include "book/colour.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "book/glyph.h"

namespace footring::book {

namespace {
using Matrix = std::array<std::array<double, 3>, 3>;

// White points as XYZ, ASTM E308: what the Lab values are relative to, and what sRGB is.
constexpr std::array<double, 3> kD50{0.96422, 1.0, 0.82521};
constexpr std::array<double, 3> kD65{0.95047, 1.0, 1.08883};
constexpr Matrix kRgbFromXyz{
    {{3.2404542, -1.5371385, -0.4985314}, {-0.9692660, 1.8760108, 0.0415560}, {0.0556434, -0.2040259, 1.0572252}}};
constexpr Matrix kConesFromXyz{{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}};

std::array<double, 3> times(const Matrix& m, const std::array<double, 3>& v) {
    std::array<double, 3> out{};
    for (std::size_t i = 0; i < 3; ++i) out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    return out;
}

Matrix inverse(const Matrix& m) {
    const auto minor = [&](std::size_t i, std::size_t j) {
        const std::size_t r0 = (i + 1) % 3, r1 = (i + 2) % 3, c0 = (j + 1) % 3, c1 = (j + 2) % 3;
        return m[r0][c0] * m[r1][c1] - m[r0][c1] * m[r1][c0];  // cyclic order carries the sign
    };
    const double det = m[0][0] * minor(0, 0) + m[0][1] * minor(0, 1) + m[0][2] * minor(0, 2);
    Matrix out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t j = 0; j < 3; ++j) out[j][i] = minor(i, j) / det;
    return out;
}

std::array<double, 3> adapt(std::array<double, 3> xyz, const std::array<double, 3>& from,
                            const std::array<double, 3>& to) {
    auto cones = times(kConesFromXyz, xyz);
    const auto cones_from = times(kConesFromXyz, from), cones_to = times(kConesFromXyz, to);
    for (std::size_t i = 0; i < 3; ++i) cones[i] *= cones_to[i] / cones_from[i];
    return times(inverse(kConesFromXyz), cones);
}

constexpr double kEpsilon = 216.0 / 24389.0, kKappa = 24389.0 / 27.0;  // CIE 15:2004

double encode(double linear) {
    const double v = std::clamp(linear, 0.0, 1.0);
    return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}
double decode_gamma(double v) { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); }

std::optional<int> hex_digit(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return std::nullopt;
}
}  // namespace

Rgb rgb_of_lab(const Lab& lab) {
    const double fy = (lab[0] + 16) / 116, fx = fy + lab[1] / 500, fz = fy - lab[2] / 200;
    const auto cubed = [](double f) { return f * f * f > kEpsilon ? f * f * f : (116 * f - 16) / kKappa; };
    const double y = lab[0] > kKappa * kEpsilon ? fy * fy * fy : lab[0] / kKappa;
    const auto xyz = adapt({cubed(fx) * kD50[0], y * kD50[1], cubed(fz) * kD50[2]}, kD50, kD65);
    const auto linear = times(kRgbFromXyz, xyz);
    return {encode(linear[0]), encode(linear[1]), encode(linear[2])};
}

Lab lab_of_rgb(const Rgb& rgb) {
    auto xyz = times(inverse(kRgbFromXyz), {decode_gamma(rgb.r), decode_gamma(rgb.g), decode_gamma(rgb.b)});
    xyz = adapt(xyz, kD65, kD50);
    std::array<double, 3> f{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double share = xyz[i] / kD50[i];
        f[i] = share > kEpsilon ? std::cbrt(share) : (kKappa * share + 16) / 116;
    }
    return {116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])};
}

std::string hex_of(const Rgb& rgb) {
    const auto byte = [](double v) { return static_cast<int>(std::lround(std::clamp(v, 0.0, 1.0) * 255)); };
    return fmt::format("#{:02x}{:02x}{:02x}", byte(rgb.r), byte(rgb.g), byte(rgb.b));
}

Rgb rgb_of_hex(std::string_view hex) {
    std::array<double, 3> channel{};
    if (hex.size() != 7 || hex[0] != '#') return {0, 0, 0};
    for (std::size_t i = 0; i < 3; ++i) {
        const auto high = hex_digit(hex[1 + 2 * i]), low = hex_digit(hex[2 + 2 * i]);
        if (!high || !low) return {0, 0, 0};
        channel[i] = (*high * 16 + *low) / 255.0;
    }
    return {channel[0], channel[1], channel[2]};
}

std::string mix(std::string_view a, std::string_view b, double share) {
    const Rgb p = rgb_of_hex(a), q = rgb_of_hex(b);
    return hex_of({p.r + (q.r - p.r) * share, p.g + (q.g - p.g) * share, p.b + (q.b - p.b) * share});
}

double distance(std::string_view a, std::string_view b) {
    const Lab p = lab_of_rgb(rgb_of_hex(a)), q = lab_of_rgb(rgb_of_hex(b));
    return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

std::string srgb_of_lab(const std::array<double, 3>& lab) { return hex_of(rgb_of_lab(lab)); }

}  // namespace footring::book

// book/colour.h - colours of glazes and of finishes.
//   Lab is CIE L*a*b* under D50 (2 degree observer); Rgb is gamma-encoded sRGB, 0..1, clipped to the gamut.
//   source  IEC 61966-2-1 (sRGB); Bradford adaptation as in ICC.1:2022 annex E
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace footring::book {

using Lab = std::array<double, 3>;
struct Rgb {
    double r, g, b;
};

Rgb rgb_of_lab(const Lab&);
Lab lab_of_rgb(const Rgb&);
std::string hex_of(const Rgb&);                // "#rrggbb"
Rgb rgb_of_hex(std::string_view hash_rrggbb);  // black when it is no "#rrggbb"

// `share` of b in a, per sRGB channel.
std::string mix(std::string_view hex_a, std::string_view hex_b, double share);

// CIE76 distance, enough to ask "would one see this on that?".
double distance(std::string_view hex_a, std::string_view hex_b);

// What a finish is drawn with.
struct Ink {
    std::string base, light, dark;  // "#rrggbb"
    bool metal = false;             // drawn with a sheen
    bool mixed = false;             // several colours: "polychrome"
};

// Gold, platinum, silver, "#rrggbb", CSS colour names and trade words, also inside longer phrases ("matt gold",
// "pale celadon enamel"). An unknown word always gets the same muted hue.
Ink ink_of(std::string_view finish);

}  // namespace footring::book

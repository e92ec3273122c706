// photo/darkroom/colour.h - pixels of any layout and colour profile become sRGB, 8 bits, B, G, R.
//   in      rows of pixels, the ICC profile that came with them (empty: sRGB, or grey of the same curve, is meant)
//   out     rows of B, G, R
//   errors  a profile that cannot be used is left aside, and usable() says so; never throws after construction
//   source  ICC.1:2022 (profiles, through lcms2), relative colorimetric with black point compensation; inks without
//           a profile: R = (1 - C)(1 - K) and so on
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "photo/darkroom/fast_matrix.h"

namespace footring::photo::darkroom {

struct Layout {
    enum class Colours : std::uint8_t { kGrey, kRgb, kBgr, kCmyk };
    Colours colours = Colours::kBgr;
    bool deep = false;      // 16 bits a channel in the machine's own order; else 8
    bool alpha = false;     // one more channel after the colours: 0 transparent, not multiplied into them
    bool less_ink = false;  // kCmyk: 0 is full ink, as Adobe writes it
    std::size_t channels() const {
        return (colours == Colours::kGrey ? 1u : colours == Colours::kCmyk ? 4u : 3u) + (alpha ? 1u : 0u);
    }
    std::size_t bytes() const { return channels() * (deep ? 2 : 1); }  // of a pixel
};

class Colour {
  public:
    Colour(const Layout&, std::string_view icc);
    bool usable() const { return usable_; }  // false: there was a profile and it was left aside
    // Whether rows stay as they are: already B, G, R of 8 bits, and sRGB.
    bool nothing_to_do() const { return !transform_ && !fast_ && plain_; }  // grey is never plain
    // `bgr` may be the same memory as `pixels` when a pixel has three bytes.
    void convert(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const;

  private:
    void convert_greys(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const;
    void convert_plainly(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const;
    void put_on_white(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count) const;
    Layout layout_;
    bool plain_, usable_ = true;
    std::shared_ptr<void> transform_;  // of lcms2
    std::unique_ptr<FastMatrix> fast_;
    std::vector<std::uint8_t> greys_;  // B, G, R of each level
};

// An ICC profile of the primaries and the curve that ITU-T H.273 numbers, for formats that say no more than these.
// Empty for sRGB, for numbers that say nothing, and for those that no profile can be made of.
std::string icc_of_primaries(int primaries, int curve);

}  // namespace footring::photo::darkroom

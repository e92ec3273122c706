// photo/darkroom/fast_matrix.h - from an RGB profile of three curves and a matrix to sRGB, in 8 bits, fast.
//   in      an lcms2 profile; rows of three colours (and perhaps one more byte to leave out)
//   out     B, G, R. It is lcms2's own arithmetic (curve, matrix, curve) without its general machinery, four times
//   as
//           fast, because cameras write Display P3 into every photograph. Whoever makes one compares it with lcms2.
//   errors  absent when the profile is of another kind
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

namespace footring::photo::darkroom {

class FastMatrix {
  public:
    static std::unique_ptr<FastMatrix> of(void* profile, void* srgb, bool deep);  // cmsHPROFILE; 16 bits, or 8
    // `red`: which channel of a pixel is red, 0 or 2; `channels`: of a pixel, 3 or 4.
    void convert(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count, std::size_t red,
                 std::size_t channels) const;

  private:
    template <class Level>
    void convert_each(const std::uint8_t* pixels, std::uint8_t* bgr, std::size_t count, std::size_t red,
                      std::size_t channels) const;
    static constexpr int kOne = 1 << 14;  // 1.0 of linear light: five steps a level in the darkest sRGB
    bool deep_ = false;
    std::array<std::vector<std::int32_t>, 3> linear_;      // light of each level of red, green and blue
    std::array<std::array<std::int32_t, 3>, 3> matrix_{};  // kOne times linear sRGB from linear RGB
    std::vector<std::uint8_t> level_;                      // sRGB of linear light 0 .. kOne
};

}  // namespace footring::photo::darkroom

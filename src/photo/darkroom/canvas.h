// photo/darkroom/canvas.h - where a decoder lays its rows down, from the top one on: they become sRGB and upright.
//   in      stored size, EXIF orientation (2.32, tag 0x0112: 1 as stored ... 8), layout and profile of the rows;
//   the
//           memory for the upright picture
//   out     B, G, R, rows without gaps
//   errors  none after construction: put() allocates nothing, so that C libraries may call it
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <cstdint>
#include <vector>

#include "photo/darkroom/colour.h"

namespace footring::photo::darkroom {

class Canvas {
  public:
    Canvas(int width, int height, int orientation, const Layout&, std::string_view icc, std::uint8_t* upright);
    static bool on_its_side(int orientation) { return orientation >= 5; }
    bool profile_usable() const { return colour_.usable(); }

    // Where row y may be written before it is put: into the picture itself when that saves a copy.
    std::uint8_t* row(int y);
    void put(int y, const std::uint8_t* row);  // y from 0 to height - 1, each once and in order

  private:
    void place(const std::uint8_t* bgr, std::uint8_t* to, bool backwards) const;
    void place_on_its_side(int last_row);
    int width_, height_, orientation_;
    Colour colour_;
    bool direct_;
    std::uint8_t* upright_;
    std::vector<std::uint8_t> stored_row_, bgr_rows_;
};

}  // namespace footring::photo::darkroom

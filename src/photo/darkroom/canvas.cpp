// SPDX-License-Identifier: Apache-2.0
#include "photo/darkroom/canvas.h"

#include <cstring>

namespace footring::photo::darkroom {

namespace {
// A picture on its side is turned by this many rows at a time: 192 bytes of each upright row are written at once,
// and the rows of a 12-megapixel photograph (0.8 MB) stay in the cache.
constexpr int kTurnedAtOnce = 64;
}  // namespace

Canvas::Canvas(int width, int height, int orientation, const Layout& layout, std::string_view icc,
               std::uint8_t* upright)
    : width_(width),
      height_(height),
      orientation_(orientation),
      colour_(layout, icc),
      direct_(orientation == 1 && layout.bytes() == 3),
      upright_(upright),
      stored_row_(direct_ ? 0 : layout.bytes() * static_cast<std::size_t>(width)),
      bgr_rows_(orientation == 1 ? 0
                                 : std::size_t{3} * static_cast<std::size_t>(width) *
                                           (on_its_side(orientation) ? std::size_t{kTurnedAtOnce} : 1) +
                                       1) {}

std::uint8_t* Canvas::row(int y) {
    return direct_ ? upright_ + std::size_t{3} * static_cast<std::size_t>(width_) * static_cast<std::size_t>(y)
                   : stored_row_.data();
}

void Canvas::put(int y, const std::uint8_t* row) {
    const auto width = static_cast<std::size_t>(width_), stride = 3 * width;
    if (orientation_ == 1) {
        std::uint8_t* const to = upright_ + stride * static_cast<std::size_t>(y);
        if (row != to || !colour_.nothing_to_do()) colour_.convert(row, to, width);
    } else if (on_its_side(orientation_)) {
        colour_.convert(row, bgr_rows_.data() + stride * static_cast<std::size_t>(y % kTurnedAtOnce), width);
        if (y % kTurnedAtOnce == kTurnedAtOnce - 1 || y == height_ - 1) place_on_its_side(y);
    } else {
        colour_.convert(row, bgr_rows_.data(), width);
        const bool from_below = orientation_ == 3 || orientation_ == 4, backwards = orientation_ != 4;
        place(bgr_rows_.data(), upright_ + stride * static_cast<std::size_t>(from_below ? height_ - 1 - y : y),
              backwards);
    }
}

void Canvas::place(const std::uint8_t* bgr, std::uint8_t* to, bool backwards) const {
    for (int x = 0; x < width_; ++x) {
        const std::uint8_t* from = bgr + 3 * (backwards ? width_ - 1 - x : x);
        for (int c = 0; c < 3; ++c) *to++ = from[c];
    }
}

// Stored column x becomes an upright row: x itself for 5 and 6, counted from below for 7 and 8. Within it the
// stored rows run from the left for 5 and 8, from the right for 6 and 7.
void Canvas::place_on_its_side(int last_row) {
    const int first_row = last_row - last_row % kTurnedAtOnce;
    const bool from_below = orientation_ >= 7, from_right = orientation_ == 6 || orientation_ == 7;
    const auto stride = std::size_t{3} * static_cast<std::size_t>(height_);
    const int count = last_row - first_row + 1;
    // Along an upright row the pixels are written from left to right, four bytes at a time: the fourth is a
    // neighbour's, who comes next. The last one takes its three.
    const auto step = std::ptrdiff_t{3} * width_ * (from_right ? -1 : 1);
    const std::uint8_t* first = bgr_rows_.data() + (from_right ? std::ptrdiff_t{3} * width_ * (count - 1) : 0);
    const auto at = static_cast<std::size_t>(from_right ? height_ - 1 - last_row : first_row);
    for (int x = 0; x < width_; ++x, first += 3) {
        std::uint8_t* to = upright_ + stride * static_cast<std::size_t>(from_below ? width_ - 1 - x : x) + 3 * at;
        const std::uint8_t* from = first;
        for (int i = 1; i < count; ++i, to += 3, from += step) std::memcpy(to, from, 4);
        std::memcpy(to, from, 3);
    }
}

}  // namespace footring::photo::darkroom

// photo/border_tile.h - one repeat of a border as it was seen, kept small, so that the borders of pieces can be
// compared with each other: also where no pack has a drawing of them.
//   Compared as drawings are (photo/tile_match.h): free of where the repeat begins and of how worn it is; colours
//   do not count. What hardly changes along the rim, a plain band, is like no other.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace footring::photo {

struct Repeat;
// A PNG of some kilobytes; empty for a border without repeats.
std::string border_tile_png(const Repeat&);

class BorderTile {
  public:
    // Absent: these are not the bytes that border_tile_png() gave.
    static std::optional<BorderTile> from_png(std::string_view bytes);
    // The chance that both are the same ornament, where one of twenty that are compared is.
    double likeness(const BorderTile&) const;

  private:
    struct Inside;
    explicit BorderTile(std::shared_ptr<const Inside> inside) : inside_(std::move(inside)) {}
    std::shared_ptr<const Inside> inside_;
};

}  // namespace footring::photo

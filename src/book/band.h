// book/band.h - strips along a curve: the rim of a plate, the wall of a cup, a handle. An ornament is laid on a
// Band
//   without knowing which of them it is.
//   Units are those of the glyph's viewBox; x right, y down. s runs along the strip, 0..length; t across it, 0 at
//   the side away from the verge (outer, upper), 1 at the verge.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "book/book.h"

namespace footring::book {

struct Point {
    double x = 0, y = 0;
    friend Point operator+(Point a, Point b) { return {a.x + b.x, a.y + b.y}; }
    friend Point operator-(Point a, Point b) { return {a.x - b.x, a.y - b.y}; }
    friend Point operator*(Point a, double k) { return {a.x * k, a.y * k}; }
};

struct Band {
    std::function<Point(double s, double t)> at;
    std::function<std::string(double t)> curve;  // path data of the whole line at t
    double length = 0, height = 0;               // of the middle line; across
    bool closed = false;                         // s = 0 and s = length meet; else the ornament is centred
    double slice = 1e9;                          // longest straight piece that still looks curved
    bool whole = false;   // closed: the first motif begins at s = 0, else its middle is there
    double girth = 0;     // of an open band: length once round the piece; 0: length
    bool counted = true;  // recorded repeats, those of a plate, hold for it
};

Band between(const Band&, double t0, double t1);  // a narrower band
Band portion(const Band&, double s0, double s1);  // a shorter, open one
Band straight(Point top_left, double length, double height);

// A plate's outline seen from above, and every line that runs along it at a distance.
struct Plate {
    Outline outline = Outline::kRound;
    Point centre{100, 100};
    double rx = 96, ry = 96;

    std::string line(double inset) const;  // closed path data, `inset` inside the edge
    Band band(double inset_outer, double inset_inner) const;
    // Half the side of the largest upright square around the centre that stays `inset` inside the edge.
    double reach(double inset) const;
};

std::string num(double value, int digits = 2);                    // "12.5", never "-0" or "1e3"
std::string smooth_path(const std::vector<Point>&, bool closed);  // cubic splines through the points
std::string circle_path(Point centre, double rx, double ry);

}  // namespace footring::book

// photo/letters.h - things of the size and build of letters on a ground, and how they lie in lines. Internal to
// photo/.
//   Ink of any colour on a lighter ground is darker than its surroundings in some channel, light print on a dark
//   ground and gold in the light are lighter in some; letters pressed into the clay are both. So both are looked
//   for, at several strengths, and the strength at which the letters lie best in lines is taken.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/text_ground.h"

namespace footring::photo {

struct Letter {
    cv::Rect box;
    cv::Point2d middle;             // of the box
    double size = 0;                // longer side of the box, px
    std::vector<cv::Point> pixels;  // all of it, ground px
};

// A straight line of letters, or one round a circle.
struct TextLine {
    std::vector<std::size_t> letters;  // of Mark::letters, in the order in which they are passed
    bool curved = false;
    // straight: u along `angle_deg` (from +x towards +y, in (-90, 90]: which end is the beginning is not known), v
    // across it; both from the ground's origin
    double angle_deg = 0;
    double u_from = 0, u_to = 0, v_from = 0, v_to = 0;  // of the ink
    // curved: the letters' middles lie on this circle; angles from +x towards +y, from < to
    cv::Point2d centre;
    double radius = 0, from_deg = 0, to_deg = 0;
    double height = 0;   // of the capitals, px
    double quality = 0;  // how much like a line of writing: letters of one height, on one line; about their number
};

struct Mark {
    std::vector<Letter> letters;
    std::vector<TextLine> lines;  // best first
    bool dark = true;             // on light
    double quality = 0;           // sum over the lines, less when far from the middle
};

// Groups that look like writing, best first, at most `most`.
std::vector<Mark> find_writing(const Ground&, std::size_t most);

// The lines in which a group of letters lies (photo/text_lines.cpp).
std::vector<TextLine> lines_of(const std::vector<Letter>&);

}  // namespace footring::photo

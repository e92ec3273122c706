// photo/reading.h - what was read from one photograph: plain values, without OpenCV, for the pages and programs
// that show it.
//   Frames  photo    px of the upright picture (after EXIF rotation), origin at the outer corner of the top-left
//                    pixel, whose centre is (0.5, 0.5); x right, y down
//           plate    unit: half the long diameter of the rim; origin at the rim's centre, x along the long axis, in
//                    the plane of the rim; z towards the camera, so that what lies deeper has z < 0
//           strip    the rim unrolled: s in [0, 1) once round the rim (0 at +x, then towards +y), t the distance
//                    inwards from the rim, in plate units
//   Chances are 0..1. A length in mm is absent without a scale.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "looks/piece.h"

namespace footring::photo {

struct Point {
    double x = 0, y = 0;
    friend bool operator==(const Point&, const Point&) = default;
};
struct Ellipse {
    Point centre;
    double a = 0, b = 0;   // semi-axes, a >= b
    double angle_deg = 0;  // of the longer axis, from +x towards +y (y down), in [-90, 90)
};

struct Scale {
    double mm_per_px = 0, sigma = 0;  // at the middle of the rim, in its plane; at the card where there is no rim
    std::string source;               // "card"
};
struct Card {
    std::array<std::array<Point, 4>, 4> markers;  // by id; corners clockwise from the marker's own top left; px
    std::array<bool, 4> seen{};
    std::array<Point, 4> corners;  // of the card itself, clockwise from the top left; px
};

enum class OutlineKind : std::uint8_t { kNone, kRound, kOval, kSquare, kOctagonal, kOther };
std::string_view name_of(OutlineKind);  // "none", "round", ...
// A form of a shape whose recorded size agrees with what was measured.
struct SizeCandidate {
    std::string shape, form;  // ids as short as the open packs allow
    std::string trade_size;
    double chance = 0;
};
struct Outline {
    OutlineKind kind = OutlineKind::kNone;
    Ellipse rim;                 // px; of a square or octagonal piece: of the ellipse that its sides touch
    std::vector<Point> corners;  // px, of a square or octagonal piece, clockwise
    double seen = 0;             // share of the rim along which an edge was found
    double tilt_deg = 0;         // between the line of sight and the normal of the table
    std::optional<double> long_mm, short_mm, sigma_mm;
    double rim_height_mm = 0;  // that the lengths were worked out for
    std::optional<double>
        long_per_height;               // mm that long_mm changes for a mm of rim height; absent: height is known
    std::vector<SizeCandidate> sizes;  // likeliest first
};

struct Scored {
    std::string id;
    double score = 0;  // chance that it is this one, calibrated on photographs whose truth is known
};
struct Border {
    double present = 0;
    double from = 0, to = 0;  // t of its outer and inner side
    std::optional<int> repeats;
    double phase = 0;        // s of the middle of the first repeat
    std::string finish;      // "gold", "platinum", "silver" or a colour name; empty: no border
    double wear = 0;         // share of the ornament lost
    std::vector<float> map;  // ornament still there, along s in equal steps; 1 all, 0 nothing
    std::vector<Scored> ornaments;
};
struct Line {
    double present = 0;
    std::string colour;        // "gold", "blue", ...; empty: no line
    double at = 0, width = 0;  // t of its middle; plate units
    std::optional<double> width_mm;
    std::vector<Scored> ornaments;
};
struct Centre {
    double present = 0;
    double radius = 0;     // plate units, of the circle that holds it
    Point middle;          // plate
    double angle_deg = 0;  // the drawing is turned by this much, from +x towards +y
    std::string finish;
    std::vector<Scored> ornaments;
};
struct Glaze {
    std::optional<std::array<double, 3>> lab;  // CIE L*a*b*, D50; absent: no bare glaze in view
    double sigma = 0;                          // of lab, in dE00: light, patches, spread over the piece
    struct Near {
        std::string id;
        double delta_e00 = 0, chance = 0;
    };
    std::vector<Near> nearest;
};
struct Faults {
    double specks_per_dm2 = 0;      // per dm2 of glaze; without a scale, of a plate taken to be 250 mm across
    double unevenness = 0;          // robust spread of the glaze's lightness over the piece, L*/100
    std::optional<double> crazing;  // chance of a net of fine cracks; absent: not seen well enough to tell
    std::vector<Point> specks;      // px
};
struct Words {
    std::string text;
    double confidence = 0;
    std::array<Point, 4> box;  // px, clockwise from the text's own top left
    double turned_deg = 0;     // how far the text is turned from upright, clockwise
};
struct Wording {
    std::vector<Words> words;
    std::array<Point, 4> area;                     // px; all zero when no mark was found
    std::vector<Scored> marks;                     // of the open packs
    std::vector<std::string> numbers, date_codes;  // as read; `?` one illegible character
    std::string mark_png;                          // the mark set upright, for a person to correct
    std::string note;                              // why nothing was read, when that is known
};
enum class Side : std::uint8_t { kFront, kBack };

// Why a look is suggested, beside the look itself; `field` is a member of the piece file.
struct Suggestion {
    std::string
        field;  // "looks", "shape", "form", "glaze", "wear", "mark", "number", "date_code", "faults", "length_mm"
    std::string place;  // of a look: "rim", ...
    std::string value;  // id, none, something, worn; a number as text
    std::optional<looks::Sure> sure;
    double chance = 0;  // that it is right, from measured error rates (docs/photo-accuracy.md)
    std::string why;    // one sentence
};

struct Reading {
    std::string file;
    int width = 0, height = 0;
    Side side = Side::kFront;
    std::optional<Scale> scale;
    std::optional<Card> card;
    Outline outline;
    Border border;
    Line edge_line, verge_line;
    Centre centre;
    Glaze glaze;
    Faults faults;
    Wording wording;
    std::vector<Suggestion> suggestions;
    std::vector<std::string> notes;
    // Plate to photo, 3 x 4, row by row: (x, y, z, 1) -> (X, Y, W). Absent without an outline.
    std::optional<std::array<double, 12>> photo_from_plate;
    std::string strip_jpeg;  // the rim strip from t = strip_from to strip_to; empty without an outline
    double strip_from = 0, strip_to = 0;
    std::string repeat_png;    // the mean of the repeats as seen; empty without a border
    std::string tile_png;      // the same as photo/border_tile.h keeps it; empty without repeats
    std::string upright_jpeg;  // the plate from straight above, 1024 px across
};

}  // namespace footring::photo

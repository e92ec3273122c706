// book/silhouette.h - what hollow forms look like from the side.
//   A silhouette is a turned body (radius over height), perhaps a lid, handles, a beak or a spout. Lengths are in
//   units of their own; whoever draws one fits it into the room that there is. y runs down, 0 is the lip.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string_view>
#include <vector>

namespace footring::book {

struct Turning {
    double y, r;
};
enum class Handles { kNone, kRight, kBoth };
enum class Spout { kNone, kTea, kCoffee };

struct Silhouette {
    std::string_view name;
    std::vector<Turning> body = {};  // lip to table, y ascending
    std::vector<Turning> lid = {};   // top to lip, y ascending to 0; empty: open
    double tilt = 0.2;               // how far one looks into it: minor over major axis of its circles
    double rim = 14;                 // height of the band below the lip
    Handles handles = Handles::kNone;
    double handle_top = 0, handle_bottom = 0, handle_out = 0;
    double beak = 0, beak_rise = 0, beak_depth = 26;  // a pouring lip at the left
    double back_rise = 0;                             // of the lip at the right
    Spout spout = Spout::kNone;
};

// Chosen by the words of a form's id and name ("sugar", "Coffee pot, small"). An unknown form is a bowl, and a
// covered one when `lidded`.
const Silhouette& silhouette_of(std::string_view id, std::string_view name, bool lidded);
bool is_known_form(std::string_view id, std::string_view name);  // some word told what it is

}  // namespace footring::book

// services/wants.h - what an allotment leaves to do: what to look for, what to part with, what a find would add,
// and
//   how two allotments differ. No I/O.
//   Wants: the cost of one more complete setting of a service never falls from one to the next (each line asks for
//   the same again, and what one has runs out), so that taking the cheapest step again and again completes most
//   settings for any sum, as long as the pieces that one has stay where they are. The objective `purchase` moves
//   them as well.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <string>
#include <vector>

#include "services/allot.h"

namespace footring::services {

struct WantedPieces {
    std::uint32_t service = 0, line = 0;
    Offer offer;
    int count = 0;
    bool alone = false;  // nothing stands at the line yet: its other forms and sizes would do as well
};
struct WantStep {
    std::uint32_t service = 0;
    int setting = 0;  // the setting that it completes; 0: a serving place
    std::vector<WantedPieces> buy;
    int pieces = 0;
    double cost = 0, so_far = 0;  // so_far: with all steps before
    std::string sentence;         // "Completes setting 6 of 8 in Fern: 1 cup, 1 saucer."
};
struct Wants {
    std::vector<WantStep> steps;     // cheapest first; what an allotment buys already comes first of all
    std::vector<WantedPieces> list;  // all of it, by service and line
    int pieces = 0;
    double cost = 0;
    std::vector<std::string> never;  // places that nothing can fill
};
Wants wants(const Fitting&, const Allotment&, const Prices&);
std::string carried_text(const Fitting&, const Wants&, const Prices&);  // the list to carry, plain lines

struct Parted {
    std::size_t piece = 0;
    bool stray = false;  // fits no service; else a duplicate: it fits, and all its places are taken
    std::string sentence;
};
std::vector<Parted> parting(const Fitting&, const Allotment&);

// What a piece that one does not have yet would add. `with`: the fitting of the same plan over the same pieces and,
// last, the found one.
struct FoundPlace {
    std::uint32_t service = 0, line = 0;
    State state = State::kFilled;
    double odds = 0;
    bool completes = false;                  // a setting, or the whole service when `setting` is 0
    int setting = 0, of = 0;                 // the setting that it completes, or else the one that it joins
    double gain = 0;                         // in the first goal of the allotment
    std::vector<std::string> still_missing;  // in that setting
    std::string sentence;
};
struct Found {
    std::vector<FoundPlace> places;  // most gain first
    double gain = 0;
    std::string sentence;  // "Completes setting 6 of 8 in 2 services: Fern and Fern tea."
};
std::expected<Found, std::vector<Problem>> found(const Fitting& with, const Allotment& before, const AllotOptions&);

struct Moved {
    std::string piece;
    std::string from, to;  // "Fern for eight, cup"; empty: nowhere
};
// Where each piece of an allotment stands, by id.
std::map<std::string, std::string> stands(const Fitting&, const Allotment&);
std::vector<Moved> moved(const std::map<std::string, std::string>& before,
                         const std::map<std::string, std::string>& after);

// One place in words: "Filled by p-0041. ..." and what is missing.
std::string place_sentence(const Fitting&, const Allotment&, std::uint32_t service, const PlaceTaken&);
std::string service_name(const Plan&, std::uint32_t service);

}  // namespace footring::services

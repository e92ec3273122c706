// photo/radial.h - edges that cross the normals of a hoop, and the hoops that they speak for.
//   in      a picture, a hoop in its mat pixels, how far inwards and outwards to look
//   out     for each of n places round the hoop, where colour changes along the normal, to a fraction of a pixel
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "photo/hoop.h"

namespace footring::photo {

struct RadialEdge {
    double offset;     // px outwards from the hoop along its normal
    float strength;    // size of the change, sRGB units
    cv::Vec3f change;  // B, G, R: outside minus inside
    float crisp;  // share of the change within four times `smooth` that is made here: 1 an edge, little a shade
};
struct RadialOptions {
    int places = 240;
    double inwards = 20, outwards = 20;  // px
    double step = 1;                     // px between samples
    double smooth = 1.2;                 // px, standard deviation along the normal
    double least = 2.5;                  // sRGB units: a weaker change is noise
    int beside = 1;                      // samples to each side along the rim that are averaged with it
    double beside_step = 2;              // px between them
    int calm = 0;                        // places to each side whose profiles are averaged with it: grain and weave
                                         // fade, what runs along the hoop stays
};
// Along each of many normals of a curve.
struct Normals {
    std::vector<cv::Point2d> feet, outwards;
    bool closed = false;  // the last is a neighbour of the first
};
struct EdgesAlong {
    std::vector<char> visible;
    std::vector<std::vector<RadialEdge>> edges;
};
EdgesAlong edges_along(const cv::Mat& bgr, const Normals&, const RadialOptions&);  // options.places is not asked

struct Radial {
    Hoop hoop;
    double outwards = 0;    // px, how far was looked
    std::vector<double> f;  // of each place
    std::vector<char> visible;
    std::vector<std::vector<RadialEdge>> edges;  // of each place, inside first
};
Radial radial_edges(const cv::Mat& bgr, const Hoop&, const RadialOptions&);

// Offsets of a Change at a place, in px along the normal.
double offset_of(const Hoop&, const Change&, double f);

// The change of the hoop that runs through edges near `start`: each round takes at each place the nearest edge
// within a reach that narrows from `wide` to `narrow` px. With `outer_from`, rounds but the last two take the
// outermost edge of that strength within it: of a line upon a lip, its outer side all the way round.
struct Track {
    Change change{};
    double support = 0;        // share of the visible places with an edge within `narrow`
    double visible = 0;        // share of places within the picture
    std::vector<int> edge_of;  // of each place, or -1
    double strength = 0;       // median of those
    double crisp = 0;          // likewise
    double agreement = 0;      // 0..1: how alike the changes of colour at neighbouring places are
    double sigma = 0;          // px, of the points
    cv::Matx<double, 5, 5> covariance;
};
std::optional<Track> track(const Radial&, const Change& start, double wide, double narrow, int rounds,
                           double outer_from = 0);

// The strength that only `share` edges a place reach, of those in `reach` px beyond `from`: what texture gives.
double strength_by_chance(const Radial&, double from, double reach, double share);

}  // namespace footring::photo

// photo/ink.h - ornament told from glaze in a ribbon or a crop, whatever the light.
//   in      an image, CV_8UC3 sRGB; what is seen of it; the plate's glaze tone; px for each plate unit
//   out     Ink (photo/decoration.h) and the same image evenly lit
//   How     bare glaze has one colour, and light over a plate changes slowly: the light is what smooth field
//   explains
//           the glaze-coloured pixels. Divided by it, glaze is flat; what differs is ornament, save neutral
//           brightening (mirrored lamps) and wide neutral darkening that does not run all round (shadows), which
//           are unsure.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "photo/decoration.h"

namespace footring::photo {

// Linear light, blue, green, red.
using Bgr = cv::Vec3f;

struct GlazeTone {
    Bgr bgr{0.8f, 0.8f, 0.8f};  // the glaze as photographed, in the middle of its lights and shades
    double share = 0;           // of the plate that has this tone, whatever its lightness
};
GlazeTone glaze_tone(const Picture&, const Plate&);

struct LitImage {
    Bgr tone{0.8f, 0.8f, 0.8f};  // the glaze tone that it was made with
    cv::Mat_<Bgr> light;         // what bare glaze looks like here, linear
    cv::Mat_<cv::Vec3f> lab;     // evenly lit: glaze has `glaze` everywhere
    cv::Vec3f glaze;             // L*, a*, b* of the glaze in the photograph's own white balance
    cv::Mat unsure;              // CV_8UC1
    Ink ink;                     // without finish
    double noise = 0;            // of bare glaze, dE76
    double scale = 1;            // linear light of the photograph for that of `lab`
};
struct InkOptions {
    double px_per_unit = 500;
    bool wraps = false;     // columns go once round
    cv::Mat_<Bgr> light{};  // when it is known already: of the image's size; else it is found
    double noise = 0;       // when it is known already, dE76; else it is found
};
LitImage tell_ink(const cv::Mat& bgr, const cv::Mat& seen, const GlazeTone&, const InkOptions&);

// The word for the colour of an ornament: "gold", "platinum", "silver", "blue" ... Empty: too little ink.
//   metals  mirror the room: gold keeps its hue while its lightness goes from brown to pale yellow; platinum and
//           silver are neutral and change likewise. Enamel keeps its lightness once the light is even.
struct Tint {
    std::string word;
    cv::Vec3f lab{0, 0, 0};  // middle of the ink, white balance applied
    bool metal = false;
};
Tint tint_of(const LitImage&, const cv::Mat& ink, const cv::Mat& where,
             const Light&);  // where: CV_8UC1, may be empty

// Shared small tools.
cv::Mat_<Bgr> linear_of(const cv::Mat& bgr8);
double luminance(const Bgr&);
void blur(const cv::Mat& in, cv::Mat& out, double sigma_x, double sigma_y, bool wraps);  // any sigma, cheaply

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/ciede2000.h"

#include <cmath>
#include <numbers>

namespace footring::photo {

namespace {
constexpr double kDegree = std::numbers::pi / 180;
double sq(double v) { return v * v; }
double pow7(double v) { return std::pow(v, 7); }
double hue_degrees(double a, double b) {
    if (a == 0 && b == 0) return 0;
    const double h = std::atan2(b, a) / kDegree;
    return h < 0 ? h + 360 : h;
}
}  // namespace

// Names and numbers of equations as in Sharma, Wu, Dalal 2005, section 2.
double ciede2000(const std::array<double, 3>& lab_a, const std::array<double, 3>& lab_b) {
    const auto [l1, a1, b1] = lab_a;
    const auto [l2, a2, b2] = lab_b;
    const double c_mean = (std::hypot(a1, b1) + std::hypot(a2, b2)) / 2;               // (2), (3)
    const double g = 0.5 * (1 - std::sqrt(pow7(c_mean) / (pow7(c_mean) + pow7(25))));  // (4)
    const double a1p = (1 + g) * a1, a2p = (1 + g) * a2;                               // (5)
    const double c1p = std::hypot(a1p, b1), c2p = std::hypot(a2p, b2);                 // (6)
    const double h1 = hue_degrees(a1p, b1), h2 = hue_degrees(a2p, b2);                 // (7)
    const bool grey = c1p * c2p == 0;
    double dh = grey ? 0 : h2 - h1;  // (10)
    if (dh > 180) dh -= 360;
    if (dh < -180) dh += 360;
    const double dl = l2 - l1, dc = c2p - c1p;                                 // (8), (9)
    const double dhp = 2 * std::sqrt(c1p * c2p) * std::sin(dh / 2 * kDegree);  // (11)
    const double l = (l1 + l2) / 2, c = (c1p + c2p) / 2;                       // (12), (13)
    double h = h1 + h2;                                                        // (14)
    if (!grey) {
        if (std::abs(h1 - h2) <= 180) h /= 2;
        else h = h < 360 ? (h + 360) / 2 : (h - 360) / 2;
    }
    const double t = 1 - 0.17 * std::cos((h - 30) * kDegree) + 0.24 * std::cos(2 * h * kDegree) +
                     0.32 * std::cos((3 * h + 6) * kDegree) - 0.20 * std::cos((4 * h - 63) * kDegree);  // (15)
    const double turn = 30 * std::exp(-sq((h - 275) / 25));                                             // (16)
    const double rc = 2 * std::sqrt(pow7(c) / (pow7(c) + pow7(25)));                                    // (17)
    const double sl = 1 + 0.015 * sq(l - 50) / std::sqrt(20 + sq(l - 50));                              // (18)
    const double sc = 1 + 0.045 * c, sh = 1 + 0.015 * c * t;                                   // (19), (20)
    const double rt = -std::sin(2 * turn * kDegree) * rc;                                      // (21)
    return std::sqrt(sq(dl / sl) + sq(dc / sc) + sq(dhp / sh) + rt * (dc / sc) * (dhp / sh));  // (22)
}

}  // namespace footring::photo

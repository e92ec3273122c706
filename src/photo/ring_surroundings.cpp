// SPDX-License-Identifier: Apache-2.0
#include "photo/ring_surroundings.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/sampling.h"

namespace footring::photo {

namespace {
constexpr double kWholeTurn = 2 * std::numbers::pi;

// L*a*b* at `places` places along the ring, `off` shares of its shorter semi-axis outwards; out of the picture:
// none.
struct AlongRing {
    cv::Mat_<cv::Vec3f> lab;
    std::vector<char> seen;
};
AlongRing along_ring(const cv::Mat& bgr, const Hoop& ring, double off, int places) {
    constexpr double kLeastPx = 4;  // beyond the blur of the ring itself
    const double px = off * axes_of(ring).b, away = std::copysign(std::max(kLeastPx, std::abs(px)), px);
    AlongRing out{cv::Mat_<cv::Vec3f>(places, 1, cv::Vec3f(0, 0, 0)),
                  std::vector<char>(static_cast<std::size_t>(places))};
    for (int i = 0; i < places; ++i) {
        const double f = kWholeTurn * i / places;
        const cv::Point2d p = ring.at(f) + ring.outwards(f) * away;
        if (!within(bgr, p)) continue;
        out.seen[static_cast<std::size_t>(i)] = 1;
        out.lab(i) = colour_at(bgr, p) * (1.f / 255);
    }
    cv::cvtColor(out.lab, out.lab, cv::COLOR_BGR2Lab);
    return out;
}

// All that is seen along several such ways round.
std::vector<cv::Vec3f> colours_along(const cv::Mat& bgr, const Hoop& ring, std::initializer_list<double> offs) {
    std::vector<cv::Vec3f> out;
    for (const double off : offs) {
        const AlongRing way = along_ring(bgr, ring, off, 72);
        for (int i = 0; i < way.lab.rows; ++i)
            if (way.seen[static_cast<std::size_t>(i)]) out.push_back(way.lab(i));
    }
    return out;
}

// Share of the colours for which there is one alike among the others.
double share_found_among(const std::vector<cv::Vec3f>& colours, const std::vector<cv::Vec3f>& others) {
    constexpr double kAlike = 6;  // L*a*b*
    std::size_t found = 0;
    for (const cv::Vec3f& c : colours)
        found += std::any_of(others.begin(), others.end(),
                             [&](const cv::Vec3f& o) { return cv::norm(c - o, cv::NORM_L2SQR) < kAlike * kAlike; });
    return static_cast<double>(found) / static_cast<double>(std::max<std::size_t>(1, colours.size()));
}

struct Spread {
    explicit Spread(const std::vector<cv::Vec3f>& colours) { cv::meanStdDev(colours, mean, deviation); }
    double lightness() const { return deviation[0]; }
    double hue() const { return std::hypot(deviation[1], deviation[2]); }
    cv::Scalar mean, deviation;  // L*a*b*
};
}  // namespace

MiddleColour middle_colour(const cv::Mat& bgr, const std::vector<cv::Point2d>& places) {
    constexpr std::size_t kFewest = 8;
    constexpr double kSameHue = 12, kSameLightness = 25;  // L*a*b*
    cv::Mat_<cv::Vec3f> colours, lab;
    for (const auto& p : places)
        if (within(bgr, p)) colours.push_back(cv::Vec3f(colour_at(bgr, p) * (1.f / 255)));
    MiddleColour out;
    if (colours.total() < kFewest) return out;
    cv::cvtColor(colours, lab, cv::COLOR_BGR2Lab);
    std::vector<float> values;
    for (int c = 0; c < 3; ++c) {
        values.clear();
        for (const auto& v : lab) values.push_back(v[c]);
        std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                         values.end());
        out.lab[c] = values[values.size() / 2];
    }
    double same = 0;
    for (const auto& v : lab)
        same += std::hypot(v[1] - out.lab[1], v[2] - out.lab[2]) < kSameHue &&
                std::abs(v[0] - out.lab[0]) < kSameLightness;
    out.even = same / static_cast<double>(lab.total());
    return out;
}

double evenness(const cv::Mat& bgr, const Hoop& rim) {
    constexpr int kPlaces = 180;
    constexpr std::size_t kFewest = 20;
    const Axes axes = axes_of(rim);
    double best = 0;
    for (const double depth : {0.015, 0.04, 0.08}) {
        std::vector<cv::Point2d> places;
        for (int i = 0; i < kPlaces; ++i) {
            const double f = kWholeTurn * i / kPlaces;
            const cv::Point2d p = rim.at(f) - rim.outwards(f) * std::max(2.0, depth * axes.b);
            if (within(bgr, p)) places.push_back(p);
        }
        if (places.size() >= kFewest) best = std::max(best, middle_colour(bgr, places).even);
    }
    return best;
}

bool drawn_upon(const cv::Mat& bgr, const Hoop& ring) {
    constexpr int kPlaces = 120;
    constexpr double kAlike = 4.5, kLeastShare = 0.8;  // L*a*b*; rims on paper of their own colour: 8 at the median
    std::vector<AlongRing> within, beyond;
    for (const double off : {0.045, 0.08, 0.12, 0.17}) {  // a ring of ornament has a width
        within.push_back(along_ring(bgr, ring, -off, kPlaces));
        beyond.push_back(along_ring(bgr, ring, off, kPlaces));
    }
    for (const AlongRing& in : within)
        for (const AlongRing& out : beyond) {
            int seen = 0, alike = 0;
            for (int i = 0; i < kPlaces; ++i) {
                const auto k = static_cast<std::size_t>(i);
                if (!in.seen[k] || !out.seen[k]) continue;
                ++seen;
                alike += cv::norm(in.lab(i) - out.lab(i)) < kAlike;
            }
            if (seen > kPlaces / 2 && alike > kLeastShare * seen) return true;
        }
    return false;
}

bool seen_through(const cv::Mat& bgr, const Hoop& ring) {
    constexpr double kLeastShare = 0.88, kLeastHues = 4;  // glaze and table of one colour are alike as well
    // A table of few hues but some grain is the very same within a glass; of 190 plates that were rendered, many on
    // tables of nearly their own colour, none was nearer to its table than 5.9 on the mean.
    constexpr double kSameShare = 0.93, kSameMean = 2.5, kGrain = 2;
    const auto inside = colours_along(bgr, ring, {-0.08, -0.2, -0.35}),
               about = colours_along(bgr, ring, {0.08, 0.2, 0.35});
    if (inside.size() <= 100 || about.size() <= 100) return false;
    const double share = std::min(share_found_among(inside, about), share_found_among(about, inside));
    const Spread in(inside), out(about);
    if (share > kSameShare && cv::norm(in.mean - out.mean) < kSameMean &&
        std::min(in.lightness(), out.lightness()) > kGrain)
        return true;
    return share > kLeastShare && std::min(in.hue(), out.hue()) > kLeastHues;
}

}  // namespace footring::photo

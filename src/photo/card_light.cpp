// What the card's patches say about the light. source: sRGB primaries adapted to D50 by Bradford, ICC.1:2022 annex
// E SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/card.h"
#include "photo/card_layout.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr std::size_t kCount = kPatches.size();
constexpr double kClipped = 250;  // 8-bit values from here on say "at least this bright"
constexpr double kShadowRatio =
    0.85;  // a patch whose paper is darker than this share of the brightest lies in shadow
constexpr double kMostResidual = 4;    // dE, of a patch that agrees with the others
constexpr double kOffsetSigma = 0.01;  // light that lenses scatter over dark patches, as a share of white

struct Seen {
    cv::Vec3d light;   // median, per channel, 0..1
    cv::Vec3d spread;  // robust, relative
    bool clipped = false, any = false;
};

// Medians over a rectangle of the card, in mm.
Seen seen_in(const Picture& picture, const cv::Matx33d& photo_from_card, cv::Rect2d mm) {
    constexpr int kSteps = 12;
    std::array<std::vector<double>, 3> values;
    for (int y = 0; y < kSteps; ++y)
        for (int x = 0; x < kSteps; ++x) {
            const cv::Point2d at(mm.x + mm.width * (x + 0.5) / kSteps, mm.y + mm.height * (y + 0.5) / kSteps);
            const cv::Point2d p = through(photo_from_card, at);
            if (!within(picture.bgr, p)) continue;
            const cv::Vec3f v = colour_at(picture.bgr, p);
            for (std::size_t c = 0; c < 3; ++c) values[c].push_back(v[static_cast<int>(c)]);
        }
    Seen out;
    if (values[0].size() < kSteps * kSteps / 2) return out;
    out.any = true;
    for (std::size_t c = 0; c < 3; ++c) {
        std::sort(values[c].begin(), values[c].end());
        const auto at = [&](double q) {
            return values[c][static_cast<std::size_t>(q * static_cast<double>(values[c].size() - 1))];
        };
        out.clipped = out.clipped || at(0.5) >= kClipped;
        const double middle = linear_from_srgb(at(0.5));
        out.light[static_cast<int>(c)] = middle;
        out.spread[static_cast<int>(c)] =
            (linear_from_srgb(at(0.9)) - linear_from_srgb(at(0.1))) / std::max(0.005, middle);
    }
    return out;
}

cv::Vec3d lab_of(const cv::Vec3d& bgr) {  // light, 0..1
    const cv::Matx33d xyz_from_rgb(0.4360747, 0.3850649, 0.1430804, 0.2225045, 0.7168786, 0.0606169, 0.0139322,
                                   0.0971045, 0.7141733);
    const cv::Vec3d xyz = xyz_from_rgb * cv::Vec3d(bgr[2], bgr[1], bgr[0]);
    const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
    const double x = f(xyz[0] / 0.9642956), y = f(xyz[1]), z = f(xyz[2] / 0.8251046);
    return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}
double difference(const cv::Vec3d& a, const cv::Vec3d& b) { return cv::norm(lab_of(a), lab_of(b)); }

struct Patch {
    cv::Vec3d seen;  // light, brought to the reference illumination of the card
    double truth;    // light
    double weight;
};

Light fitted(const std::vector<Patch>& patches) {
    Light out;
    for (int c = 0; c < 3; ++c) {
        double ss = 0, s1 = 0, n = 0, st = 0, t1 = 0;
        for (const auto& p : patches) {
            const double w = p.weight * std::pow(p.truth, -4.0 / 3);  // equal weight in lightness
            ss += w * p.seen[c] * p.seen[c];
            s1 += w * p.seen[c];
            n += w;
            st += w * p.seen[c] * p.truth;
            t1 += w * p.truth;
        }
        // The offset is near nought: worth one patch of mean weight, by how far it usually strays.
        n += n / static_cast<double>(patches.size()) * std::pow(0.02 / kOffsetSigma, 2);
        const double det = ss * n - s1 * s1;
        if (det <= 1e-12) continue;
        out.gain[c] = (st * n - s1 * t1) / det;
        out.offset[c] = (ss * t1 - s1 * st) / det;
    }
    out.from_card = true;
    return out;
}

double residual_of(const Light& light, const Patch& p) {
    cv::Vec3d is;
    for (int c = 0; c < 3; ++c) is[c] = std::max(0.0, light.gain[c] * p.seen[c] + light.offset[c]);
    return difference(is, cv::Vec3d::all(p.truth));
}

}  // namespace

Light light_of(const Picture& picture, const CardFound& card) {
    // The paper above and below each patch tells how bright the light is there.
    std::array<Seen, kCount> patch, paper;
    std::array<bool, kCount> torn{};  // the edge of a shadow runs through
    cv::Vec3d brightest(0, 0, 0);
    bool paper_clipped = false;
    for (std::size_t i = 0; i < kCount; ++i) {
        const double x = kPatches[i].left_mm;
        patch[i] = seen_in(picture, card.photo_from_card,
                           {x + 1.5, kPatchTopMm + 1.5, kPatchWidthMm - 3, kPatchHeightMm - 3});
        const double low = kPatchTopMm + kPatchHeightMm;
        const Seen above =
            seen_in(picture, card.photo_from_card, {x + 1.5, kPatchTopMm - 5, kPatchWidthMm - 3, 3.5});
        const Seen below = seen_in(picture, card.photo_from_card, {x + 1.5, low + 1.5, kPatchWidthMm - 3, 3.5});
        paper[i] = above;
        paper[i].any = above.any && below.any;
        paper[i].clipped = above.clipped || below.clipped;
        for (int c = 0; c < 3; ++c) paper[i].light[c] = std::sqrt(above.light[c] * below.light[c]);
        torn[i] = std::abs(above.light[1] - below.light[1]) > 0.2 * std::max(above.light[1], below.light[1]) ||
                  patch[i].spread[1] > 0.5;
        paper_clipped = paper_clipped || (paper[i].any && paper[i].clipped);
        if (paper[i].any && paper[i].light[1] > brightest[1]) brightest = paper[i].light;
    }
    // The light that counts is that of the card's lit side: half of its columns at least are near the brightest.
    cv::Vec3d reference(0, 0, 0);
    double lit = 0;
    for (std::size_t i = 0; i < kCount; ++i)
        if (paper[i].any && paper[i].light[1] > kShadowRatio * brightest[1]) reference += paper[i].light, ++lit;
    if (lit > 0) reference *= 1 / lit;

    std::vector<Patch> patches;
    for (std::size_t i = 0; i < kCount; ++i) {
        if (!patch[i].any || patch[i].clipped) continue;
        Patch p{patch[i].light, linear_from_srgb(kPatches[i].srgb), 1};
        const bool shadow = paper[i].any && paper[i].light[1] < kShadowRatio * brightest[1];
        if (paper[i].any && !paper_clipped && lit > 0)
            for (int c = 0; c < 3; ++c) p.seen[c] *= reference[c] / std::max(1e-4, paper[i].light[c]);
        if (torn[i]) p.weight = 0.05;
        else if (shadow) p.weight = 0.25;  // scaled up from less light, perhaps of another colour
        patches.push_back(p);
    }

    // The largest set of patches that one line explains; among equals the closest.
    std::optional<Light> best;
    std::size_t best_count = 0;
    double best_sum = 1e300;
    for (unsigned set = 1; set < (1U << patches.size()); ++set) {
        std::vector<Patch> chosen;
        for (std::size_t i = 0; i < patches.size(); ++i)
            if (set >> i & 1U) chosen.push_back(patches[i]);
        if (chosen.size() < 2) continue;
        const Light light = fitted(chosen);
        if (light.gain[0] <= 0 || light.gain[1] <= 0 || light.gain[2] <= 0) continue;
        double worst = 0, sum = 0;
        for (const auto& p : chosen) {
            const double r = residual_of(light, p);
            worst = std::max(worst, r);
            sum += r * r;
        }
        if (worst > kMostResidual && chosen.size() > 3) continue;
        if (chosen.size() > best_count || (chosen.size() == best_count && sum < best_sum)) {
            best = light;
            best_count = chosen.size();
            best_sum = sum;
        }
    }
    if (!best) return light_without_card(picture);
    const auto count = static_cast<double>(best_count);
    // Two numbers were fitted per channel. Prints differ from their nominal values by about one dE.
    best->sigma = std::sqrt(1 + best_sum / std::max(1.0, count - 2)) + (best_count < 4 ? 1.5 : 0);
    return *best;
}

Light light_without_card(const Picture& picture) {
    // Shades of grey (Finlayson and Trezzi 2004) with p = 6: between "the mean is grey" and "the brightest is
    // white".
    Light out;
    cv::Mat small;
    const double scale = 200.0 / std::max(picture.bgr.cols, picture.bgr.rows);
    cv::resize(picture.bgr, small, cv::Size(), std::min(1.0, scale), std::min(1.0, scale), cv::INTER_AREA);
    cv::Vec3d sum(0, 0, 0);
    const auto& light = light_table();
    for (int y = 0; y < small.rows; ++y) {
        const auto* row = small.ptr<cv::Vec3b>(y);
        for (int x = 0; x < small.cols; ++x) {
            if (std::max({row[x][0], row[x][1], row[x][2]}) >= kClipped) continue;
            for (int c = 0; c < 3; ++c) sum[c] += std::pow(light[row[x][c]], 6);
        }
    }
    for (int c = 0; c < 3; ++c) sum[c] = std::pow(sum[c] + 1e-12, 1.0 / 6);
    const double grey = 0.0722 * sum[0] + 0.7152 * sum[1] + 0.2126 * sum[2];
    // Half of what was guessed: a yellow glaze that fills the picture is no yellow light.
    for (int c = 0; c < 3; ++c) out.gain[c] = std::clamp(std::sqrt(grey / sum[c]), 0.6, 1.6);
    return out;
}

}  // namespace footring::photo

// The colour of the bare glaze (photo/decoration.h).
// SPDX-License-Identifier: Apache-2.0
#include "photo/glaze.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "book/colour.h"
#include "photo/ciede2000.h"
#include "photo/decoration.h"
#include "photo/ink.h"

namespace footring::photo {

namespace {
double quantile(std::vector<double>& v, double q) {
    const auto at = v.begin() + static_cast<std::ptrdiff_t>(q * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return *at;
}
double gamma(double v) {
    v = std::clamp(v, 0.0, 1.0);
    return v <= 0.0031308 ? v * 12.92 : 1.055 * std::pow(v, 1 / 2.4) - 0.055;
}
}  // namespace

Glaze read_glaze(const Picture& picture, const Plate& plate, const Light& light, const RimReading& rim,
                 const CentreReading& centre) {
    Glaze glaze;
    constexpr int kSize = 256;
    const cv::Mat top = upright(picture, plate, kSize, -0.13);
    const GlazeTone tone = glaze_tone(picture, plate);
    cv::Mat seen = cv::Mat::zeros(top.size(), CV_8UC1);
    const auto at = [](int i) { return -1.05 + 2.1 * (i + 0.5) / kSize; };
    for (int r = 0; r < kSize; ++r)
        for (int c = 0; c < kSize; ++c)
            if (std::hypot(at(c), at(r) / plate.aspect) < 0.9) seen.at<uchar>(r, c) = 255;
    const auto lit = tell_ink(top, seen, tone, {.px_per_unit = kSize / 2.1, .wraps = false});
    const cv::Mat_<Bgr> linear = linear_of(top);

    // The floor of the well lies as flat as the card, and so is lit as the card is. Where ornament leaves too
    // little of it, the rim has to serve.
    std::array<std::vector<double>, 3> channel;
    const auto gather = [&](double from, double to) {
        for (auto& v : channel) v.clear();
        std::vector<double> brightness;
        const auto bare = [&](int r, int c) {
            const double x = at(c), y = at(r) / plate.aspect, radius = std::hypot(x, y);
            if (radius < from || radius >= to) return false;
            if (rim.border.present > 0.5 && 1 - radius > rim.border.from - 0.02 &&
                1 - radius < rim.border.to + 0.02)
                return false;
            if (centre.centre.present > 0.5 &&
                std::hypot(at(c) - centre.centre.middle.x, at(r) - centre.centre.middle.y) <
                    centre.centre.radius + 0.02 &&
                lit.ink.ink.at<float>(r, c) > 0.02f)
                return false;
            if (top.at<cv::Vec3b>(r, c)[1] > 250) return false;  // a lamp's image, or lost to exposure
            return lit.ink.ink.at<float>(r, c) < 0.15f && !lit.unsure.at<uchar>(r, c) && seen.at<uchar>(r, c);
        };
        for (int r = 0; r < kSize; ++r)
            for (int c = 0; c < kSize; ++c)
                if (bare(r, c)) brightness.push_back(luminance(linear(r, c)));
        if (brightness.size() < 50) return std::size_t{0};
        // A window's image may fill half of the floor: the darker side of what is there is the glaze itself.
        const double usual = quantile(brightness, 0.3);
        for (int r = 0; r < kSize; ++r)
            for (int c = 0; c < kSize; ++c) {
                const double y = luminance(linear(r, c));
                if (y < 0.85 * usual || y > 1.15 * usual || !bare(r, c)) continue;
                for (std::size_t k = 0; k < 3; ++k)
                    channel[k].push_back(static_cast<double>(linear(r, c)[static_cast<int>(k)]));
            }
        return channel[0].size();
    };
    constexpr std::size_t kEnough = kSize * kSize / 60;
    const bool floor = gather(0, 0.5) >= kEnough;
    if (!floor && gather(0, 0.9) < 50) return glaze;

    std::array<double, 3> lin{};
    double spread = 0;
    for (std::size_t k = 0; k < 3; ++k) {
        const double middle = quantile(channel[k], 0.5);
        const double low = quantile(channel[k], 0.25), high = quantile(channel[k], 0.75);
        lin[k] = light.gain[static_cast<int>(k)] * middle + light.offset[static_cast<int>(k)];
        spread = std::max(spread, (high - low) / std::max(1e-3, middle));
    }
    glaze.lab = book::lab_of_rgb({gamma(lin[2]), gamma(lin[1]), gamma(lin[0])});
    // A change of light by a share moves L* by about a third of that share of its value.
    const double shading = 33 * spread * 0.5, unlike = light.from_card ? (floor ? 1.0 : 2.5) : 0;
    glaze.sigma = std::sqrt(light.sigma * light.sigma + shading * shading + unlike * unlike);
    return glaze;
}

void find_nearest(Glaze& glaze, const book::Book& book) {
    glaze.nearest.clear();
    if (!glaze.lab) return;
    const double sigma = std::max(0.5, glaze.sigma);
    double sum = std::exp(-0.5 * 3.0 * 3.0);  // of some glaze that no open pack has, as if three sigma away
    for (std::uint32_t i = 0; i < book.glazes.size(); ++i) {
        const auto& row = book.glazes[i];
        if (!row.lab) continue;
        const double away = ciede2000(*glaze.lab, *row.lab),
                     chance = std::exp(-0.5 * away * away / (sigma * sigma));
        glaze.nearest.push_back({book::id_of(book, book::Ref<book::Glaze>{i}), away, chance});
        sum += chance;
    }
    for (auto& near : glaze.nearest) near.chance /= sum;
    std::stable_sort(glaze.nearest.begin(), glaze.nearest.end(),
                     [](const auto& a, const auto& b) { return a.delta_e00 < b.delta_e00; });
    constexpr std::size_t kMost = 10;
    if (glaze.nearest.size() > kMost) glaze.nearest.resize(kMost);
}

}  // namespace footring::photo

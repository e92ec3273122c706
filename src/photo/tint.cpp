// The word for the colour of an ornament (photo/ink.h).
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "book/colour.h"
#include "photo/ciede2000.h"
#include "photo/ink.h"

namespace footring::photo {

namespace {
// Words that ornaments are commonly recorded under (common practice, no published source); each looks as
// book::ink_of draws it. Finer words (mazarine, delft ...) are near one of these.
constexpr const char* kWords[] = {"black", "grey",   "brown", "blue",   "cobalt", "turquoise",
                                  "green", "maroon", "red",   "coral",  "rust",   "orange",
                                  "pink",  "violet", "plum",  "yellow", "ivory",  "white"};

double part(std::vector<double> v, double q) {
    const auto at = v.begin() + static_cast<std::ptrdiff_t>(q * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return *at;
}
// A camera keeps hue at half the sharpness of lightness: strokes of two or three pixels are part glaze. Where what
// is left when more of the glaze's hue is taken away has none of its own, that much is taken: a neutral metal.
// `grey`: a* and b* of what is neutral in this photograph.
void purify(std::vector<std::array<double, 3>>& labs, const cv::Vec2d& glaze, const cv::Vec2d& grey) {
    constexpr double kMost = 1.7;    // of the way from the glaze: beyond, anything can be made of anything
    constexpr double kNeutral = 10;  // chroma
    constexpr double kFar = 0.6;     // of the glaze's chroma: from there on ink is mostly itself
    std::vector<double> a, b;
    for (const auto& lab : labs) a.push_back(lab[1]), b.push_back(lab[2]);
    const cv::Vec2d from = glaze - grey, way = cv::Vec2d(part(a, 0.5), part(b, 0.5)) - glaze;
    const double share = std::clamp(-from.dot(way) / std::max(1e-6, way.dot(way)), 1.0, kMost);
    if (cv::norm(from + way) > kFar * cv::norm(from) || cv::norm(from + share * way) > kNeutral) return;
    for (auto& lab : labs) {
        lab[1] = glaze[0] + share * (lab[1] - glaze[0]);
        lab[2] = glaze[1] + share * (lab[2] - glaze[1]);
    }
}

// a* and b* of a neutral colour of that lightness as the photograph has it.
cv::Vec2d grey_of(double lightness, const Light& light) {
    const float y = static_cast<float>(std::pow((lightness + 16) / 116, 3));
    cv::Mat_<cv::Vec3f> one(1, 1, cv::Vec3f(y, y, y)), lab;
    for (int k = 0; k < 3; ++k) one(0, 0)[k] *= static_cast<float>(light.gain[1] / std::max(1e-3, light.gain[k]));
    cv::cvtColor(one, lab, cv::COLOR_LBGR2Lab);
    return {static_cast<double>(lab(0, 0)[1]), static_cast<double>(lab(0, 0)[2])};
}
}  // namespace

Tint tint_of(const LitImage& lit, const cv::Mat& ink, const cv::Mat& where, const Light& light) {
    // Colours as the photograph has them, each pixel with its own light divided out: what the lamp gives is in the
    // glaze too. Only the middles of strokes, whose colour is not mixed with the glaze beside them.
    cv::Mat thin;
    cv::erode(ink, thin, cv::getStructuringElement(cv::MORPH_RECT, {3, 3}));
    std::vector<std::array<double, 3>> labs;
    for (const float least : {0.8f, 0.5f, 0.0f}) {
        const cv::Mat& from = least > 0 ? thin : ink;
        labs.clear();
        for (int r = 0; r < ink.rows; ++r)
            for (int c = 0; c < ink.cols; ++c) {
                if (from.at<float>(r, c) < (least > 0 ? least : 0.75f)) continue;
                if (!where.empty() && !where.at<uchar>(r, c)) continue;
                const cv::Vec3f& lab = lit.lab(r, c);
                labs.push_back(
                    {static_cast<double>(lab[0]), static_cast<double>(lab[1]), static_cast<double>(lab[2])});
            }
        if (labs.size() >= 150) break;
    }
    Tint tint;
    if (labs.size() < 12) return tint;
    // On a coloured glaze fine strokes are stained by it: what is furthest from its hue is the purest.
    const bool stained = std::hypot(static_cast<double>(lit.glaze[1]), static_cast<double>(lit.glaze[2])) > 25;
    const auto off_glaze = [&](const std::array<double, 3>& lab) {
        const double shade = (lab[0] + 16) / (static_cast<double>(lit.glaze[0]) + 16);
        return std::hypot(lab[1] - shade * static_cast<double>(lit.glaze[1]),
                          lab[2] - shade * static_cast<double>(lit.glaze[2]));
    };
    if (stained) {
        std::sort(labs.begin(), labs.end(),
                  [&](const auto& x, const auto& y) { return off_glaze(x) > off_glaze(y); });
        labs.resize(std::max<std::size_t>(12, labs.size() / 3));
    }
    if (stained)
        purify(labs, {static_cast<double>(lit.glaze[1]), static_cast<double>(lit.glaze[2])},
               grey_of(labs[labs.size() / 2][0], light));
    std::vector<double> l, a, b;
    for (const auto& lab : labs) {
        l.push_back(lab[0]);
        a.push_back(lab[1]);
        b.push_back(lab[2]);
    }
    // White balance: with a card, that of the card; without, glaze is taken as it looks. Even light has made every
    // glaze equally bright: on a dark glaze, ink is darker than it looks there. Without a card the exposure is not
    // known; most glazes are pale, and cameras leave them a little darker than they are.
    const double real = light.from_card ? lit.scale * light.gain[1] : std::clamp(1.35 * lit.scale, 0.05, 1.0);
    const auto balanced = [&](const std::array<double, 3>& lab) -> std::array<double, 3> {
        cv::Mat_<cv::Vec3f> one(
            1, 1, cv::Vec3f(static_cast<float>(lab[0]), static_cast<float>(lab[1]), static_cast<float>(lab[2])));
        cv::Mat_<cv::Vec3f> rgb;
        cv::cvtColor(one, rgb, cv::COLOR_Lab2LBGR);
        const double g = light.gain[1] > 0 ? light.gain[1] : 1;
        cv::Vec3f p = rgb(0, 0) * static_cast<float>(real / g);
        for (int k = 0; k < 3; ++k) p[k] *= static_cast<float>(light.gain[k]);
        const auto gamma = [](float v) {
            const double x = std::clamp(static_cast<double>(v), 0.0, 1.0);
            return x <= 0.0031308 ? 12.92 * x : 1.055 * std::pow(x, 1 / 2.4) - 0.055;
        };
        return book::lab_of_rgb({gamma(p[2]), gamma(p[1]), gamma(p[0])});
    };
    const auto middle = balanced({part(l, 0.5), part(a, 0.5), part(b, 0.5)});
    tint.lab = {static_cast<float>(middle[0]), static_cast<float>(middle[1]), static_cast<float>(middle[2])};
    const double spread = part(l, 0.9) - part(l, 0.1);
    // Hue of the yellower half: gold in a dark part of the room is nearly black, in a bright one yellow. (The purer
    // strokes on a coloured glaze are those that are further from its hue.)
    std::vector<std::array<double, 3>> colourful = labs;
    std::sort(colourful.begin(), colourful.end(), [&](const auto& x, const auto& y) {
        return stained ? off_glaze(x) > off_glaze(y) : std::hypot(x[1], x[2]) > std::hypot(y[1], y[2]);
    });
    colourful.resize(std::max<std::size_t>(8, colourful.size() / 2));
    std::vector<double> ca, cb, cl;
    for (const auto& lab : colourful) {
        const auto v = balanced(lab);
        cl.push_back(v[0]);
        ca.push_back(v[1]);
        cb.push_back(v[2]);
        if (ca.size() > 4000) break;
    }
    const double ha = part(ca, 0.5), hb = part(cb, 0.5), chroma = std::hypot(ha, hb),
                 hue = std::atan2(hb, ha) * 180 / 3.14159265358979;
    // Gold: hue of 62 to 98 degrees. Enamels of that hue are ochre and mustard (even in lightness, and rare),
    // yellow (light and strong) and dark brown (dark throughout).
    const double brightest = part(l, 0.85);
    const bool golden = chroma > 9 && hue > 58 && hue < 100;
    const bool plain_yellow = part(cl, 0.5) > 72 && chroma > 48 && spread < 22;
    const bool plain_brown = brightest < 42 && spread < 16 && hue < 74;
    if (golden && !plain_yellow && !plain_brown) {
        tint.word = "gold";
        tint.metal = true;
        return tint;
    }
    const double grey = std::hypot(middle[1], middle[2]);
    if (grey < 8 && chroma < 13 && (middle[0] > 30 || spread > 24)) {
        tint.word = middle[0] > 70 ? "silver" : "platinum";
        tint.metal = true;
        return tint;
    }
    // Mixed decals are known by their flowers, not by leaf and twig: the strongest hue among the rest, if there is
    // enough of it.
    std::array<double, 3> colour = middle;
    {
        std::vector<std::array<double, 3>> flowers;
        std::size_t twigs = 0;
        for (int r = 0; r < ink.rows; ++r)
            for (int c = 0; c < ink.cols; ++c) {
                if (ink.at<float>(r, c) < 0.3f || (!where.empty() && !where.at<uchar>(r, c))) continue;
                const cv::Vec3f& v = lit.lab(r, c);
                const double h = std::atan2(static_cast<double>(v[2]), static_cast<double>(v[1])) * 180 /
                                 3.14159265358979,
                             strength = std::hypot(static_cast<double>(v[1]), static_cast<double>(v[2]));
                const bool leaf = strength > 8 && h > 95 && h < 185, twig = v[0] < 58 && h > 32 && h < 95;
                if (leaf || twig) ++twigs;
                else if (strength > 12)
                    flowers.push_back(
                        {static_cast<double>(v[0]), static_cast<double>(v[1]), static_cast<double>(v[2])});
            }
        if (twigs > 40 && flowers.size() * 5 > twigs) {
            std::vector<double> fl, fa, fb;
            for (const auto& v : flowers) {
                fl.push_back(v[0]);
                fa.push_back(v[1]);
                fb.push_back(v[2]);
            }
            colour = balanced({part(fl, 0.5), part(fa, 0.5), part(fb, 0.5)});
        }
    }
    double best = 1e9;
    for (const char* word : kWords) {
        const double away = ciede2000(colour, book::lab_of_rgb(book::rgb_of_hex(book::ink_of(word).base)));
        if (away < best) {
            best = away;
            tint.word = word;
        }
    }
    return tint;
}

}  // namespace footring::photo

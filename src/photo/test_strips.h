// photo/test_strips.h - ribbons and centres as a photograph would show them, made from drawings; and drawings made
// at random. For tests and the benchmark.
//   A drawing is laid round the rim, worn in blots, softened, blurred and sprinkled with noise; the band is cut a
//   little too wide or too narrow. Nothing here knows how ornaments are compared.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <random>
#include <string>

#include "book/book.h"
#include "book/drawings.h"
#include "photo/decoration.h"
#include "photo/drawing_pixels.h"

namespace footring::photo::testing {

using Random = std::mt19937;
inline double between(Random& random, double low, double high) {
    return low + (high - low) * static_cast<double>(random()) / 4294967296.0;
}

// Blots that cover `share` of the ink: smooth noise, cut at the value that so much lies below. 1 kept, 0 worn away.
inline cv::Mat worn_mask(const cv::Mat& ink, double share, double blot, Random& random) {
    const cv::Size size = ink.size();
    cv::Mat noise(size, CV_32FC1);
    for (auto p = noise.begin<float>(); p != noise.end<float>(); ++p)
        *p = static_cast<float>(between(random, 0, 1));
    cv::GaussianBlur(noise, noise, {}, blot, blot, cv::BORDER_REPLICATE);
    std::vector<float> values;
    for (int y = 0; y < size.height; ++y)
        for (int x = 0; x < size.width; ++x)
            if (ink.at<float>(y, x) > 0.3f) values.push_back(noise.at<float>(y, x));
    if (values.empty() || share <= 0) return cv::Mat::ones(size, CV_32FC1);
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), at, values.end());
    cv::Mat kept;
    cv::threshold(noise, kept, *at, 1, cv::THRESH_BINARY);
    return kept;
}

// In how many equal parts a tile falls, by its ink.
inline int parts_of(const cv::Mat& ink) {
    cv::Mat soft;
    cv::GaussianBlur(ink, soft, {}, 2);
    for (int k = 6; k >= 2; --k) {
        if (ink.cols % k) continue;
        cv::Mat turned(ink.size(), CV_32FC1);
        const int by = ink.cols / k;
        for (int x = 0; x < ink.cols; ++x) soft.col((x + by) % ink.cols).copyTo(turned.col(x));
        const cv::Scalar mean = cv::mean(soft);
        const cv::Mat a = soft - mean, b = turned - mean;
        if (a.dot(b) > 0.9 * a.dot(a)) return k;
    }
    return 1;
}

struct Wear {
    double most = 0.5, least = 0;
};
struct Laid {
    Repeat seen;
    int tiles = 0;  // round the rim
};
inline Laid laid_border(const book::Ornament& ornament, Random& random, Wear wear = {}) {
    const cv::Size tile_size(240, 96);
    const DrawingPixels drawing = pixels_of(ornament, tile_size).value();
    Laid out;
    out.tiles = std::max(
        3,
        static_cast<int>(std::lround(ornament.repeats.value_or(std::max(4, static_cast<int>(26 / drawing.aspect))) *
                                     between(random, 0.75, 1.15))));
    const bool plain = ornament.kind == book::OrnamentKind::kBand || ornament.kind == book::OrnamentKind::kSolid ||
                       ornament.kind == book::OrnamentKind::kLine;
    const cv::Size size(static_cast<int>(between(random, 1400, 2600)), static_cast<int>(between(random, 32, 64)));

    cv::Mat along, across, ink;
    along.create(size, CV_32FC1), across.create(size, CV_32FC1);
    const double phase = between(random, 0, 1), top = between(random, -0.06, 0.08),
                 foot = between(random, 0.92, 1.06);
    for (int y = 0; y < size.height; ++y)
        for (int x = 0; x < size.width; ++x) {
            const double turns = (x + 0.5) / size.width * out.tiles + phase;
            along.at<float>(y, x) =
                static_cast<float>((turns - std::floor(turns)) * tile_size.width + tile_size.width - 0.5);
            across.at<float>(y, x) =
                static_cast<float>((top + (y + 0.5) / size.height * (foot - top)) * tile_size.height - 0.5);
        }
    const double fine = std::max(0.3, 0.3 * out.tiles * tile_size.width / size.width);
    cv::Mat three = cv::repeat(drawing.ink, 1, 3);
    cv::GaussianBlur(three, three, {}, fine, 0.3 * tile_size.height / size.height + 0.3);
    cv::remap(three, ink, along, across, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0);
    const double lost = between(random, wear.least, wear.most);
    ink = ink.mul(worn_mask(ink, lost, size.height * between(random, 0.05, 0.4), random));
    cv::pow(ink, between(random, 0.7, 1.5), ink);
    ink *= between(random, 0.5, 1);
    cv::GaussianBlur(ink, ink, {}, size.height * between(random, 0.002, 0.025));
    const double noise = between(random, 0.01, 0.1);
    for (auto p = ink.begin<float>(); p != ink.end<float>(); ++p)
        *p = static_cast<float>(std::clamp(*p + noise * between(random, -1.5, 1.5), 0.0, 1.0));
    out.seen.strip_ink = ink;
    out.seen.strip_unsure = cv::Mat::zeros(size, CV_8UC1);
    const int glare = static_cast<int>(between(random, 0, size.width * 0.9));  // a highlight hides some of it
    out.seen.strip_unsure.colRange(glare, glare + size.width / 14) = 255;

    const int parts = plain ? 1 : parts_of(drawing.ink);
    out.seen.count = out.tiles * parts;
    if (plain && parts_of(drawing.ink) > 1) out.seen.count = 1;
    const int columns = std::max(16, size.width / out.seen.count);
    cv::Mat sum = cv::Mat::zeros(size.height, columns, CV_32FC1);
    for (int i = 0; i < out.seen.count; ++i) {
        const int from = static_cast<int>(static_cast<double>(i) * size.width / out.seen.count);
        sum += ink.colRange(std::min(from, size.width - columns), std::min(from, size.width - columns) + columns);
    }
    out.seen.mean.ink = sum / out.seen.count;
    out.seen.mean.unsure = cv::Mat::zeros(sum.size(), CV_8UC1);
    cv::resize(drawing.bgr, out.seen.mean.bgr, sum.size(), 0, 0, cv::INTER_AREA);
    // Lamps differ.
    cv::multiply(out.seen.mean.bgr,
                 cv::Scalar(between(random, 0.85, 1.05), between(random, 0.9, 1.05), between(random, 0.92, 1.05)),
                 out.seen.mean.bgr);
    out.seen.mean.finish = ornament.finish;
    out.seen.length = 6.28 / out.seen.count, out.seen.height = 0.2;
    return out;
}

struct Turned {
    Ink seen;
    double angle_deg = 0;
};
inline Turned laid_centre(const book::Ornament& ornament, Random& random, Wear wear = {}) {
    const DrawingPixels wide = pixels_of(ornament, {256, 256}).value();
    Turned out;
    out.angle_deg = between(random, -180, 180);
    const int size = static_cast<int>(between(random, 90, 240));
    const double zoom = between(random, 0.7, 0.85) * size / 256;
    cv::Mat turn = cv::getRotationMatrix2D({127.5f, 127.5f}, -out.angle_deg, 1);  // OpenCV counts the other way
    // Along and across by the drawing's own shape, then turned, then to the middle of the crop.
    const double wide_by = std::min(1.0, wide.aspect), high_by = std::min(1.0, 1 / wide.aspect);
    cv::Mat shape =
        (cv::Mat_<double>(3, 3) << wide_by, 0, 127.5 * (1 - wide_by), 0, high_by, 127.5 * (1 - high_by), 0, 0, 1);
    cv::Mat whole = cv::Mat::eye(3, 3, CV_64F);
    turn.copyTo(whole.rowRange(0, 2));
    const double off_x = size * between(random, -0.03, 0.03), off_y = size * between(random, -0.03, 0.03);
    cv::Mat place = (cv::Mat_<double>(3, 3) << zoom, 0, size / 2.0 - zoom * 127.5 + off_x, 0, zoom,
                     size / 2.0 - zoom * 127.5 + off_y, 0, 0, 1);
    whole = place * whole * shape;
    cv::Mat soft, ink;
    cv::GaussianBlur(wide.ink, soft, {}, std::max(0.3, 0.35 / zoom));
    cv::warpAffine(soft, ink, whole.rowRange(0, 2), {size, size});
    ink =
        ink.mul(worn_mask(ink, between(random, wear.least, wear.most), size * between(random, 0.02, 0.08), random));
    cv::pow(ink, between(random, 0.7, 1.5), ink);
    ink *= between(random, 0.5, 1);
    cv::GaussianBlur(ink, ink, {}, size * between(random, 0.001, 0.012));
    const double noise = between(random, 0.01, 0.1);
    for (auto p = ink.begin<float>(); p != ink.end<float>(); ++p)
        *p = static_cast<float>(std::clamp(*p + noise * between(random, -1.5, 1.5), 0.0, 1.0));
    out.seen.ink = ink;
    out.seen.unsure = cv::Mat::zeros(ink.size(), CV_8UC1);
    cv::warpAffine(wide.bgr, out.seen.bgr, whole.rowRange(0, 2), {size, size}, cv::INTER_LINEAR,
                   cv::BORDER_CONSTANT, cv::Scalar::all(255));
    out.seen.finish = ornament.finish;
    return out;
}

// A drawing made at random: motifs of petals, leaves, dots and curls on a stem, between lines or alone.
inline std::string random_tile(Random& random, bool centre) {
    const auto pick = [&](int low, int high) {
        return low + static_cast<int>(random() % static_cast<unsigned>(high - low + 1));
    };
    const int width = pick(50, 320), height = 100;
    std::string art;
    const auto petal = [&](double x, double y, double angle, double length, double broad) {
        const double dx = std::cos(angle), dy = std::sin(angle), ex = x + length * dx, ey = y + length * dy;
        const double mx = x + 0.5 * length * dx, my = y + 0.5 * length * dy;
        art += fmt::format("<path d='M{:.1f} {:.1f}Q{:.1f} {:.1f} {:.1f} {:.1f}Q{:.1f} {:.1f} {:.1f} {:.1f}Z'/>", x,
                           y, mx - broad * dy, my + broad * dx, ex, ey, mx + broad * dy, my - broad * dx, x, y);
    };
    const auto dot = [&](double x, double y, double r) {
        art += fmt::format("<circle cx='{:.1f}' cy='{:.1f}' r='{:.1f}'/>", x, y, r);
    };
    const auto motif = [&](double x, double y, double size) {
        switch (pick(0, 5)) {
            case 0: {  // a flower
                const int n = pick(3, 9);
                const double from = between(random, 0, 6), broad = between(random, 0.1, 0.4) * size;
                for (int i = 0; i < n; ++i) petal(x, y, from + 6.2832 * i / n, size, broad);
                break;
            }
            case 1: {  // a fan of leaves
                const int n = pick(2, 6);
                const double middle = between(random, 0, 6.28), open = between(random, 0.4, 1.6);
                for (int i = 0; i < n; ++i)
                    petal(x, y, middle + open * (i - (n - 1) / 2.0), size * between(random, 0.8, 1.3), size * 0.25);
                break;
            }
            case 2:
                dot(x, y, size * between(random, 0.2, 0.7));
                break;
            case 3:  // a ring
                art += fmt::format(
                    "<circle cx='{:.1f}' cy='{:.1f}' r='{:.1f}' fill='none' stroke='#000' stroke-width='{:.1f}'/>",
                    x, y, size * 0.7, between(random, 2, 6));
                break;
            case 4:  // a curl
                art += fmt::format(
                    "<path d='M{:.1f} {:.1f}q{:.1f} {:.1f} {:.1f} {:.1f}t{:.1f} {:.1f}' fill='none' stroke='#000' "
                    "stroke-width='{:.1f}'/>",
                    x, y, between(random, -2, 2) * size, between(random, -1, 1) * size,
                    between(random, -2, 2) * size, between(random, -1, 1) * size, between(random, -2, 2) * size,
                    between(random, -1, 1) * size, between(random, 2, 5));
                break;
            default: {  // a lozenge
                const double w = size * between(random, 0.4, 1), h = size * between(random, 0.4, 1);
                art += fmt::format("<path d='M{:.1f} {:.1f}l{:.1f} {:.1f}l{:.1f} {:.1f}l{:.1f} {:.1f}z'/>", x,
                                   y - h, w, h, -w, h, -w, -h);
            }
        }
    };
    if (centre) {  // a rosette of rings, or a spray: a stem with leaves on it and flowers at its end
        if (pick(0, 1) == 0) {
            for (int ring = pick(2, 4); ring > 0; --ring) {
                const int n = pick(3, 14);
                const double radius = between(random, 5, 60), size = between(random, 8, 34),
                             from = between(random, 0, 6);
                const bool dots = pick(0, 2) == 0;
                for (int i = 0; i < n; ++i) {
                    const double angle = from + 6.2832 * i / n;
                    const double x = 100 + radius * std::cos(angle), y = 100 + radius * std::sin(angle);
                    if (dots) dot(x, y, size * 0.2);
                    else petal(x, y, angle, size, size * between(random, 0.2, 0.35));
                }
            }
        } else {
            for (int stem = pick(1, 3); stem > 0; --stem) {
                double x = 100 + between(random, -15, 15), y = 150, angle = between(random, -2.3, -0.8);
                const double bend = between(random, -0.25, 0.25);
                for (int i = pick(4, 8); i > 0; --i, angle += bend) {
                    const double nx = x + 14 * std::cos(angle), ny = y + 14 * std::sin(angle);
                    art += fmt::format(
                        "<path d='M{:.1f} {:.1f}L{:.1f} {:.1f}' fill='none' stroke='#000' stroke-width='3'/>", x, y,
                        nx, ny);
                    petal(nx, ny, angle + between(random, 0.5, 1.2) * (i % 2 ? 1 : -1), between(random, 15, 32),
                          between(random, 4, 9));
                    x = nx, y = ny;
                }
                motif(x, y, between(random, 14, 26));
            }
        }
        return fmt::format("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 200 200'>{}</svg>", art);
    }
    const int motifs = pick(1, 5);
    for (int i = 0; i < motifs; ++i)
        motif(between(random, 0.12, 0.88) * width, between(random, 0.25, 0.75) * height, between(random, 10, 34));
    if (pick(0, 2) == 0)
        for (const double y : {between(random, 3, 10), between(random, 88, 95)})
            art += fmt::format("<rect x='0' y='{:.1f}' width='{}' height='{:.1f}'/>", y, width,
                               between(random, 1.5, 5));
    if (pick(0, 1) == 0)
        art += fmt::format(
            "<path d='M0 50C{0} {1:.0f} {2} {3:.0f} {4} 50' fill='none' stroke='#000' stroke-width='{5:.1f}'/>",
            width / 3, between(random, 0, 100), 2 * width / 3, between(random, 0, 100), width,
            between(random, 1.5, 4));
    return fmt::format("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {} {}'>{}</svg>", width, height, art);
}
// A pack of such drawings; the first `borders` for rims.
inline book::Book random_book(std::size_t borders, std::size_t centres, unsigned seed) {
    Random random(seed);
    book::Book book;
    book.packs.push_back({});
    book.packs[0].id = "made-up";
    for (std::size_t i = 0; i < borders + centres; ++i) {
        book::Ornament o;
        const bool centre = i >= borders;
        o.id = fmt::format("{}-{}", centre ? "centre" : "border", i);
        o.name = o.id;
        constexpr const char* kFinishes[] = {"gold", "gold", "gold", "platinum", "silver", "blue", "green", "red"};
        o.finish = kFinishes[random() % 8];
        o.drawing_data = book::data_uri(random_tile(random, centre));
        if (!centre) {
            const auto shape = book::shape_of(o.drawing_data);
            o.repeats = std::max(4, static_cast<int>(26 * shape->height / shape->width));
        }
        book.ornaments.push_back(std::move(o));
    }
    book.index();
    return book;
}

}  // namespace footring::photo::testing

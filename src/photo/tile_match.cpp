// SPDX-License-Identifier: Apache-2.0
#include "photo/tile_match.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
// Standard deviations of what the series hold, by Parseval's theorem.
void measure(Waves& w) {
    double mean = 0, square = 0, pattern = 0;
    for (int r = 0; r < w.grid.rows; ++r) {
        const auto* row = w.row(r);
        double ripple = 0;
        for (int k = 1; k <= w.grid.waves; ++k) ripple += 2 * std::norm(row[k]);
        const double weight = w.weight[static_cast<std::size_t>(r)];
        mean += weight * row[0].real();
        square += weight * (row[0].real() * row[0].real() + ripple);
        pattern += weight * ripple;
    }
    w.mean = static_cast<float>(mean);
    w.spread = static_cast<float>(std::sqrt(std::max(0.0, square - mean * mean)));
    w.pattern = static_cast<float>(std::sqrt(pattern));
}

// Cosines and sines of all waves at all columns: value(x) = sum re * cos + im * sin.
struct Basis {
    explicit Basis(Grid grid) : columns(grid.columns), waves(grid.waves) {
        table.resize(static_cast<std::size_t>(2 * waves * columns));
        for (int k = 0; k < waves; ++k)
            for (int x = 0; x < columns; ++x) {
                const double angle = 2 * std::numbers::pi * (k + 1) * x / columns;
                table[static_cast<std::size_t>((2 * k) * columns + x)] = static_cast<float>(2 * std::cos(angle));
                table[static_cast<std::size_t>((2 * k + 1) * columns + x)] =
                    static_cast<float>(-2 * std::sin(angle));
            }
    }
    int columns, waves;
    std::vector<float> table;
};
const Basis& basis(Grid grid) {
    static const Basis coarse(kCoarse), fine(kFine);
    return grid.columns == kCoarse.columns ? coarse : fine;
}

// What of the two moves together along the columns, at each turn.
struct Product {
    float level = 0;  // that of the rows' means
    std::array<float, 256> ripple{};
};
void multiply(const Waves& a, const Waves& b, Product& out) {
    const int waves = a.grid.waves, columns = a.grid.columns;
    std::array<std::complex<float>, 128> cross{};
    float level = 0;
    for (int r = 0; r < a.grid.rows; ++r) {
        const auto *pa = a.row(r), *pb = b.row(r);
        const float weight = a.weight[static_cast<std::size_t>(r)];
        level += weight * pa[0].real() * pb[0].real();
        for (int k = 0; k < waves; ++k) {
            const float ar = pa[k + 1].real() * weight, ai = pa[k + 1].imag() * weight;
            const float br = pb[k + 1].real(), bi = pb[k + 1].imag();
            cross[static_cast<std::size_t>(k)] += std::complex<float>(ar * br + ai * bi, ar * bi - ai * br);
        }
    }
    out.level = level;
    std::fill_n(out.ripple.begin(), columns, 0.0f);
    const float* table = basis(a.grid).table.data();
    for (int k = 0; k < waves; ++k) {
        const float re = cross[static_cast<std::size_t>(k)].real(), im = cross[static_cast<std::size_t>(k)].imag();
        const float *c = table + 2 * k * columns, *s = c + columns;
        for (int x = 0; x < columns; ++x) out.ripple[static_cast<std::size_t>(x)] += re * c[x] + im * s[x];
    }
}

struct Norms {
    float all, pattern;
};
Norms norms(const Waves& a, const Waves& b) {
    const auto inverse = [](float product) { return product > 1e-8f ? 1 / product : 0; };
    return {inverse(a.spread * b.spread), inverse(a.pattern * b.pattern)};
}
}  // namespace

Waves waves_of(const cv::Mat& tile, Grid grid, std::vector<float> weight) {
    cv::Mat small;
    if (tile.size() == grid.size()) small = tile;
    else cv::resize(tile, small, grid.size(), 0, 0, cv::INTER_AREA);
    cv::Mat spectrum;
    cv::dft(small, spectrum, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT | cv::DFT_SCALE);
    Waves out;
    out.grid = grid;
    out.tile = small;
    out.at.resize(static_cast<std::size_t>(grid.rows * (grid.waves + 1)));
    for (int r = 0; r < grid.rows; ++r)
        for (int k = 0; k <= grid.waves; ++k) {
            const auto c = spectrum.at<cv::Vec2f>(r, k);
            out.at[static_cast<std::size_t>(r * (grid.waves + 1) + k)] = {c[0], c[1]};
        }
    out.weight = std::move(weight);
    if (out.weight.empty())
        out.weight.assign(static_cast<std::size_t>(grid.rows), 1.0f / static_cast<float>(grid.rows));
    measure(out);
    return out;
}

Waves mapped(const Waves& seen, RowMap map) {
    Waves out;
    out.grid = seen.grid;
    out.weight = seen.weight;
    out.at.assign(seen.at.size(), {});
    const int rows = seen.grid.rows, stride = seen.grid.waves + 1;
    for (int r = 0; r < rows; ++r) {
        const float v = (static_cast<float>(r) + 0.5f) / static_cast<float>(rows);
        const float at = (0.5f + (v - 0.5f) * map.scale + map.shift) * static_cast<float>(rows) - 0.5f;
        const int below = static_cast<int>(std::floor(at));
        const float share = at - static_cast<float>(below);
        for (const auto& [from, part] : {std::pair(below, 1 - share), std::pair(below + 1, share)}) {
            if (from < 0 || from >= rows || part == 0) continue;
            const auto* source = seen.row(from);
            auto* target = out.at.data() + static_cast<std::size_t>(r * stride);
            for (int k = 0; k < stride; ++k) target[k] += part * source[k];
        }
    }
    const float first = (0.5f - 0.5f * map.scale + map.shift) * static_cast<float>(rows);
    const float last = (0.5f + 0.5f * map.scale + map.shift) * static_cast<float>(rows);
    float within = 0, all = 0;
    for (int r = 0; r < rows; ++r) {
        const float ink = seen.row(r)[0].real() * seen.weight[static_cast<std::size_t>(r)];
        const float top = static_cast<float>(r);
        within += ink * std::clamp(std::min(top + 1, last) - std::max(top, first), 0.0f, 1.0f);
        all += ink;
    }
    out.kept = all > 0 ? within / all : 1;
    measure(out);
    return out;
}

Fit fit(const Waves& drawing, const Waves& seen) {
    Product product;
    multiply(drawing, seen, product);
    const Norms scale = norms(drawing, seen);
    // Both correlations grow with the ripple alone, so one search serves them.
    const int columns = drawing.grid.columns;
    const auto best = std::max_element(product.ripple.begin(), product.ripple.begin() + columns);
    const int at = static_cast<int>(best - product.ripple.begin());
    const auto value = [&](int x) { return product.ripple[static_cast<std::size_t>((x + columns) % columns)]; };
    const float before = value(at - 1), peak = *best, after = value(at + 1), bend = before - 2 * peak + after;
    const float part = bend < -1e-12f ? std::clamp(0.5f * (before - after) / bend, -0.5f, 0.5f) : 0.0f;
    Fit out;
    out.all = (product.level + peak - drawing.mean * seen.mean) * scale.all;
    out.pattern = peak * scale.pattern;
    out.turn = (static_cast<float>(at) + part) / static_cast<float>(columns);
    return out;
}

float worth(const Waves& drawing, const Waves& seen, const Fit& found) {
    const float share =
        drawing.spread > 0 ? drawing.pattern * drawing.pattern / (drawing.spread * drawing.spread) : 0;
    const float weight = 0.6f * std::min(1.0f, share / 0.15f);
    // Ink beyond the drawing's sides is more than wear explains, but a line beside the border may be just that.
    return ((1 - weight) * found.all + weight * found.pattern) * (0.5f + 0.5f * seen.kept);
}

std::vector<float> patterns(const Waves& drawing, const Waves& seen) {
    Product product;
    multiply(drawing, seen, product);
    const float scale = norms(drawing, seen).pattern;
    std::vector<float> out(static_cast<std::size_t>(drawing.grid.columns));
    for (std::size_t x = 0; x < out.size(); ++x) out[x] = product.ripple[x] * scale;
    return out;
}

}  // namespace footring::photo

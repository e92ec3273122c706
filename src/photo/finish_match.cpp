// SPDX-License-Identifier: Apache-2.0
#include "photo/finish_match.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "base/text.h"
#include "book/colour.h"

namespace footring::photo {

namespace {
enum class Metal { kNone, kWarm, kCool };
struct Named {
    Metal metal = Metal::kNone;
    bool mixed = false;
    Lab lab{};
};
Named named(const std::string& finish) {
    const book::Ink ink = book::ink_of(finish);
    Named out{Metal::kNone, ink.mixed, book::lab_of_rgb(book::rgb_of_hex(ink.base))};
    if (ink.metal) out.metal = std::hypot(out.lab[1], out.lab[2]) > 15 ? Metal::kWarm : Metal::kCool;
    return out;
}

// Lightness counts half: it changes with the light.
double colours_apart(const Lab& a, const Lab& b) {
    return std::hypot(0.5 * (a[0] - b[0]), a[1] - b[1], a[2] - b[2]);
}

double by_name(const std::string& seen, const std::string& drawing) {
    if (lower(trim(seen)) == lower(trim(drawing))) return 0;
    const Named a = named(seen), b = named(drawing);
    if (a.metal != Metal::kNone && b.metal != Metal::kNone) {
        if (a.metal != b.metal) return -2.5;
        return -0.3;  // silver and platinum differ by tarnish alone
    }
    if (a.mixed || b.mixed) return -0.4;
    const double far = colours_apart(a.lab, b.lab);
    const double base = a.metal != b.metal ? -1.0 : 0;  // brown for gold and grey for silver are easily said
    return base - std::clamp((far - 12) / 18, 0.0, 3.0);
}
}  // namespace

Colours colours_of(const std::string& finish, const cv::Mat& ink, const cv::Mat& bgr) {
    Colours out;
    out.finish = finish;
    if (ink.empty() || bgr.size() != ink.size()) return out;
    // Colours of full ink, in cells of 32 levels a side.
    struct Cell {
        double weight = 0;
        cv::Vec3d sum;
    };
    std::vector<Cell> cells(512);
    Cell all;
    double peak = 0;
    cv::minMaxLoc(ink, nullptr, &peak);
    for (int y = 0; y < ink.rows; ++y)
        for (int x = 0; x < ink.cols; ++x) {
            const double weight = ink.at<float>(y, x);
            if (weight < 0.6 * peak) continue;
            const cv::Vec3b p = bgr.at<cv::Vec3b>(y, x);
            Cell& cell = cells[static_cast<std::size_t>((p[0] >> 5) << 6 | (p[1] >> 5) << 3 | (p[2] >> 5))];
            for (Cell* c : {&cell, &all}) c->weight += weight, c->sum += weight * cv::Vec3d(p);
        }
    if (all.weight <= 0) return out;
    const auto lab = [](const Cell& c) {
        const cv::Vec3d p = c.sum / (c.weight * 255);
        return book::lab_of_rgb({p[2], p[1], p[0]});
    };
    out.mean = lab(all);
    std::ranges::stable_sort(cells, std::ranges::greater{}, &Cell::weight);
    for (const Cell& cell : cells)
        if (out.main.size() < 4 && cell.weight > 0.08 * all.weight) out.main.push_back(lab(cell));
    return out;
}

std::vector<std::optional<Lab>> row_colours(const cv::Mat& ink, const cv::Mat& bgr, std::size_t count) {
    std::vector<std::optional<Lab>> out(count);
    if (ink.empty() || bgr.size() != ink.size()) return out;
    double peak = 0;
    cv::minMaxLoc(ink, nullptr, &peak);
    for (std::size_t i = 0; i < count; ++i) {
        const auto row = [&](std::size_t k) {
            return static_cast<int>(k * static_cast<std::size_t>(ink.rows) / count);
        };
        double weight = 0;
        cv::Vec3d sum;
        for (int y = row(i); y < std::max(row(i) + 1, row(i + 1)); ++y)
            for (int x = 0; x < ink.cols; ++x) {
                const double w = ink.at<float>(y, x);
                if (w < 0.4 * peak) continue;
                weight += w, sum += w * cv::Vec3d(bgr.at<cv::Vec3b>(y, x));
            }
        if (weight < 0.15 * peak * ink.cols) continue;
        const cv::Vec3d p = sum / (weight * 255);
        out[i] = book::lab_of_rgb({p[2], p[1], p[0]});
    }
    return out;
}

double agreement(const std::vector<std::optional<Lab>>& seen, const std::vector<std::optional<Lab>>& drawing) {
    double sum = 0;
    int both = 0;
    for (std::size_t i = 0; i < std::min(seen.size(), drawing.size()); ++i) {
        if (!seen[i] || !drawing[i]) continue;
        // A stripe may lie a row beside where it was drawn.
        double least = 1e9;
        for (const std::size_t k : {i, i + 1, i - 1})
            if (k < drawing.size() && drawing[k]) least = std::min(least, colours_apart(*seen[i], *drawing[k]));
        sum += std::clamp((least - 8) / 20, 0.0, 1.0);
        ++both;
    }
    // One stripe in eight of another colour is much, where nothing else tells two bands apart.
    return both == 0 ? 0 : -std::min(6.0, 12 * sum / both);
}

double agreement(const Colours& seen, const Colours& drawing) {
    if (seen.finish.empty() && !seen.mean) return 0;
    const Named is = named(drawing.finish);
    double word = seen.finish.empty() ? -3 : by_name(seen.finish, drawing.finish);
    if (is.metal != Metal::kNone) return seen.finish.empty() ? 0 : word;
    // Of a drawing in colours any of its main ones may have given the name.
    if (!seen.finish.empty())
        for (const Lab& colour : drawing.main)
            word = std::max(word,
                            -0.3 - std::clamp((colours_apart(named(seen.finish).lab, colour) - 12) / 18, 0.0, 3.0));
    if (seen.mean && drawing.mean)
        word = std::max(word, -std::clamp((colours_apart(*seen.mean, *drawing.mean) - 10) / 12, 0.0, 3.0));
    return word;
}

}  // namespace footring::photo

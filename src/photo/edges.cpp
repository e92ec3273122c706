// SPDX-License-Identifier: Apache-2.0
#include "photo/edges.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {

constexpr double kLeastStrength = 0.6;  // L*a*b* for each pixel after smoothing: noise of a good photograph
constexpr double kMostDense = 0.10;     // edgels for each pixel: beyond that texture hides the rest

// Ramer, Douglas and Peucker, on indices of a chain.
void corners_between(const Edges& edges, const std::vector<int>& chain, std::size_t from, std::size_t to,
                     double most, std::vector<std::size_t>& out) {
    const cv::Point2d a = edges.all[static_cast<std::size_t>(chain[from])].at,
                      b = edges.all[static_cast<std::size_t>(chain[to])].at, d = b - a;
    const double length = cv::norm(d);
    double far = 0;
    std::size_t where = from;
    for (std::size_t i = from + 1; i < to; ++i) {
        const cv::Point2d p = cv::Point2d(edges.all[static_cast<std::size_t>(chain[i])].at) - a;
        const double off = length > 1e-6 ? std::abs(d.cross(p)) / length : cv::norm(p);
        if (off > far) far = off, where = i;
    }
    if (far <= most) return;
    corners_between(edges, chain, from, where, most, out);
    out.push_back(where);
    corners_between(edges, chain, where, to, most, out);
}

}  // namespace

Edges find_edges(const cv::Mat& bgr) {
    cv::Mat smooth, lab;
    bgr.convertTo(smooth, CV_32F, 1.0 / 255);
    cv::GaussianBlur(smooth, smooth, {5, 5}, 1.0);
    cv::cvtColor(smooth, lab, cv::COLOR_BGR2Lab);
    Edges out;
    const int rows = lab.rows, cols = lab.cols;
    cv::Mat_<cv::Vec2f> gradient(rows, cols, cv::Vec2f(0, 0));
    cv::Mat_<float> strength(rows, cols, 0.f);
    for (int y = 1; y + 1 < rows; ++y) {
        const auto *up = lab.ptr<cv::Vec3f>(y - 1), *row = lab.ptr<cv::Vec3f>(y), *low = lab.ptr<cv::Vec3f>(y + 1);
        for (int x = 1; x + 1 < cols; ++x) {
            float best = 0;
            cv::Vec2f steepest(0, 0);
            for (int c = 0; c < 3; ++c) {
                // Scharr's weights: the direction is right to a degree.
                const float dx = (3 * (up[x + 1][c] - up[x - 1][c]) + 10 * (row[x + 1][c] - row[x - 1][c]) +
                                  3 * (low[x + 1][c] - low[x - 1][c])) /
                                 32;
                const float dy = (3 * (low[x - 1][c] - up[x - 1][c]) + 10 * (low[x][c] - up[x][c]) +
                                  3 * (low[x + 1][c] - up[x + 1][c])) /
                                 32;
                const float square = dx * dx + dy * dy;
                if (square > best) best = square, steepest = {dx, dy};
            }
            gradient(y, x) = steepest;
            strength(y, x) = std::sqrt(best);
        }
    }
    out.index = cv::Mat_<int>(rows, cols, -1);
    std::vector<Edgel> thin;
    for (int y = 2; y + 2 < rows; ++y)
        for (int x = 2; x + 2 < cols; ++x) {
            const float m = strength(y, x);
            if (m < kLeastStrength) continue;
            const cv::Vec2f g = gradient(y, x) / m;
            const auto at = [&](float step) {
                const float fx = static_cast<float>(x) + step * g[0], fy = static_cast<float>(y) + step * g[1];
                const int ix = static_cast<int>(fx), iy = static_cast<int>(fy);
                const float ux = fx - static_cast<float>(ix), uy = fy - static_cast<float>(iy);
                const float a = strength(iy, ix) + ux * (strength(iy, ix + 1) - strength(iy, ix));
                const float b = strength(iy + 1, ix) + ux * (strength(iy + 1, ix + 1) - strength(iy + 1, ix));
                return a + uy * (b - a);
            };
            const float before = at(-1), after = at(1);
            if (m < before || m <= after) continue;
            const float bend = before - 2 * m + after;
            const float sub = bend < 0 ? std::clamp(0.5f * (before - after) / bend, -0.6f, 0.6f) : 0.f;
            thin.push_back(
                {{static_cast<float>(x) + sub * g[0], static_cast<float>(y) + sub * g[1]}, {g[0], g[1]}, m});
            out.index(y, x) = static_cast<int>(thin.size()) - 1;
        }
    // In busy pictures the weakest go.
    const auto most = static_cast<std::size_t>(kMostDense * rows * cols);
    if (thin.size() > most) {
        std::vector<float> sorted;
        for (const auto& e : thin) sorted.push_back(e.strength);
        std::nth_element(sorted.begin(), sorted.end() - static_cast<std::ptrdiff_t>(most), sorted.end());
        const float least = sorted[sorted.size() - most];
        std::vector<Edgel> kept;
        for (int y = 0; y < rows; ++y)
            for (int x = 0; x < cols; ++x) {
                const int i = out.index(y, x);
                if (i < 0) continue;
                if (thin[static_cast<std::size_t>(i)].strength < least) out.index(y, x) = -1;
                else {
                    kept.push_back(thin[static_cast<std::size_t>(i)]);
                    out.index(y, x) = static_cast<int>(kept.size()) - 1;
                }
            }
        thin = std::move(kept);
    }
    out.all = std::move(thin);
    out.density = static_cast<double>(out.all.size()) / (rows * cols);

    // Chains: from each unvisited edgel both ways along the edge, to the neighbour whose direction agrees best.
    std::vector<char> taken(out.all.size(), 0);
    const auto next_of = [&](int from, double way) {
        const Edgel& e = out.all[static_cast<std::size_t>(from)];
        const cv::Point2f along(static_cast<float>(-e.uphill.y * way), static_cast<float>(e.uphill.x * way));
        const int x0 = cvRound(e.at.x), y0 = cvRound(e.at.y);
        int best = -1;
        float best_score = 0.6f;
        for (int dy = -2; dy <= 2; ++dy)
            for (int dx = -2; dx <= 2; ++dx) {
                const int x = x0 + dx, y = y0 + dy;
                if (x < 0 || y < 0 || x >= cols || y >= rows) continue;
                const int i = out.index(y, x);
                if (i < 0 || taken[static_cast<std::size_t>(i)]) continue;
                const Edgel& o = out.all[static_cast<std::size_t>(i)];
                const cv::Point2f d = o.at - e.at;
                const float length = std::hypot(d.x, d.y);
                if (length < 0.3f || length > 2.3f) continue;
                const float ahead = d.dot(along) / length, agree = o.uphill.dot(e.uphill);
                if (ahead < 0.7f || agree < 0.8f) continue;
                const float score = ahead * agree * (length < 1.6f ? 1.f : 0.8f);
                if (score > best_score) best_score = score, best = i;
            }
        return best;
    };
    for (std::size_t seed = 0; seed < out.all.size(); ++seed) {
        if (taken[seed]) continue;
        taken[seed] = 1;
        std::vector<int> forward{static_cast<int>(seed)}, backward;
        for (int i = next_of(forward.back(), 1); i >= 0; i = next_of(forward.back(), 1)) {
            taken[static_cast<std::size_t>(i)] = 1;
            forward.push_back(i);
        }
        int end = static_cast<int>(seed);
        for (int i = next_of(end, -1); i >= 0; i = next_of(end, -1)) {
            taken[static_cast<std::size_t>(i)] = 1;
            backward.push_back(i);
            end = i;
        }
        if (forward.size() + backward.size() < 12) continue;
        std::vector<int> chain(backward.rbegin(), backward.rend());
        chain.insert(chain.end(), forward.begin(), forward.end());
        out.chains.push_back(std::move(chain));
    }
    return out;
}

std::vector<Arc> find_arcs(const Edges& edges) {
    constexpr double kFlat = 0.75;       // px that an edge may stray from a straight piece
    constexpr double kCorner = 0.75;     // radians: a sharper bend is a corner
    constexpr double kLeastTurn = 0.12;  // radians: what turns less says nothing of where its middle is
    std::vector<Arc> out;
    for (const auto& chain : edges.chains) {
        std::vector<std::size_t> corners{0};
        corners_between(edges, chain, 0, chain.size() - 1, kFlat, corners);
        corners.push_back(chain.size() - 1);
        const auto at = [&](std::size_t k) {
            return cv::Point2d(edges.all[static_cast<std::size_t>(chain[corners[k]])].at);
        };
        const auto emit = [&](std::size_t from, std::size_t to) {  // corners
            if (to < from + 2) return;
            Arc arc;
            for (std::size_t i = corners[from]; i <= corners[to]; ++i) arc.edgels.push_back(chain[i]);
            if (arc.edgels.size() < 12) return;
            for (std::size_t k = from; k < to; ++k) arc.length += cv::norm(at(k + 1) - at(k));
            double bent = 0;
            for (std::size_t k = from + 1; k < to; ++k) {
                const cv::Point2d u = at(k) - at(k - 1), v = at(k + 1) - at(k);
                bent += std::atan2(u.cross(v), u.dot(v));
            }
            arc.turn = std::abs(bent) * static_cast<double>(to - from) / static_cast<double>(to - from - 1);
            if (arc.turn < kLeastTurn) return;
            arc.first = at(from);
            arc.last = at(to);
            arc.middle = edges.all[static_cast<std::size_t>(arc.edgels[arc.edgels.size() / 2])].at;
            // Across the direction in the middle, to the side to which it bends.
            const std::size_t half = arc.edgels.size() / 2, reach = std::min<std::size_t>(5, half);
            const cv::Point2d d =
                cv::Point2d(
                    edges.all[static_cast<std::size_t>(arc.edgels[std::min(arc.edgels.size() - 1, half + reach)])]
                        .at) -
                cv::Point2d(edges.all[static_cast<std::size_t>(arc.edgels[half - reach])].at);
            const double n = cv::norm(d);
            if (n < 1e-6) return;
            arc.hollow = cv::Point2d(-d.y, d.x) * ((bent > 0 ? 1 : -1) / n);
            out.push_back(std::move(arc));
        };
        std::size_t start = 0;
        double side = 0;
        for (std::size_t k = 1; k + 1 < corners.size(); ++k) {
            const cv::Point2d u = at(k) - at(k - 1), v = at(k + 1) - at(k);
            const double bend = std::atan2(u.cross(v), u.dot(v));
            const double longer = std::max(cv::norm(u), cv::norm(v)), shorter = std::min(cv::norm(u), cv::norm(v));
            const bool corner = std::abs(bend) > kCorner || (longer > 40 && longer > 8 * shorter);
            if (corner) {
                emit(start, k);
                start = k, side = 0;
            } else if (side != 0 && bend * side < 0) {
                emit(start, k);
                start = k - 1, side = bend;  // the straight piece may belong to both
            } else {
                side = side == 0 ? bend : side;
            }
        }
        emit(start, corners.size() - 1);
    }
    std::sort(out.begin(), out.end(), [](const Arc& a, const Arc& b) { return a.length > b.length; });
    return out;
}

}  // namespace footring::photo

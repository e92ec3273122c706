// SPDX-License-Identifier: Apache-2.0
#include "photo/radial.h"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "photo/sampling.h"

namespace footring::photo {

EdgesAlong edges_along(const cv::Mat& bgr, const Normals& normals, const RadialOptions& options) {
    EdgesAlong out;
    const auto places = static_cast<int>(normals.feet.size());
    out.visible.assign(normals.feet.size(), 0);
    out.edges.resize(normals.feet.size());
    const int from = -static_cast<int>(std::ceil(options.inwards / options.step)),
              to = static_cast<int>(std::ceil(options.outwards / options.step));
    const int half = std::max(1, static_cast<int>(std::ceil(2.5 * options.smooth / options.step)));
    // Derivative of a Gaussian, scaled so that a sharp step gives its own height at its place.
    std::vector<float> kernel;
    float kernel_sum = 0;
    for (int k = 1; k <= half; ++k) {
        const double x = k * options.step / options.smooth;
        kernel.push_back(static_cast<float>(x * std::exp(-x * x / 2)));
        kernel_sum += kernel.back();
    }
    for (float& k : kernel) k /= kernel_sum;
    const int wide = std::max(half, static_cast<int>(std::lround(4 * options.smooth / options.step)));
    const int count = to - from + 1, length = count + 2 * wide;
    // Along each normal: B, G, R and how many samples they are the sum of.
    cv::Mat_<cv::Vec4f> sampled(places, length);
    for (int i = 0; i < places; ++i) {
        const cv::Point2d foot = normals.feet[static_cast<std::size_t>(i)],
                          normal = normals.outwards[static_cast<std::size_t>(i)],
                          beside = cv::Point2d(-normal.y, normal.x) * options.beside_step;
        out.visible[static_cast<std::size_t>(i)] = within(bgr, foot);
        cv::Vec4f* row = sampled[i];
        for (int k = 0; k < length; ++k) {
            const cv::Point2d p = foot + normal * ((from - wide + k) * options.step);
            cv::Vec4f here(0, 0, 0, 0);
            for (int b = -options.beside; b <= options.beside; ++b) {
                const cv::Point2d q = p + beside * b;
                if (!within(bgr, q)) continue;
                const cv::Vec3f c = colour_at(bgr, q);
                here += cv::Vec4f(c[0], c[1], c[2], 1);
            }
            row[k] = here;
        }
    }
    std::vector<cv::Vec3f> profile(static_cast<std::size_t>(length)), slope(static_cast<std::size_t>(count));
    std::vector<float> size(slope.size());
    std::vector<cv::Vec4f> sum(profile.size(), cv::Vec4f(0, 0, 0, 0));
    const auto add = [&](int place, float sign) {
        if (!normals.closed && (place < 0 || place >= places)) return;
        const cv::Vec4f* row = sampled[(place + places) % places];
        for (std::size_t k = 0; k < sum.size(); ++k) sum[k] += row[k] * sign;
    };
    for (int i = -options.calm; i < options.calm; ++i) add(i, 1);
    for (int i = 0; i < places; ++i) {
        add(i + options.calm, 1);
        if (i > 0) add(i - options.calm - 1, -1);
        const auto seen = [&](int k) { return sum[static_cast<std::size_t>(k)][3] > 0.5f; };
        for (std::size_t k = 0; k < profile.size(); ++k)
            profile[k] = cv::Vec3f(sum[k][0], sum[k][1], sum[k][2]) * (1 / std::max(1.f, sum[k][3]));
        for (int k = 0; k < count; ++k) {
            const int c = k + wide;
            cv::Vec3f d(0, 0, 0);
            for (int j = 1; j <= half; ++j)
                d += kernel[static_cast<std::size_t>(j - 1)] *
                     (profile[static_cast<std::size_t>(c + j)] - profile[static_cast<std::size_t>(c - j)]);
            const bool whole = seen(c - half) && seen(c + half);
            slope[static_cast<std::size_t>(k)] = d;
            size[static_cast<std::size_t>(k)] = whole ? static_cast<float>(cv::norm(d)) * 0.577f : 0.f;
        }
        for (int k = 1; k + 1 < count; ++k) {
            const float m = size[static_cast<std::size_t>(k)], l = size[static_cast<std::size_t>(k - 1)],
                        r = size[static_cast<std::size_t>(k + 1)];
            if (m < static_cast<float>(options.least) || m < l || m <= r) continue;
            const float bend = l - 2 * m + r;
            const double sub = bend < 0 ? std::clamp(0.5 * static_cast<double>((l - r) / bend), -0.5, 0.5) : 0;
            const cv::Vec3f all =
                profile[static_cast<std::size_t>(k + 2 * wide)] - profile[static_cast<std::size_t>(k)];
            const float change = seen(k) && seen(k + 2 * wide) ? static_cast<float>(cv::norm(all)) * 0.577f : 0.f;
            out.edges[static_cast<std::size_t>(i)].push_back({(from + k + sub) * options.step, m,
                                                              slope[static_cast<std::size_t>(k)],
                                                              std::min(1.f, m / std::max(change, 1e-3f))});
        }
    }
    return out;
}

Radial radial_edges(const cv::Mat& bgr, const Hoop& hoop, const RadialOptions& options) {
    Radial out;
    out.hoop = hoop;
    out.outwards = options.outwards;
    Normals normals;
    normals.closed = true;
    for (int i = 0; i < options.places; ++i) {
        const double f = 2 * std::numbers::pi * i / options.places;
        out.f.push_back(f);
        normals.feet.push_back(hoop.at(f));
        normals.outwards.push_back(hoop.outwards(f));
    }
    EdgesAlong along = edges_along(bgr, normals, options);
    out.visible = std::move(along.visible);
    out.edges = std::move(along.edges);
    return out;
}

double offset_of(const Hoop& hoop, const Change& change, double f) {
    const auto basis = change_basis(f);
    double sum = 0;
    for (std::size_t i = 0; i < 5; ++i) sum += change[i] * basis[i];
    const cv::Vec2d w = hoop.shape.inv().t() * cv::Vec2d(std::cos(f), std::sin(f));
    return sum / cv::norm(w);
}

double strength_by_chance(const Radial& radial, double from, double reach, double share) {
    std::vector<float> strengths;
    std::size_t places = 0;
    for (std::size_t i = 0; i < radial.f.size(); ++i) {
        if (!radial.visible[i]) continue;
        ++places;
        for (const auto& edge : radial.edges[i])
            if (edge.offset > from) strengths.push_back(edge.strength);
    }
    const double most = share * static_cast<double>(places) * (radial.outwards - from) / reach;
    if (static_cast<double>(strengths.size()) <= most) return 0;
    const auto at = strengths.end() - static_cast<std::ptrdiff_t>(std::max(1.0, most));
    std::nth_element(strengths.begin(), at, strengths.end());
    return static_cast<double>(*at);
}

std::optional<Track> track(const Radial& radial, const Change& start, double wide, double narrow, int rounds,
                           double outer_from) {
    const std::size_t n = radial.f.size();
    // px of offset for each unit of change
    std::vector<std::array<double, 5>> rows(n);
    const cv::Matx22d normal_from_unit = radial.hoop.shape.inv().t();
    for (std::size_t i = 0; i < n; ++i) {
        rows[i] = change_basis(radial.f[i]);
        const double px = 1 / cv::norm(normal_from_unit * cv::Vec2d(std::cos(radial.f[i]), std::sin(radial.f[i])));
        for (double& r : rows[i]) r *= px;
    }
    Track out;
    out.change = start;
    out.edge_of.assign(n, -1);
    const auto offset = [&](std::size_t i) {
        double sum = 0;
        for (std::size_t k = 0; k < 5; ++k) sum += out.change[k] * rows[i][k];
        return sum;
    };
    std::vector<double> rests;
    for (int round = 0; round < rounds; ++round) {
        const double reach =
            rounds > 1 ? wide * std::pow(narrow / wide, static_cast<double>(round) / (rounds - 1)) : narrow;
        cv::Matx<double, 5, 5> normal = cv::Matx<double, 5, 5>::zeros();
        cv::Vec<double, 5> right(0, 0, 0, 0, 0);
        int used = 0;
        for (std::size_t i = 0; i < n; ++i) {
            out.edge_of[i] = -1;
            if (!radial.visible[i]) continue;
            const double at = offset(i);
            double least = reach;
            const bool outermost = outer_from > 0 && round + 2 < rounds;
            for (std::size_t e = 0; e < radial.edges[i].size(); ++e) {
                const double off = std::abs(radial.edges[i][e].offset - at);
                if (outermost && off < reach && static_cast<double>(radial.edges[i][e].strength) >= outer_from)
                    out.edge_of[i] = static_cast<int>(e);  // they are sorted, inside first
                else if (!outermost && off < least) least = off, out.edge_of[i] = static_cast<int>(e);
            }
            if (out.edge_of[i] < 0) continue;
            ++used;
            const auto& edge = radial.edges[i][static_cast<std::size_t>(out.edge_of[i])];
            const double u = (edge.offset - at) / reach, w = (1 - u * u) * (1 - u * u);
            for (int r = 0; r < 5; ++r) {
                const double br = w * rows[i][static_cast<std::size_t>(r)];
                right[r] += br * (edge.offset - at);
                for (int c = r; c < 5; ++c) normal(r, c) += br * rows[i][static_cast<std::size_t>(c)];
            }
        }
        if (used < std::max(10, static_cast<int>(n) / 12)) return std::nullopt;
        for (int r = 0; r < 5; ++r)
            for (int c = 0; c < r; ++c) normal(r, c) = normal(c, r);
        // Where little of the rim is seen the shape stays what it was.
        for (int r = 0; r < 5; ++r) normal(r, r) += 1e-3 * normal(0, 0) / 100;
        bool regular = false;
        const cv::Matx<double, 5, 5> inverse = normal.inv(cv::DECOMP_CHOLESKY, &regular);
        if (!regular) return std::nullopt;
        const cv::Vec<double, 5> step = inverse * right;
        for (int k = 0; k < 5; ++k) out.change[static_cast<std::size_t>(k)] += step[k];
        out.covariance = inverse;
    }
    int visible = 0, hits = 0;
    double agree = 0, all = 0;
    std::vector<double> strengths, crisps;
    rests.clear();
    int before = -1;
    for (std::size_t i = 0; i < n; ++i) {
        visible += radial.visible[i];
        out.edge_of[i] = -1;
        if (!radial.visible[i]) continue;
        const double at = offset(i);
        double least = narrow;
        for (std::size_t e = 0; e < radial.edges[i].size(); ++e) {
            const double off = std::abs(radial.edges[i][e].offset - at);
            if (off < least) least = off, out.edge_of[i] = static_cast<int>(e);
        }
        if (out.edge_of[i] < 0) continue;
        ++hits;
        const auto& edge = radial.edges[i][static_cast<std::size_t>(out.edge_of[i])];
        rests.push_back(std::abs(edge.offset - at));
        strengths.push_back(edge.strength);
        crisps.push_back(edge.crisp);
        if (before >= 0 && i - static_cast<std::size_t>(before) <= 2) {
            const auto& other =
                radial.edges[static_cast<std::size_t>(before)]
                            [static_cast<std::size_t>(out.edge_of[static_cast<std::size_t>(before)])];
            const double product = cv::norm(edge.change) * cv::norm(other.change);
            all += product;
            agree += std::max(0.0, static_cast<double>(edge.change.dot(other.change)));
        }
        before = static_cast<int>(i);
    }
    if (hits < 10) return std::nullopt;
    const auto median = [](std::vector<double>& v) {
        std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
        return v[v.size() / 2];
    };
    out.visible = static_cast<double>(visible) / static_cast<double>(n);
    out.support = static_cast<double>(hits) / visible;
    out.strength = median(strengths);
    out.crisp = median(crisps);
    out.agreement = all > 0 ? agree / all : 0;
    out.sigma = 1.4826 * median(rests);
    out.covariance = out.covariance * std::pow(std::max(out.sigma, 0.03), 2);
    return out;
}

}  // namespace footring::photo

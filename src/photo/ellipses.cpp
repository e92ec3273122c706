// SPDX-License-Identifier: Apache-2.0
#include "photo/ellipses.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace footring::photo {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr std::size_t kMostArcs = 110;
constexpr double kParallel = 0.9;  // cosine between an edge's direction and the hoop's normal
constexpr double kFlattest = 0.3;  // short / long axis: steeper views show more underside than rim
constexpr double kLeastSupport = 0.25;

bool sane(const Hoop& hoop, cv::Size size) {
    const Axes axes = axes_of(hoop);
    const double longest = std::max(size.width, size.height);
    return axes.b > kFlattest * axes.a && axes.a > 0.03 * longest && axes.a < 1.2 * longest &&
           hoop.centre.x > -0.3 * size.width && hoop.centre.x < 1.3 * size.width &&
           hoop.centre.y > -0.3 * size.height && hoop.centre.y < 1.3 * size.height;
}

// Whether all of `b` lies on the side to which `a` is hollow.
bool faces(const Arc& a, const Arc& b) {
    constexpr double kSlack = -2;
    for (const auto& p : {b.first, b.middle, b.last})
        if ((p - a.middle).dot(a.hollow) < kSlack) return false;
    return true;
}

class Collector {
  public:
    explicit Collector(const Edges& edges) : edges_(edges), size_(edges.index.cols, edges.index.rows) {}

    void propose(const Hoop& hoop) {
        if (!sane(hoop, size_)) return;
        const double share = rough_support(hoop);
        if (share >= kLeastSupport) proposed_.push_back({hoop, share, 1, 0});
    }
    // Each proposal once, drawn to the edges near it, best first.
    std::vector<HoopFound> result() {
        std::vector<HoopFound> rough, out;
        sort(proposed_);
        for (const auto& p : proposed_) {
            if (rough.size() == kMostHoops) break;
            if (std::none_of(rough.begin(), rough.end(), [&](const auto& o) {
                    return near(o.hoop, p.hoop, 3 + 0.008 * cv::norm(p.hoop.shape));
                }))
                rough.push_back(p);
        }
        for (const auto& p : rough) {
            const auto fine = drawn_to_edges(p.hoop);
            if (!fine || fine->weight() < kLeastSupport) continue;
            const auto same =
                std::find_if(out.begin(), out.end(), [&](const auto& o) { return near(o.hoop, fine->hoop, 1.5); });
            if (same == out.end()) out.push_back(*fine);
            else if (fine->weight() > same->weight()) *same = *fine;
        }
        sort(out);
        return out;
    }

  private:
    static void sort(std::vector<HoopFound>& hoops) {
        std::stable_sort(hoops.begin(), hoops.end(), [](const HoopFound& a, const HoopFound& b) {
            return a.weight() * std::sqrt(axes_of(a.hoop).a) > b.weight() * std::sqrt(axes_of(b.hoop).a);
        });
    }
    static bool near(const Hoop& a, const Hoop& b, double px) {
        return cv::norm(a.centre - b.centre) < 4 * px && apart(a, b) < px + 0.004 * cv::norm(a.shape);
    }
    std::optional<HoopFound> drawn_to_edges(const Hoop& start) const {
        Along now = along(edges_, start, 4);
        for (const double reach : {4.0, 2.5}) {
            if (now.points.size() < 12 || now.found.weight() < kLeastSupport / 2) return std::nullopt;
            const auto fit = robust_fit(now.found.hoop, now.points, {}, reach);
            if (!fit || !sane(fit->hoop, size_)) return std::nullopt;
            now = along(edges_, fit->hoop, reach - 1);
        }
        return now.found;
    }
    // Share of a few places of the hoop that have an edge along it near by.
    double rough_support(const Hoop& hoop) const {
        constexpr int kPlaces = 48, kReach = 4;
        const cv::Matx22d normal_from_unit = hoop.shape.inv().t();
        int inside = 0, hits = 0;
        for (int i = 0; i < kPlaces; ++i) {
            const double f = 2 * kPi * i / kPlaces;
            const cv::Point2d p = hoop.at(f);
            if (p.x < 6 || p.y < 6 || p.x > size_.width - 7 || p.y > size_.height - 7) continue;
            ++inside;
            const cv::Vec2d w = normal_from_unit * cv::Vec2d(std::cos(f), std::sin(f));
            const cv::Point2d normal = cv::Point2d(w[0], w[1]) * (1 / cv::norm(w));
            for (int k = -kReach; k <= kReach; ++k) {
                const int e = edges_.index(cvRound(p.y + k * normal.y), cvRound(p.x + k * normal.x));
                if (e < 0) continue;
                const auto& up = edges_.all[static_cast<std::size_t>(e)].uphill;
                if (std::abs(up.x * normal.x + up.y * normal.y) < kParallel) continue;
                ++hits;
                break;
            }
        }
        return inside > 0 ? static_cast<double>(hits) / inside : 0;
    }

    const Edges& edges_;
    cv::Size size_;
    std::vector<HoopFound> proposed_;
};

double mean_distance(const Edges& edges, const Arc& arc, const Hoop& hoop) {
    double sum = 0;
    int n = 0;
    for (std::size_t i = 0; i < arc.edgels.size(); i += 4, ++n)
        sum += std::abs(distance_from(hoop, edges.all[static_cast<std::size_t>(arc.edgels[i])].at));
    return sum / n;
}

}  // namespace

double apart(const Hoop& a, const Hoop& b) {
    double most = 0;
    for (int i = 0; i < 12; ++i) most = std::max(most, std::abs(distance_from(a, b.at(i * kPi / 6))));
    return most;
}

Along along(const Edges& edges, const Hoop& hoop, double reach) {
    Along out;
    out.found.hoop = hoop;
    const int n = std::clamp(static_cast<int>(perimeter(axes_of(hoop)) / 2), 48, 480);
    const cv::Matx22d normal_from_unit = hoop.shape.inv().t();
    const int steps = static_cast<int>(std::ceil(reach));
    int inside = 0;
    for (int i = 0; i < n; ++i) {
        const double f = 2 * kPi * i / n, c = std::cos(f), s = std::sin(f);
        const cv::Vec2d v = hoop.shape * cv::Vec2d(c, s), w = normal_from_unit * cv::Vec2d(c, s);
        const cv::Point2d p = hoop.centre + cv::Point2d(v[0], v[1]),
                          normal = cv::Point2d(w[0], w[1]) * (1 / cv::norm(w));
        if (p.x < 2 || p.y < 2 || p.x > edges.index.cols - 3 || p.y > edges.index.rows - 3) continue;
        ++inside;
        double least = reach + 0.5;
        int nearest = -1;
        for (int k = -steps; k <= steps; ++k) {
            const int x = cvRound(p.x + k * normal.x), y = cvRound(p.y + k * normal.y);
            if (x < 0 || y < 0 || x >= edges.index.cols || y >= edges.index.rows) continue;
            const int e = edges.index(y, x);
            if (e < 0) continue;
            const Edgel& edgel = edges.all[static_cast<std::size_t>(e)];
            if (std::abs(edgel.uphill.x * normal.x + edgel.uphill.y * normal.y) < kParallel) continue;
            const double off = std::abs((cv::Point2d(edgel.at) - p).dot(normal));
            if (off < least) least = off, nearest = e;
        }
        if (nearest >= 0) out.points.push_back(edges.all[static_cast<std::size_t>(nearest)].at);
    }
    out.found.visible = static_cast<double>(inside) / n;
    out.found.support = inside > 0 ? static_cast<double>(out.points.size()) / inside : 0;
    out.found.accident = edges.density * (2 * reach + 1) * 2 * std::acos(kParallel) / kPi;
    return out;
}

std::vector<HoopFound> find_hoops(const Edges& edges) {
    std::vector<Arc> arcs = find_arcs(edges);
    if (arcs.size() > kMostArcs) arcs.resize(kMostArcs);
    const cv::Point2d middle(edges.index.cols / 2.0, edges.index.rows / 2.0);
    const double unit = std::max(edges.index.cols, edges.index.rows) / 2.0;
    std::vector<Scatter> scatters;
    for (const auto& arc : arcs) {
        Scatter s(middle, unit);
        for (const int e : arc.edgels) s.add(edges.all[static_cast<std::size_t>(e)].at);
        scatters.push_back(s);
    }
    Collector collector(edges);
    for (std::size_t i = 0; i < arcs.size(); ++i)
        if (arcs[i].turn > 0.9)
            if (const auto hoop = scatters[i].fit(); hoop && mean_distance(edges, arcs[i], *hoop) < 1.5)
                collector.propose(*hoop);
    for (std::size_t i = 0; i < arcs.size(); ++i)
        for (std::size_t j = i + 1; j < arcs.size(); ++j) {
            if (arcs[i].turn + arcs[j].turn < 0.5) continue;
            if (!faces(arcs[i], arcs[j]) || !faces(arcs[j], arcs[i])) continue;
            Scatter both = scatters[i];
            both.add(scatters[j]);
            const auto hoop = both.fit();
            if (!hoop || mean_distance(edges, arcs[i], *hoop) > 1.5 || mean_distance(edges, arcs[j], *hoop) > 1.5)
                continue;
            collector.propose(*hoop);
        }
    return collector.result();
}

}  // namespace footring::photo

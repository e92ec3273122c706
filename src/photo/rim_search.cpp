// SPDX-License-Identifier: Apache-2.0
#include "photo/rim_search.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/radial.h"
#include "photo/reduced.h"
#include "photo/regions.h"
#include "photo/rim_line.h"
#include "photo/ring_surroundings.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr double kPi = std::numbers::pi;
constexpr int kCrudeLongest = kRegionsLongest, kCoarseLongest = 800, kFineLongest = 1600;
constexpr double kLeastSure = 0.5;      // of the rim as far as it is visible, beyond what texture gives by accident
constexpr double kLeastSeen = 0.3;      // share of the whole rim along which an edge was found
constexpr double kLeastOfCut = 0.65;    // the same of what the picture's border cuts
constexpr double kLeastOfRegion = 0.7;  // the same of what is a piece by its colour only
constexpr double kLeastRadius = 0.07;   // of the picture's longer side
constexpr double kLeastAgreement = 0.6;
constexpr double kLeastCrisp = 0.5;  // of that of the surest ring
constexpr double kLeastEven = 0.8, kSureWithoutEven = 0.85;
constexpr double kSmall = 0.125;       // of the longer side: a piece so small must be alone of its kind
constexpr double kBeyond = 0.05;       // of the shorter semi-axis
constexpr double kWidestLine = 0.045;  // of the shorter semi-axis: so far in the plain side of an edge line may lie
constexpr double kThinLip = 5;         // steps: what lies between two hoops so close may be the lip of the rim
constexpr int kFewPieces = 7;          // so many rings are followed closely

struct Levels {
    cv::Mat fine, coarse, crude;
    double fine_scale = 1, coarse_scale = 1, crude_scale = 1;  // of the photograph
};
Levels levels_of(const cv::Mat& bgr) {
    Levels out;
    const double longest = std::max(bgr.cols, bgr.rows);
    out.fine_scale = std::min(1.0, kFineLongest / longest);
    out.fine = reduced(bgr, out.fine_scale);
    out.coarse_scale = std::min(1.0, kCoarseLongest / longest);
    out.coarse = reduced(out.fine, out.coarse_scale / out.fine_scale);
    // Print, weave and grain melt away at this size.
    out.crude_scale = std::min(1.0, kCrudeLongest / longest);
    out.crude = reduced(out.coarse, out.crude_scale / out.coarse_scale);
    return out;
}

std::vector<HoopFound> hoops_in(const Levels& levels) {
    auto out = find_hoops(find_edges(levels.coarse));
    if (levels.crude_scale < 0.5 * levels.coarse_scale) {
        const double up = levels.coarse_scale / levels.crude_scale;
        for (auto found : find_hoops(find_edges(levels.crude))) {
            found.hoop = rescaled(found.hoop, up);
            const double near = 2 * up;
            if (std::none_of(out.begin(), out.end(), [&](const HoopFound& o) {
                    return cv::norm(o.hoop.centre - found.hoop.centre) < 3 * near &&
                           apart(o.hoop, found.hoop) < near && o.weight() > 0.7 * found.weight();
                }))
                out.push_back(found);
        }
    }
    return out;
}

// Round and oval regions of one colour.
std::vector<Hoop> hoops_of_regions(const cv::Mat& crude) {
    constexpr double kMostOff = 0.03;  // of the shorter semi-axis, on average
    std::vector<Hoop> out;
    for (const auto& hull : regions_of_one_colour(crude)) {
        std::vector<cv::Point2d> points;  // along its sides, evenly
        for (std::size_t i = 0; i < hull.size(); ++i) {
            const cv::Point2d a = hull[i], b = hull[(i + 1) % hull.size()];
            const int steps = std::max(1, cvRound(cv::norm(b - a)));
            for (int k = 0; k < steps; ++k) points.push_back(a + (b - a) * (static_cast<double>(k) / steps));
        }
        const auto fit = direct_fit(points);
        if (!fit) continue;
        double off = 0;
        for (const auto& p : points) off += std::abs(distance_from(*fit, p)) / static_cast<double>(points.size());
        if (off < kMostOff * axes_of(*fit).b) out.push_back(*fit);
    }
    return out;
}

// How much a hoop looks like the piece that the photograph was taken of: whole, large, near the middle.
double prominence(const HoopFound& found, cv::Size size) {
    const Axes axes = axes_of(found.hoop);
    const double diagonal = std::hypot(size.width, size.height);
    const double off = cv::norm(found.hoop.centre - cv::Point2d(size.width / 2.0, size.height / 2.0)) / diagonal;
    return (found.support - found.accident) * std::sqrt(found.visible) * std::pow(axes.a / diagonal, 0.7) *
           std::exp(-off * off / (2 * 0.3 * 0.3));
}

bool contains(const Hoop& outer, const Hoop& inner, double slack) {
    for (int i = 0; i < 16; ++i)
        if (distance_from(outer, inner.at(i * kPi / 8)) > slack) return false;
    return true;
}

// Of the same piece: one lies within the other, about the same middle and of like shape.
bool concentric(const Hoop& a, const Hoop& b) {
    const Axes p = axes_of(a), q = axes_of(b);
    const double larger = std::max(p.a, q.a);
    return cv::norm(a.centre - b.centre) < 0.16 * larger && std::abs(p.b / p.a - q.b / q.a) < 0.12;
}

double size_of(const Hoop& hoop) {
    const Axes axes = axes_of(hoop);
    return std::sqrt(axes.a * axes.b);
}

struct Mode {
    Track track;
    Hoop hoop;
    double size = 0;      // root of the product of the semi-axes
    double support = 0;   // share of visible places with an edge at least half as strong as usual along it
    double accident = 0;  // that share for a curve laid at random outside it
    double sure() const { return (support - accident) / std::max(0.2, 1 - accident); }
};

// Texture gives each curve some edges: those outside the curve tell how many.
void weigh(const Radial& radial, double narrow, Mode& mode) {
    const float least = static_cast<float>(0.5 * mode.track.strength);
    int hits = 0, visible = 0, outside = 0;
    double length = 0;
    for (std::size_t i = 0; i < radial.f.size(); ++i) {
        if (!radial.visible[i]) continue;
        ++visible;
        const int e = mode.track.edge_of[i];
        hits += e >= 0 && radial.edges[i][static_cast<std::size_t>(e)].strength >= least;
        const double at = offset_of(radial.hoop, mode.track.change, radial.f[i]) + 3 * narrow;
        if (at >= radial.outwards) continue;
        length += radial.outwards - at;
        for (const auto& edge : radial.edges[i]) outside += edge.offset > at && edge.strength >= least;
    }
    mode.support = visible > 0 ? static_cast<double>(hits) / visible : 0;
    mode.accident = length > 0 ? std::min(0.9, outside * 2 * narrow / length) : 0;
}

struct Modes {
    std::vector<Mode> all;  // largest first
    double step = 1;        // px to which they are known
    Radial radial;          // the edges that speak for them
};
// How closely hoops are looked for.
struct Closely {
    double inwards = 0.13, outwards = 0.12;  // shares of the shorter semi-axis
    bool calm = false;  // neighbouring places averaged, so that a faint lip stands out from cloth and grain
};
// All hoops near `base` that edges round the whole rim speak for.
Modes modes_near(const cv::Mat& image, const Hoop& base, const Closely& how) {
    const Axes axes = axes_of(base);
    RadialOptions options;
    options.inwards = how.inwards * axes.b;
    options.outwards = (how.outwards + kBeyond) * axes.b;  // texture is judged by what lies outside
    const double around = perimeter(axes);
    if (how.calm) {
        options.places = static_cast<int>(std::clamp(around / 2.5, 240.0, 720.0));
        options.step = std::max(0.6, axes.b / 500);
        options.smooth = std::max(1.0, 1.3 * options.step);
        options.calm = 3;
        options.beside = 0;
        options.least = 1.2;
    } else {
        options.places = 240;
        options.step = std::max(0.75, axes.b * (how.inwards + how.outwards) / 160);
        options.smooth = std::max(1.1, 1.3 * options.step);
        options.beside_step = std::clamp(around / options.places / 3, 1.0, 4.0);
    }
    const Radial radial = radial_edges(image, base, options);
    Modes modes;
    modes.step = options.step;
    auto& out = modes.all;
    const double step = 2 * options.step / axes.b, narrow = 1.2 * options.step + 0.4;
    const double wide = 3.5 * options.step + 0.012 * axes.b;
    const auto follow = [&](double c, double outer_from) {
        const Change start{c, 0, 0, 0, 0};
        const auto found = track(radial, start, wide, narrow, outer_from > 0 ? 7 : 5, outer_from);
        if (!found || found->support < 0.3 || found->change[0] > how.outwards + 0.01) return;
        Mode mode{*found, changed(base, found->change), 0, 0, 0};
        weigh(radial, narrow, mode);
        const Axes own = axes_of(mode.hoop);
        if (!(own.b > 0.2 * own.a)) return;
        mode.size = size_of(mode.hoop);
        const auto known = std::find_if(out.begin(), out.end(), [&](const Mode& other) {
            return apart(other.hoop, mode.hoop) < 1.2 * options.step;
        });
        if (known == out.end()) out.push_back(mode);
        else if (mode.sure() > known->sure()) *known = mode;
    };
    for (double c = -how.inwards; c <= how.outwards; c += step) follow(c, 0);
    if (how.calm)
        for (const double share : {0.1, 0.3}) {
            const double least = strength_by_chance(radial, how.outwards * axes.b, 2 * wide, share);
            for (double c = -how.inwards; c <= how.outwards; c += 2 * step)
                follow(c, std::max(least, options.least));
        }
    std::sort(out.begin(), out.end(), [](const Mode& a, const Mode& b) { return a.size > b.size; });
    modes.radial = radial;
    return modes;
}

// Mean light on a band beside a hoop, `off` px outwards of it, over the places of `where`; logarithms of B, G, R.
std::optional<cv::Vec3d> log_light(const cv::Mat& image, const Hoop& hoop, const std::vector<double>& where,
                                   const std::vector<double>& off) {
    std::array<std::vector<double>, 3> values;
    for (std::size_t i = 0; i < where.size(); ++i)
        for (int k = -1; k <= 1; ++k) {
            const cv::Point2d p = hoop.at(where[i]) + hoop.outwards(where[i]) * (off[i] + 0.7 * k);
            if (!within(image, p)) continue;
            const cv::Vec3f l = light_at(image, p);
            for (std::size_t c = 0; c < 3; ++c)
                values[c].push_back(std::log(0.01 + static_cast<double>(l[static_cast<int>(c)])));
        }
    if (values[0].size() < 9) return std::nullopt;
    cv::Vec3d out;
    for (std::size_t c = 0; c < 3; ++c) {
        auto& v = values[c];
        std::nth_element(v.begin(), v.begin() + static_cast<std::ptrdiff_t>(v.size() / 2), v.end());
        out[static_cast<int>(c)] = v[v.size() / 2];
    }
    return out;
}
double level(const cv::Vec3d& v) { return (v[0] + v[1] + v[2]) / 3; }
double hue_change(const cv::Vec3d& v) { return cv::norm(v - cv::Vec3d::all(level(v))); }

// Whether what lies between two hoops is the table in the shadow of the inner one, rather than more of the piece.
bool shadow_between(const cv::Mat& image, const Mode& outer, const Mode& inner, double px) {
    constexpr int kPlaces = 72;
    std::vector<double> f(kPlaces), gap(kPlaces);
    double most = 0, least = 1e9;
    for (std::size_t i = 0; i < kPlaces; ++i) {
        f[i] = 2 * kPi * static_cast<double>(i) / kPlaces;
        gap[i] = -distance_from(outer.hoop, inner.hoop.at(f[i]));
        most = std::max(most, gap[i]), least = std::min(least, gap[i]);
    }
    if (most < kThinLip * px) return false;
    std::vector<double> where, middle, inside, outside;
    for (std::size_t i = 0; i < kPlaces; ++i)
        if (gap[i] > std::max(4 * px, 0.6 * most)) {
            where.push_back(f[i]);
            middle.push_back(gap[i] / 2);
            inside.push_back(-3.5 * px);
            outside.push_back(gap[i] + 3.5 * px);
        }
    const auto between = log_light(image, inner.hoop, where, middle),
               in = log_light(image, inner.hoop, where, inside), out = log_light(image, inner.hoop, where, outside);
    if (!between || !in || !out) return false;
    const cv::Vec3d from_out = *between - *out, from_in = *between - *in;
    // At one side only, and like the table beyond: grain or print that happens to lie there.
    const bool crescent = least < 0.25 * most;
    if (crescent && cv::norm(from_out) < 0.12 && cv::norm(from_in) > 0.2) return true;
    // A shadow is darker than the table beyond, and of its hue; gold and colours are not.
    if (level(from_out) > -0.04 || hue_change(from_out) > 0.12) return false;
    const bool by_hue = hue_change(from_in) > hue_change(from_out) + 0.08;
    if (crescent) return by_hue || std::abs(level(from_in)) > 0.06;  // it lies at one side only
    return outer.track.strength < 0.5 * inner.track.strength && (by_hue || level(from_in) < -0.12);
}

// Whether a hoop runs along a surer one for a good part of its way, and where it leaves it has nothing but the
// table between the two, lit or in shadow: its other part is a shadow's edge, or grain that happens to fit.
bool strays_from(const cv::Mat& image, const Radial& radial, const Mode& outer, const Mode& inner, double px) {
    constexpr double kGoodPart = 0.2;
    if (inner.sure() < 0.9 * outer.sure()) return false;
    int hits = 0, common = 0;
    std::vector<double> where, middle, outside;
    for (std::size_t i = 0; i < outer.track.edge_of.size(); ++i) {
        if (outer.track.edge_of[i] < 0) continue;
        ++hits;
        if (outer.track.edge_of[i] == inner.track.edge_of[i]) {
            ++common;
            continue;
        }
        const double gap = -distance_from(outer.hoop, inner.hoop.at(radial.f[i]));
        if (gap < kThinLip * px) continue;
        where.push_back(radial.f[i]);
        middle.push_back(gap / 2);
        outside.push_back(gap + 3 * px);
    }
    if (common < kGoodPart * hits) return false;
    const auto between = log_light(image, inner.hoop, where, middle),
               out = log_light(image, inner.hoop, where, outside);
    if (!between || !out) return false;
    const cv::Vec3d change = *between - *out;
    return hue_change(change) < 0.16 && level(change) < 0.04;
}

const Mode* surest_of(const Modes& modes) {
    const Mode* surest = nullptr;
    for (const Mode& m : modes.all)
        if (m.track.agreement > kLeastAgreement && (!surest || m.sure() > surest->sure())) surest = &m;
    return surest;
}

// Whether a hoop is the border of a shadow that the piece throws, by the surer hoops within it.
bool is_shade(const cv::Mat& image, const Modes& modes, const Mode& m) {
    return std::any_of(modes.all.begin(), modes.all.end(), [&](const Mode& inner) {
        if (inner.size >= m.size || inner.track.agreement <= kLeastAgreement) return false;
        return (inner.sure() > 0.75 * m.sure() && inner.size > 0.8 * m.size &&
                shadow_between(image, m, inner, modes.step)) ||
               strays_from(image, modes.radial, m, inner, modes.step);
    });
}

// The rim among the hoops of one piece: the outermost that is nearly as sure as the best and is no shadow's edge.
const Mode* rim_of(const cv::Mat& image, const Modes& modes) {
    const Mode* best = surest_of(modes);
    for (const auto& m : modes.all) {
        if (m.track.agreement <= kLeastAgreement || m.sure() < kLeastSure) continue;
        // A weak edge beyond a strong one must be all the surer: shadows have such edges, and pale rims.
        const bool plain = m.track.strength > 0.5 * best->track.strength ||
                           (m.track.crisp > 0.9 * best->track.crisp && m.accident < 0.05);
        const double share = plain ? 0.65 : 0.8;
        if (m.sure() < share * best->sure()) continue;
        if (m.track.crisp < kLeastCrisp * best->track.crisp) continue;  // shade that fades is no rim
        if (!is_shade(image, modes, m)) return &m;
    }
    return nullptr;
}

// The rim among hoops that lie close together, the two sides of an edge line among them: the one that is most often
// the last sharp edge before the table. Half of a hoop along the outer side and half along the inner is so less
// often.
const Mode* outermost_of(const cv::Mat& image, const Modes& modes, double shorter) {
    constexpr double kByChance = 0.1;  // such edges a place from the table's own texture
    constexpr double kLeastOfSurest = 0.5;
    const double reach = kWidestLine * shorter;
    const double least =
        strength_by_chance(modes.radial, modes.radial.outwards - kBeyond * shorter, reach, kByChance);
    const Mode *best = nullptr, *surest = surest_of(modes);
    if (!surest) return nullptr;
    const double sharp = kLeastCrisp * surest->track.crisp;  // shade that fades is no rim
    double most = 0;
    for (const Mode& m : modes.all) {
        if (m.track.agreement <= kLeastAgreement || m.sure() < kLeastOfSurest * surest->sure() ||
            m.track.crisp < sharp)
            continue;
        double last = 0;
        for (std::size_t i = 0; i < m.track.edge_of.size(); ++i) {
            const int e = m.track.edge_of[i];
            if (e < 0) continue;
            const auto& edges = modes.radial.edges[i];
            const RadialEdge& own = edges[static_cast<std::size_t>(e)];
            last +=
                own.strength > 0.5 * least &&
                std::none_of(edges.begin() + e + 1, edges.end(), [&](const RadialEdge& beyond) {
                    return beyond.offset < own.offset + reach && beyond.strength > least && beyond.crisp > sharp;
                });
        }
        if (last > most && !is_shade(image, modes, m)) most = last, best = &m;
    }
    return best;
}

// A line upon the glaze has glaze on either side. The innermost hoop about `ring` up to which the glaze goes on,
// and beyond which it does not: the rim, where print or grain round it made the line look surer. Absent: none.
const Mode* where_glaze_ends(const cv::Mat& image, const Modes& modes, const Mode& ring) {
    constexpr int kPlaces = 96;
    constexpr double kAlike = 9, kUnlike = 11;  // L*a*b*; lightness counts half, because of shade
    constexpr double kLeastShare = 0.6, kLeastSureBeyond = 0.25;
    const double near = std::max(3.0, 0.012 * axes_of(ring.hoop).b);
    const Mode* out = nullptr;
    for (const Mode& outer : modes.all) {
        if (outer.size < 1.012 * ring.size || outer.sure() < kLeastSureBeyond ||
            outer.track.agreement <= kLeastAgreement || (out && outer.size > out->size))
            continue;
        cv::Mat_<cv::Vec3f> colours(kPlaces, 3), lab;
        std::vector<char> seen(kPlaces, 0);
        for (int i = 0; i < kPlaces; ++i) {
            const double f = 2 * kPi * i / kPlaces, gap = -distance_from(outer.hoop, ring.hoop.at(f));
            const cv::Point2d foot = ring.hoop.at(f), normal = ring.hoop.outwards(f);
            const std::array<cv::Point2d, 3> at{foot - normal * near, foot + normal * (gap / 2),
                                                foot + normal * (gap + near)};
            seen[static_cast<std::size_t>(i)] =
                gap > near && std::all_of(at.begin(), at.end(), [&](cv::Point2d p) { return within(image, p); });
            for (int k = 0; k < 3 && seen[static_cast<std::size_t>(i)]; ++k)
                colours(i, k) = colour_at(image, at[static_cast<std::size_t>(k)]) * (1.f / 255);
        }
        cv::cvtColor(colours, lab, cv::COLOR_BGR2Lab);
        int visible = 0, same = 0, ends = 0;
        const auto off = [&](int i, int a, int b) {
            const cv::Vec3f d = lab(i, a) - lab(i, b);
            return std::hypot(0.5 * static_cast<double>(d[0]), static_cast<double>(d[1]),
                              static_cast<double>(d[2]));
        };
        for (int i = 0; i < kPlaces; ++i) {
            if (!seen[static_cast<std::size_t>(i)]) continue;
            ++visible;
            same += off(i, 0, 1) < kAlike;
            ends += off(i, 1, 2) > kUnlike;
        }
        if (visible > kPlaces / 3 && same > kLeastShare * visible && ends > kLeastShare * visible) out = &outer;
    }
    return out;
}

// What is drawn about the middle of the scale card, and no larger, is its own sides and markers.
bool lies_on(const CardFound& card, const Hoop& hoop) {
    std::vector<cv::Point2f> area;
    for (const Point& corner : card.seen.corners) area.emplace_back(mat_from_px(corner));
    return cv::pointPolygonTest(area, hoop.centre, false) >= 0 &&
           axes_of(hoop).a < 0.75 * cv::norm(area[0] - area[2]);
}

struct Piece {
    Mode rim;
    std::vector<Mode> inner;
    double score = 0;
};
// Coins and counters: many small round things, of which none stands out.
bool one_of_many(const Hoop& hoop, const std::vector<HoopFound>& all, double longest) {
    const double a = axes_of(hoop).a;
    if (a > kSmall * longest) return false;
    std::vector<cv::Point2d> others;
    for (const auto& o : all) {
        const double b = axes_of(o.hoop).a;
        if (o.support < 0.75 || b < 0.5 * a || b > 2 * a || cv::norm(o.hoop.centre - hoop.centre) < a) continue;
        if (std::none_of(others.begin(), others.end(),
                         [&](cv::Point2d p) { return cv::norm(p - o.hoop.centre) < a; }))
            others.push_back(o.hoop.centre);
    }
    return others.size() >= 3;
}

}  // namespace

std::vector<HoopFound> find_ellipses(const cv::Mat& bgr) {
    const Levels levels = levels_of(bgr);
    auto out = hoops_in(levels);
    for (auto& found : out) found.hoop = rescaled(found.hoop, 1 / levels.coarse_scale);
    return out;
}

std::optional<RimFound> find_rim(const cv::Mat& bgr, const std::optional<CardFound>& card, std::string& why) {
    if (bgr.cols < 48 || bgr.rows < 48) {
        why = "The picture is too small to hold a piece.";
        return std::nullopt;
    }
    const Levels levels = levels_of(bgr);
    std::vector<HoopFound> hoops = hoops_in(levels);
    const cv::Size size = levels.coarse.size();
    const double longest = std::max(size.width, size.height);
    std::sort(hoops.begin(), hoops.end(),
              [&](const HoopFound& a, const HoopFound& b) { return prominence(a, size) > prominence(b, size); });
    const double to_fine = levels.fine_scale / levels.coarse_scale;
    std::vector<Hoop> tried;
    std::vector<Piece> pieces;
    double best_score = 0;
    bool many = false;
    const auto follow = [&](const HoopFound& found) {
        const Axes axes = axes_of(found.hoop);
        if (axes.a < kLeastRadius * longest || found.support - found.accident < 0.25) return;
        if (card && lies_on(*card, rescaled(found.hoop, 1 / levels.coarse_scale))) return;
        // Beside a rim that is whole and sure, only a larger one about it is of interest.
        if (std::any_of(pieces.begin(), pieces.end(), [&](const Piece& p) {
                return p.rim.sure() > 0.9 && p.rim.track.visible > 0.9 &&
                       !contains(found.hoop, rescaled(p.rim.hoop, 1 / to_fine), 2);
            }))
            return;
        if (one_of_many(found.hoop, hoops, longest)) {
            many = true;
            return;
        }
        // What lies within a tenth of a ring that was followed was followed with it.
        if (std::any_of(tried.begin(), tried.end(), [&](const Hoop& t) {
                return cv::norm(t.centre - found.hoop.centre) < 0.08 * axes.b &&
                       apart(t, found.hoop) < 0.08 * axes.b;
            }))
            return;
        tried.push_back(found.hoop);
        const Modes modes = modes_near(levels.fine, rescaled(found.hoop, to_fine), {});
        const Mode* rim = rim_of(levels.fine, modes);
        if (!rim) return;
        const double sure = rim->sure();
        if (const Mode* beyond = where_glaze_ends(levels.fine, modes, *rim)) rim = beyond;
        const Axes own = axes_of(rim->hoop);
        // What is seen very flat, or is so short that chance makes it, must be all the surer.
        const double needed =
            std::max(own.b < 0.62 * own.a ? 0.82 : 0.0, 0.5 + 0.35 * std::exp(-perimeter(own) / 500));
        if (own.a < kLeastRadius * std::max(levels.fine.cols, levels.fine.rows)) return;
        if (sure * rim->track.visible < kLeastSeen || sure < needed || drawn_upon(levels.fine, rim->hoop)) return;
        Piece piece{*rim, {}, 0};
        piece.score =
            prominence({rescaled(rim->hoop, 1 / to_fine), rim->support, rim->track.visible, rim->accident}, size);
        for (const auto& m : modes.all)
            if (m.size < 0.99 * rim->size && m.sure() > 0.6) piece.inner.push_back(m);
        best_score = std::max(best_score, piece.score);
        pieces.push_back(std::move(piece));
    };
    for (const auto& found : hoops) {
        if (tried.size() == kFewPieces || prominence(found, size) < 0.4 * best_score) break;
        follow(found);
    }
    const bool by_edges = !pieces.empty();
    if (!by_edges)  // edges are many on check and print, where colour still tells
        for (const Hoop& hoop : hoops_of_regions(levels.crude)) {
            tried.clear();
            follow({rescaled(hoop, levels.coarse_scale / levels.crude_scale), 1, 1, 0});
        }
    if (pieces.empty()) {
        why = many ? "No piece was found: of many small round things none stands out."
                   : "No piece was found: nothing in the picture has a rim that runs most of the way round.";
        return std::nullopt;
    }
    const Piece* best = &*std::max_element(pieces.begin(), pieces.end(),
                                           [](const Piece& a, const Piece& b) { return a.score < b.score; });
    // A line, or the edge of the well, may be plainer than the rim about it.
    for (bool more = true; more;) {
        more = false;
        for (const auto& p : pieces)
            if (p.rim.size > 1.02 * best->rim.size && p.rim.size < 1.8 * best->rim.size &&
                concentric(p.rim.hoop, best->rim.hoop) && contains(p.rim.hoop, best->rim.hoop, 1) &&
                p.rim.sure() > 0.6 * best->rim.sure())
                best = &p, more = true;
    }
    const Mode& chosen = best->rim;
    // In the photograph itself the lip, and a line upon it, come apart.
    Hoop start = rescaled(chosen.hoop, 1 / levels.fine_scale);
    const double doubt = std::max(3.0, 2.5 / levels.fine_scale), share = doubt / axes_of(start).b;
    const Modes close = modes_near(bgr, start, {share, std::max(share + 0.012, kWidestLine), true});
    if (const Mode* lip = outermost_of(bgr, close, axes_of(start).b)) start = lip->hoop;
    auto line = outer_side_of_line(bgr, start);
    if (!line)
        // Half of the hoop may run along the line's outer side and half along the inner; the surest is of one
        // piece.
        if (const Mode* inner = surest_of(close); inner && inner->size < size_of(start)) {
            line = outer_side_of_line(bgr, inner->hoop);
            if (line && size_of(line->hoop) < size_of(start)) line.reset();
        }
    RimFound out = rim_near(bgr, start, 3);
    if (line) {
        const double plainest = out.seen;  // a line's inner side tells as well that there is a piece
        out = beside_its_line(bgr, *line);
        out.seen = std::max(out.seen, plainest);
    }
    constexpr double kDoubtful = 0.7;  // of what is visible: a rim that is seen less may lie too far out
    if (!line)
        if (const auto last = along_last_edges(bgr, out.hoop, out.seen < kDoubtful * out.visible))
            out = rim_near(bgr, *last, 1.2);
    const double even = evenness(bgr, out.hoop);
    if (even < kLeastEven && out.seen < kSureWithoutEven * out.visible) {
        why = "No piece was found: what runs round in the picture has no even glaze within it.";
        return std::nullopt;
    }
    if (seen_through(bgr, out.hoop)) {
        why = "No piece was found: within what runs round in the picture lies the same as about it.";
        return std::nullopt;
    }
    // What lies at the picture's border, and is hardly seen where it is within, is no piece that was photographed.
    const bool hardly = out.visible < 1 && out.seen < kLeastOfCut * out.visible;
    if (hardly || out.seen < (by_edges ? kLeastSeen : kLeastOfRegion)) {
        why = "No piece was found: no rim could be followed round.";
        return std::nullopt;
    }
    for (const auto& m : best->inner) out.inner.push_back(rescaled(m.hoop, 1 / levels.fine_scale));
    for (const auto& h : hoops) {
        const Hoop full = rescaled(h.hoop, 1 / levels.coarse_scale);
        if (h.support > 0.55 && axes_of(full).a > 0.3 * axes_of(out.hoop).a && contains(out.hoop, full, 0))
            out.inner.push_back(full);
    }
    return out;
}

}  // namespace footring::photo

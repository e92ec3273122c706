// SPDX-License-Identifier: Apache-2.0
#include "photo/polygon.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/calib3d.hpp>
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
// Mean distance of the hull from where the sides would meet, as a share of the way to the middle: paper and boxes
// have 0.02 by what the crude picture does to corners, a corner whose radius is an eighth of the piece's half has
// 0.035.
constexpr double kRounded = 0.035;
constexpr double kMostIrregular = 0.03;  // of its size: what is further from regular is no such piece
constexpr double kLeastSupport = 0.6;    // of all sides together
constexpr double kLeastOfOneSide = 0.3;  // a side may lie in shadow or under something

struct SideLine {
    cv::Point2d at, along;  // a line
    double support = 0, sigma = 0;
};

// The outermost line near a guessed side along which most of its middle part has an edge. `out`: the side's outward
// normal is to the left of from -> to turned clockwise.
std::optional<SideLine> side_near(const cv::Mat& bgr, const std::vector<cv::Point2f>& card, cv::Point2d from,
                                  cv::Point2d to, double reach_px, int calm) {
    constexpr int kPlaces = 36;
    const double length = cv::norm(to - from);
    const cv::Point2d along = (to - from) * (1 / length), out(along.y, -along.x);
    RadialOptions options;
    const double step = std::max(0.75, reach_px / 24);
    options.inwards = options.outwards = reach_px;
    options.step = step, options.smooth = 1.3 * step;
    options.beside_step = 1.5 * step;
    options.calm = calm;
    options.least = 2;
    Normals normals;
    std::vector<double> t;
    for (int i = 0; i < kPlaces; ++i) {
        t.push_back(length * (0.2 + 0.6 * (i + 0.5) / kPlaces));
        normals.feet.push_back(from + along * t.back());
        normals.outwards.push_back(out);
    }
    const EdgesAlong found = edges_along(bgr, normals, options);
    struct Mark {
        double t, off;
        float strength;
    };
    std::vector<std::vector<Mark>> marks(kPlaces);
    int seen = 0;
    for (std::size_t i = 0; i < kPlaces; ++i) {
        seen += found.visible[i];
        for (const RadialEdge& edge : found.edges[i]) {
            const cv::Point2d at = normals.feet[i] + out * edge.offset;
            // The edge of the scale card is no side of the piece.
            if (!card.empty() && cv::pointPolygonTest(card, cv::Point2f(at), true) > -4 * step) continue;
            marks[i].push_back({t[i], edge.offset, edge.strength});
        }
        std::sort(marks[i].begin(), marks[i].end(),
                  [](const Mark& a, const Mark& b) { return a.strength > b.strength; });
        if (marks[i].size() > 5) marks[i].resize(5);
    }
    if (seen < kPlaces / 3) return std::nullopt;
    const double reach = 1.2 * step;
    struct Line {
        double off, slope;
        int hits;
        double middle;
        double strength;  // mean, of the edges along it
    };
    std::vector<Line> lines;
    int most = 0;
    for (std::size_t i = 0; i < kPlaces; i += 2)
        for (std::size_t j = i + 8; j < kPlaces; j += 3)
            for (const auto& a : marks[i])
                for (const auto& b : marks[j]) {
                    const double slope = (b.off - a.off) / (b.t - a.t);
                    if (std::abs(slope) > 0.12) continue;
                    Line line{a.off - slope * a.t, slope, 0, 0, 0};
                    for (const auto& here : marks) {
                        const auto on = std::find_if(here.begin(), here.end(), [&](const Mark& m) {
                            return std::abs(m.off - line.off - slope * m.t) < reach;
                        });
                        if (on == here.end()) continue;
                        ++line.hits;
                        line.strength += static_cast<double>(on->strength);
                    }
                    line.strength /= std::max(1, line.hits);
                    line.middle = line.off + slope * length / 2;
                    most = std::max(most, line.hits);
                    lines.push_back(line);
                }
    // The outermost that is nearly as long as the longest, and no mere shadow or weave beside a strong edge.
    double strongest = 0;
    for (const auto& line : lines)
        if (line.hits >= 0.85 * most) strongest = std::max(strongest, line.strength);
    const Line* best = nullptr;
    for (const auto& line : lines)
        if (line.hits >= 0.85 * most && line.strength > 0.4 * strongest && (!best || line.middle > best->middle))
            best = &line;
    if (!best) return std::nullopt;
    double off = best->off, slope = best->slope, sigma = 0;
    int hits = 0;
    for (int round = 0; round < 3; ++round) {
        double n = 0, st = 0, stt = 0, sd = 0, sdt = 0, ss = 0;
        for (const auto& here : marks) {
            const Mark* nearest = nullptr;
            for (const auto& m : here)
                if (std::abs(m.off - off - slope * m.t) < reach &&
                    (!nearest ||
                     std::abs(m.off - off - slope * m.t) < std::abs(nearest->off - off - slope * nearest->t)))
                    nearest = &m;
            if (!nearest) continue;
            ++n, st += nearest->t, stt += nearest->t * nearest->t, sd += nearest->off,
                sdt += nearest->off * nearest->t;
            ss += std::pow(nearest->off - off - slope * nearest->t, 2);
        }
        const double det = n * stt - st * st;
        if (n < 5 || det <= 0) return std::nullopt;
        slope = (n * sdt - st * sd) / det;
        off = (sd - slope * st) / n;
        sigma = std::sqrt(ss / n);
        hits = static_cast<int>(n);
    }
    const cv::Point2d a = from + out * off, b = to + out * (off + slope * length);
    return SideLine{a, (b - a) * (1 / cv::norm(b - a)), static_cast<double>(hits) / seen, sigma};
}

std::optional<std::vector<cv::Point2d>> corners_of(const std::vector<SideLine>& sides) {
    std::vector<cv::Point2d> out;
    for (std::size_t i = 0; i < sides.size(); ++i) {
        const SideLine &a = sides[(i + sides.size() - 1) % sides.size()], &b = sides[i];
        const double det = a.along.cross(b.along);
        if (std::abs(det) < 0.15) return std::nullopt;
        out.push_back(a.at + a.along * ((b.at - a.at).cross(b.along) / det));
    }
    return out;
}

// Four or eight corners of the hull, clockwise; sides that stand for a rounded corner left out.
std::vector<std::vector<cv::Point2d>> outlines_of(const std::vector<cv::Point>& hull) {
    std::vector<std::vector<cv::Point2d>> out;
    const double around = cv::arcLength(hull, true);
    for (const double share : {0.012, 0.016, 0.02, 0.026, 0.034, 0.045}) {
        std::vector<cv::Point> corners;
        cv::approxPolyDP(hull, corners, share * around, true);
        std::vector<cv::Point2d> p(corners.begin(), corners.end());
        double area = 0;
        for (std::size_t i = 0; i < p.size(); ++i) area += p[i].cross(p[(i + 1) % p.size()]);
        if (area < 0) std::reverse(p.begin(), p.end());
        const std::size_t n = p.size();
        if (n != 4 && n != 8) continue;
        if (std::none_of(out.begin(), out.end(), [&](const auto& o) { return o.size() == n; })) out.push_back(p);
        if (n != 8) continue;
        for (std::size_t first : {0U, 1U}) {
            double longs = 0, shorts = 0;
            for (std::size_t i = 0; i < 8; ++i)
                (i % 2 == first ? longs : shorts) += cv::norm(p[(i + 1) % 8] - p[i]);
            if (shorts > 0.55 * longs) continue;
            std::vector<SideLine> sides;
            for (std::size_t i = first; i < 8; i += 2)
                sides.push_back({p[i], (p[(i + 1) % 8] - p[i]) * (1 / cv::norm(p[(i + 1) % 8] - p[i])), 1, 0});
            if (const auto square = corners_of(sides)) out.push_back(*square);
        }
    }
    return out;
}

// The corners of a regular polygon about the origin, whose sides lie 1 away from it.
std::vector<cv::Point2d> model_of(std::size_t n) {
    std::vector<cv::Point2d> out;
    const double radius = 1 / std::cos(kPi / static_cast<double>(n));
    for (std::size_t i = 0; i < n; ++i) {
        const double f = 2 * kPi * static_cast<double>(i) / static_cast<double>(n);
        out.emplace_back(radius * std::cos(f), radius * std::sin(f));
    }
    return out;
}

// Corners moved to where most of them say that those of a regular polygon lie.
std::vector<cv::Point2d> regular(const std::vector<cv::Point2d>& corners, double tolerance) {
    const auto model = model_of(corners.size());
    const double size = cv::norm(corners[0] - corners[corners.size() / 2]);
    cv::Mat inliers;
    const cv::Mat h = cv::findHomography(model, corners, cv::RANSAC, tolerance * size, inliers);
    if (h.empty() || cv::countNonZero(inliers) < 5) return corners;
    std::vector<cv::Point2d> out;
    for (const auto& m : model) out.push_back(through(cv::Matx33d(h), m));
    return out;
}

// How far corners are from those of the image of a regular polygon, the worst of them, as a share of its size.
double irregularity(const std::vector<cv::Point2d>& corners) {
    const std::size_t n = corners.size();
    const auto model = model_of(n);
    const cv::Mat h = cv::findHomography(model, corners, 0);
    if (h.empty()) return 1;
    double worst = 0, size = 0;
    for (std::size_t i = 0; i < n; ++i) {
        worst = std::max(worst, cv::norm(through(cv::Matx33d(h), model[i]) - corners[i]));
        size = std::max(size, cv::norm(corners[i] - corners[(i + n / 2) % n]));
    }
    return worst / size;
}

// The ellipse that touches the sides: the image of the circle within a square, or a regular octagon.
std::optional<Hoop> touching_of(const std::vector<cv::Point2d>& corners) {
    const std::size_t n = corners.size();
    const std::vector<cv::Point2d> model = model_of(n);
    const cv::Mat h = cv::findHomography(model, corners, 0);
    if (h.empty()) return std::nullopt;
    const cv::Matx33d back = cv::Matx33d(h).inv();
    if (irregularity(corners) > kMostIrregular) return std::nullopt;
    return hoop_of(cv::Matx33d(back.t() * cv::Matx33d::diag(cv::Vec3d(1, 1, -1)) * back));
}

cv::Point2d middle_of(const std::vector<cv::Point2d>& corners) {
    cv::Point2d sum(0, 0);
    for (const auto& c : corners) sum += c;
    return sum * (1 / static_cast<double>(corners.size()));
}

// A round well is of one colour with what lies about it; a plate is not of one colour with the napkin.
bool is_a_well(const cv::Mat& bgr, const Hoop& ring) {
    constexpr double kOneColour = 7;  // L*a*b*
    const double b = axes_of(ring).b;
    std::vector<cv::Point2d> inside, outside;
    for (int i = 0; i < 90; ++i) {
        const double f = i * kPi / 45;
        inside.push_back(ring.at(f) - ring.outwards(f) * (0.05 * b));
        outside.push_back(ring.at(f) + ring.outwards(f) * (0.04 * b));
    }
    return cv::norm(middle_colour(bgr, inside).lab, middle_colour(bgr, outside).lab) < kOneColour;
}

// Sides moved to where a coloured line upon them turns into the table, as on a round rim (photo/rim_line.h); a side
// where that is not seen stays.
void move_to_outer_side_of_line(const cv::Mat& bgr, PolygonFound& found) {
    constexpr std::size_t kPlacesInAll = 360;
    constexpr double kWidestLine = 0.06;                 // of the touching ellipse's shorter semi-axis
    constexpr double kFromCorner = 0.2;                  // of a side: corners are rounded
    constexpr double kLeastOfSide = 0.4, kOnSide = 1.2;  // px
    const std::size_t n = found.corners.size(), each = kPlacesInAll / n;
    const cv::Point2d middle = middle_of(found.corners);
    std::vector<Across> all;
    std::vector<double> shares;  // of the way along the side
    double around = 0;
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d a = found.corners[i], b = found.corners[(i + 1) % n], way = b - a;
        cv::Point2d out(way.y, -way.x);
        out *= 1 / cv::norm(way);
        if (out.dot(a - middle) < 0) out *= -1;
        around += cv::norm(way);
        for (std::size_t k = 0; k < each; ++k) {
            shares.push_back((static_cast<double>(k) + 0.5) / static_cast<double>(each));
            all.push_back(
                {a + way * shares.back(), out, shares.back() > kFromCorner && shares.back() < 1 - kFromCorner});
        }
    }
    const double widest = std::max(6.0, kWidestLine * axes_of(found.touching).b);
    const auto ends = ends_of_line(bgr, all, std::clamp(around / static_cast<double>(all.size()) / 3, 1.0, 3.0),
                                   widest, glaze_within(bgr, found.touching));
    std::vector<SideLine> sides;
    bool moved = false;
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d a = found.corners[i], b = found.corners[(i + 1) % n];
        // offset = at the middle + tilt * (share - 1/2), with Tukey's weights about the median
        std::vector<double> values;
        std::size_t looked_at = 0;
        for (std::size_t k = i * each; k < (i + 1) * each; ++k) {
            looked_at += all[k].looked_at;
            if (ends[k]) values.push_back(*ends[k]);
        }
        double off = 0, tilt = 0;
        std::size_t on = 0;
        if (static_cast<double>(values.size()) >= kLeastOfSide * static_cast<double>(looked_at)) {
            std::nth_element(values.begin(), values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2),
                             values.end());
            off = values[values.size() / 2];
            for (const double reach : {3.0, 2.0, 1.5}) {
                double w0 = 0, w1 = 0, w2 = 0, y0 = 0, y1 = 0;
                on = 0;
                for (std::size_t k = i * each; k < (i + 1) * each; ++k) {
                    if (!ends[k]) continue;
                    const double t = shares[k] - 0.5, u = (*ends[k] - off - tilt * t) / reach;
                    if (std::abs(u) >= 1) continue;
                    const double w = (1 - u * u) * (1 - u * u);
                    w0 += w, w1 += w * t, w2 += w * t * t, y0 += w * *ends[k], y1 += w * t * *ends[k];
                    on += std::abs(u * reach) < kOnSide;
                }
                const double det = w0 * w2 - w1 * w1;
                if (det <= 1e-9) break;
                off = (y0 * w2 - y1 * w1) / det;
                tilt = (y1 * w0 - y0 * w1) / det;
            }
        }
        const bool plain =
            static_cast<double>(on) >= kLeastOfSide * static_cast<double>(looked_at) && looked_at > 0;
        if (!plain) off = tilt = 0;
        moved = moved || plain;
        const cv::Point2d out = all[i * each].outwards, from = a + out * (off - tilt / 2),
                          to = b + out * (off + tilt / 2);
        sides.push_back({from, (to - from) * (1 / cv::norm(to - from)), 1, 0});
    }
    if (!moved) return;
    const auto corners = corners_of(sides);
    if (!corners) return;
    const auto touching = touching_of(*corners);
    if (!touching) return;
    found.corners = *corners;
    found.touching = *touching;
}

}  // namespace

std::optional<PolygonFound> find_polygon(const cv::Mat& bgr, const std::optional<CardFound>& card,
                                         bool among_texture) {
    if (bgr.cols < 64 || bgr.rows < 64) return std::nullopt;
    const double scale = std::min(1.0, static_cast<double>(kRegionsLongest) / std::max(bgr.cols, bgr.rows));
    const cv::Mat crude = reduced(bgr, scale);
    std::vector<std::vector<cv::Point>> hulls;
    if (auto hull = region_unlike_border(crude, scale, card)) hulls.push_back(std::move(*hull));
    if (among_texture)
        for (auto& hull : regions_of_one_colour(crude)) hulls.push_back(std::move(hull));
    std::vector<cv::Point2f> card_area;
    if (card)
        for (const auto& c : card->seen.corners) card_area.emplace_back(mat_from_px(c));
    constexpr double kAstray[] = {0.012, 0.005};  // of its size: so far off is a corner that others correct
    std::optional<PolygonFound> best;
    const std::vector<cv::Point>* hull = nullptr;  // of the best
    for (const auto& candidate : hulls)
        for (auto outline : outlines_of(candidate)) {
            for (auto& c : outline) c = (c + cv::Point2d(0.5, 0.5)) * (1 / scale) - cv::Point2d(0.5, 0.5);
            PolygonFound found;
            found.corners = outline;
            bool whole = true;
            double reach = std::max(4.0 / scale, 0.03 * cv::norm(outline[0] - outline[outline.size() / 2]));
            const int rounds = outline.size() == 8 ? 3 : 2;
            for (int round = 0; round < rounds && whole; ++round) {
                std::vector<SideLine> sides;
                double support = 0, sigma = 0, least = 1;
                for (std::size_t i = 0; i < found.corners.size(); ++i) {
                    const auto side =
                        side_near(bgr, card_area, found.corners[i], found.corners[(i + 1) % found.corners.size()],
                                  reach, round == 0 ? 0 : 2);
                    if (!side) {
                        whole = false;
                        break;
                    }
                    sides.push_back(*side);
                    support += side->support, sigma += side->sigma;
                    least = std::min(least, side->support);
                }
                if (!whole) break;
                const auto corners = corners_of(sides);
                if (!corners) {
                    whole = false;
                    break;
                }
                const auto n = static_cast<double>(sides.size());
                found.corners = *corners;
                found.seen = support / n;
                found.sigma_px = sigma / n;
                whole = found.seen >= kLeastSupport &&
                        least >= (round + 1 < rounds && sides.size() == 8 ? 0 : kLeastOfOneSide);
                // One side of eight may have run astray, along a shadow: the others tell where it must be.
                if (sides.size() == 8 && round + 1 < rounds) found.corners = regular(found.corners, kAstray[round]);
                reach = std::max(6.0, reach / 4);
            }
            if (!whole) continue;
            if (found.corners.size() == 8 && irregularity(found.corners) > kAstray[1])
                found.corners = regular(found.corners, kAstray[1]);
            const auto touching = touching_of(found.corners);
            if (!touching || axes_of(*touching).b < 0.35 * axes_of(*touching).a) continue;
            found.touching = *touching;
            // The well of a square piece is square as well: the larger is the piece.
            const auto worth = [](const PolygonFound& p) {
                const Axes axes = axes_of(p.touching);
                return p.seen * static_cast<double>(p.corners.size() + 8) * std::sqrt(axes.a * axes.b);
            };
            if (!best || worth(found) > worth(*best)) best = found, hull = &candidate;
        }
    if (!best) return std::nullopt;
    move_to_outer_side_of_line(bgr, *best);
    const cv::Point2d middle = middle_of(best->corners);
    // Rounded corners: the hull stays away from where the sides would meet.
    double away = 0;
    for (const auto& c : best->corners) {
        double nearest = 1e9;
        for (const auto& p : *hull)
            nearest = std::min(nearest, cv::norm((cv::Point2d(p) + cv::Point2d(0.5, 0.5)) * (1 / scale) -
                                                 cv::Point2d(0.5, 0.5) - c));
        away += nearest / cv::norm(c - middle) / static_cast<double>(best->corners.size());
    }
    best->rounded = away > kRounded;
    for (const double depth : {0.025, 0.06, 0.12}) {  // an ornament has glaze on one side or the other
        std::vector<cv::Point2d> places;
        for (std::size_t i = 0; i < best->corners.size(); ++i)
            for (int k = 0; k < 24; ++k) {
                const cv::Point2d a = best->corners[i], b = best->corners[(i + 1) % best->corners.size()],
                                  p = a + (b - a) * (0.2 + 0.6 * (k + 0.5) / 24);
                places.push_back(p + (middle - p) * depth);
            }
        best->evenness = std::max(best->evenness, middle_colour(bgr, places).even);
    }
    return best;
}

bool surely_round(const cv::Mat& bgr, const RimFound& rim) {
    constexpr double kFollowed = 0.93;  // more than any polygon could be seen better
    return rim.visible == 1 && rim.seen > kFollowed && !is_a_well(bgr, rim.hoop);
}

bool polygon_is_the_piece(const cv::Mat& bgr, const PolygonFound& polygon, const std::optional<RimFound>& rim) {
    constexpr double kLeastOfPicture = 0.09;  // of the longer side: boxes and labels are smaller
    if (polygon.evenness < 0.75) return false;
    const Axes outer = axes_of(polygon.touching);
    if (outer.b < kLeastOfPicture * std::max(bgr.cols, bgr.rows)) return false;
    const bool built_so = polygon.corners.size() == 8 || polygon.rounded;
    if (!rim) return built_so;
    const cv::Point2d middle = middle_of(polygon.corners);
    const Axes inner = axes_of(rim->hoop);
    std::vector<cv::Point2f> area(polygon.corners.begin(), polygon.corners.end());
    if (cv::pointPolygonTest(area, rim->hoop.centre, false) < 0) {  // two things: which was photographed?
        const cv::Point2d centre(bgr.cols / 2.0, bgr.rows / 2.0);
        return built_so && polygon.seen > 0.9 * rim->seen && outer.b > inner.a &&
               cv::norm(middle - centre) < 0.6 * cv::norm(rim->hoop.centre - centre);
    }
    // A ring that fits the sides themselves: which is followed further?
    if (inner.a > 0.97 * outer.a) return polygon.seen > rim->seen / rim->visible + 0.1;
    return cv::norm(rim->hoop.centre - middle) <= 0.12 * outer.b && is_a_well(bgr, rim->hoop);
}

}  // namespace footring::photo

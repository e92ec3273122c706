// SPDX-License-Identifier: Apache-2.0
#include "photo/card.h"

#include <algorithm>
#include <cmath>
#include <opencv2/aruco.hpp>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/card_layout.h"
#include "photo/reduced.h"
#include "photo/sampling.h"

namespace footring::photo {

namespace {

using Corners = std::array<cv::Point2d, 4>;
struct Sighting {
    int id;
    Corners corners;  // mat pixels of the whole photograph, clockwise from the marker's own top left
};

// Quads are sought at this size; what is too small there to be decoded is decoded in the whole photograph.
constexpr int kSearchLongest = 1600;
constexpr double kFewestSearchSide = 8;  // px at the size of the search
constexpr double kFewestSide = 12;       // px in the photograph: two for each cell, below which bits are guesses

// Correlation of a marker's cells with the true ones, and its lead over the next of the sixteen. On 10 000 quads of
// texture none reached both; markers shaken by half a cell do.
constexpr double kLeastAlike = 0.72, kLeastLead = 0.12;

double shortest_side(const Corners& c) {
    double out = 1e9;
    for (std::size_t i = 0; i < 4; ++i) out = std::min(out, cv::norm(c[i] - c[(i + 1) % 4]));
    return out;
}

double brightness(const cv::Mat& bgr, cv::Point2d p) {
    const cv::Vec3f l = light_at(bgr, p);
    return 0.2 * l[0] + 0.6 * l[1] + 0.2 * l[2];
}

// The straight edge between two corners of a dark square on white, to a fraction of a pixel: where brightness, as
// light, rises most steeply outwards, along normals; a line through these by least squares, without outliers.
struct EdgeLine {
    cv::Point2d at, along;
};
std::optional<EdgeLine> edge_between(const cv::Mat& bgr, cv::Point2d from, cv::Point2d to, double reach) {
    const double length = cv::norm(to - from);
    const cv::Point2d along = (to - from) * (1 / length), out(along.y, -along.x);  // clockwise, y down: outwards
    constexpr int kNormals = 20;
    constexpr double kStep = 0.5;
    const int steps = static_cast<int>(std::ceil(reach / kStep));
    std::vector<cv::Point2d> found;
    std::vector<double> profile(static_cast<std::size_t>(2 * steps + 1));
    for (int i = 0; i < kNormals; ++i) {
        const cv::Point2d foot = from + along * (length * (0.1 + 0.8 * (i + 0.5) / kNormals));
        bool inside = true;
        for (int k = -steps; k <= steps && inside; ++k) {
            const cv::Point2d p = foot + out * (k * kStep);
            inside = within(bgr, p);
            if (inside) profile[static_cast<std::size_t>(k + steps)] = brightness(bgr, p);
        }
        if (!inside) continue;
        // Rise over one pixel; two samples on each side.
        double best = 0;
        int best_at = -1;
        const auto rise = [&](int k) {
            return profile[static_cast<std::size_t>(k + 1)] - profile[static_cast<std::size_t>(k - 1)] +
                   0.5 * (profile[static_cast<std::size_t>(k + 2)] - profile[static_cast<std::size_t>(k - 2)]);
        };
        for (int k = 2; k + 2 <= 2 * steps; ++k)
            if (rise(k) > best) best = rise(k), best_at = k;
        if (best_at < 3 || best_at + 3 > 2 * steps) continue;
        const double l = rise(best_at - 1), m = best, r = rise(best_at + 1);
        const double bend = l - 2 * m + r;
        const double sub = bend < 0 ? std::clamp(0.5 * (l - r) / bend, -0.5, 0.5) : 0;
        found.push_back(foot + out * ((best_at + sub - steps) * kStep));
    }
    if (found.size() < kNormals / 2) return std::nullopt;
    // Offsets from the guess as a line in t, robustly.
    std::vector<double> t, d, w(found.size(), 1);
    for (const auto& p : found) {
        t.push_back((p - from).dot(along) / length - 0.5);
        d.push_back((p - from).dot(out));
    }
    double shift = 0, slope = 0;
    for (int round = 0; round < 6; ++round) {
        double sw = 0, st = 0, stt = 0, sd = 0, std_ = 0;
        for (std::size_t i = 0; i < t.size(); ++i) {
            sw += w[i];
            st += w[i] * t[i];
            stt += w[i] * t[i] * t[i];
            sd += w[i] * d[i];
            std_ += w[i] * t[i] * d[i];
        }
        const double det = sw * stt - st * st;
        if (std::abs(det) < 1e-9) return std::nullopt;
        slope = (sw * std_ - st * sd) / det;
        shift = (sd - slope * st) / sw;
        std::vector<double> rest;
        for (std::size_t i = 0; i < t.size(); ++i) rest.push_back(std::abs(d[i] - shift - slope * t[i]));
        std::vector<double> sorted = rest;
        std::nth_element(sorted.begin(), sorted.begin() + static_cast<std::ptrdiff_t>(sorted.size() / 2),
                         sorted.end());
        const double scale = std::max(0.05, 1.4826 * sorted[sorted.size() / 2]);
        for (std::size_t i = 0; i < t.size(); ++i) {
            const double u = rest[i] / (3 * scale);
            w[i] = u < 1 ? (1 - u * u) * (1 - u * u) : 0;
        }
    }
    const auto on = [&](double at) { return from + along * (length * (at + 0.5)) + out * (shift + slope * at); };
    const cv::Point2d a = on(-0.5), b = on(0.5);
    return EdgeLine{a, (b - a) * (1 / cv::norm(b - a))};
}

std::optional<cv::Point2d> crossing(const EdgeLine& a, const EdgeLine& b) {
    const double det = a.along.cross(b.along);
    if (std::abs(det) < 0.1) return std::nullopt;
    return a.at + a.along * ((b.at - a.at).cross(b.along) / det);
}

// The corners of a marker to a fraction of a pixel; absent when no dark square stands there.
std::optional<Corners> refined(const cv::Mat& bgr, const Corners& guess, double reach) {
    Corners now = guess;
    for (int round = 0; round < 2; ++round) {
        std::array<EdgeLine, 4> sides;
        for (std::size_t i = 0; i < 4; ++i) {
            const auto side =
                edge_between(bgr, now[i], now[(i + 1) % 4], round == 0 ? reach : std::max(3.0, reach / 2));
            if (!side) return std::nullopt;
            sides[i] = *side;
        }
        Corners next;
        for (std::size_t i = 0; i < 4; ++i) {
            const auto corner = crossing(sides[(i + 3) % 4], sides[i]);
            if (!corner || cv::norm(*corner - guess[i]) > 2 * reach + 2) return std::nullopt;
            next[i] = *corner;
        }
        now = next;
    }
    return now;
}

cv::Matx33d homography_of(const Corners& to, const Corners& from) {
    std::array<cv::Point2f, 4> a, b;
    for (std::size_t i = 0; i < 4; ++i) a[i] = from[i], b[i] = to[i];
    return cv::Matx33d(cv::getPerspectiveTransform(a.data(), b.data()));
}

// The number and turn of the marker whose black square has these corners. Cells are compared with all four markers
// in all four turns by correlation, which bears blur and shadow; the best must be good, and far better than the
// next.
std::optional<Sighting> decoded(const cv::Mat& bgr, const Corners& corners) {
    const cv::Matx33d photo_from_cell = homography_of(corners, rectangle_mm(0, 0, kMarkerCells, kMarkerCells));
    std::array<std::array<double, kMarkerCells>, kMarkerCells> cell{};
    double low = 2, high = -1;
    for (std::size_t y = 0; y < kMarkerCells; ++y)
        for (std::size_t x = 0; x < kMarkerCells; ++x) {
            double sum = 0;
            for (int i = 0; i < 9; ++i) {
                const cv::Point2d p = through(photo_from_cell, {static_cast<double>(x) + 0.3 + 0.2 * (i % 3),
                                                                static_cast<double>(y) + 0.3 + 0.2 * (i / 3)});
                if (!within(bgr, p)) return std::nullopt;
                sum += std::sqrt(brightness(bgr, p));  // as the eye sees it, so that a shadow moves the middle less
            }
            cell[y][x] = sum / 9;
            low = std::min(low, cell[y][x]);
            high = std::max(high, cell[y][x]);
        }
    if (high - low < 0.10) return std::nullopt;
    double best = -2, second = -2;
    std::optional<Sighting> out;
    for (int id = 0; id < kMarkers; ++id) {
        const auto bits = marker_bits(id);
        for (std::size_t turn = 0; turn < 4; ++turn) {
            double n = 0, sa = 0, sb = 0, saa = 0, sbb = 0, sab = 0;
            for (std::size_t y = 0; y < kMarkerCells; ++y)
                for (std::size_t x = 0; x < kMarkerCells; ++x) {
                    std::size_t u = x, v = y;
                    for (std::size_t k = 0; k < turn; ++k) {
                        const std::size_t old = u;
                        u = kMarkerCells - 1 - v, v = old;  // a quarter turn clockwise
                    }
                    const bool inner = x > 0 && y > 0 && x + 1 < kMarkerCells && y + 1 < kMarkerCells;
                    const double truth = inner && bits[y - 1][x - 1] ? 1 : 0, is = cell[v][u];
                    ++n, sa += truth, sb += is, saa += truth * truth, sbb += is * is, sab += truth * is;
                }
            const double spread = (n * saa - sa * sa) * (n * sbb - sb * sb);
            const double r = spread > 0 ? (n * sab - sa * sb) / std::sqrt(spread) : -1;
            if (r > best) {
                second = best, best = r;
                out = Sighting{id, {}};
                // The marker's own top left is seen `turn` corners further round.
                for (std::size_t i = 0; i < 4; ++i) out->corners[i] = corners[(i + turn) % 4];
            } else {
                second = std::max(second, r);
            }
        }
    }
    if (best < kLeastAlike || best - second < kLeastLead) return std::nullopt;
    return out;
}

// A quick look, because pictures hold hundreds of quads: darker just inside its sides than just outside.
bool dark_on_white(const cv::Mat& bgr, const Corners& c) {
    const cv::Point2d middle = (c[0] + c[1] + c[2] + c[3]) * 0.25;
    int right = 0;
    for (std::size_t i = 0; i < 4; ++i)
        for (const double along : {0.3, 0.7}) {
            const cv::Point2d side = c[i] + (c[(i + 1) % 4] - c[i]) * along, in = side + (middle - side) * 0.17,
                              out = side - (middle - side) * 0.2;
            if (!within(bgr, in) || !within(bgr, out)) return false;
            right += std::sqrt(brightness(bgr, in)) + 0.06 < std::sqrt(brightness(bgr, out));
        }
    return right >= 7;
}

std::vector<Sighting> sightings_in(const cv::Mat& bgr) {
    const double scale = std::max(1.0, static_cast<double>(std::max(bgr.cols, bgr.rows)) / kSearchLongest);
    const cv::Mat small = reduced(bgr, 1 / scale);
    cv::Mat grey;
    cv::cvtColor(small, grey, cv::COLOR_BGR2GRAY);

    const double sx = static_cast<double>(bgr.cols) / grey.cols, sy = static_cast<double>(bgr.rows) / grey.rows;
    std::vector<Sighting> out;
    const auto all_seen = [&] {
        for (int id = 0; id < kMarkers; ++id)
            if (std::ranges::count(out, id, &Sighting::id) != 1) return false;
        return true;
    };
    // (the finest last: it makes a contour of every grain)
    for (const int window : {27, 61, 9}) {
        if (all_seen()) break;
        cv::Mat dark;
        cv::adaptiveThreshold(grey, dark, 255, cv::ADAPTIVE_THRESH_MEAN_C, cv::THRESH_BINARY_INV, window, 8);
        std::vector<std::vector<cv::Point>> contours;
        cv::findContours(dark, contours, cv::RETR_LIST, cv::CHAIN_APPROX_NONE);
        for (const auto& contour : contours) {
            const auto length = static_cast<double>(contour.size());
            if (length < 4 * kFewestSearchSide || length > 2.0 * (grey.cols + grey.rows)) continue;
            std::vector<cv::Point> quad;
            cv::approxPolyDP(contour, quad, 0.06 * length, true);
            if (quad.size() != 4 || !cv::isContourConvex(quad)) continue;
            if ((quad[1] - quad[0]).cross(quad[2] - quad[1]) < 0) std::swap(quad[1], quad[3]);  // clockwise, y down
            Corners guess;
            for (std::size_t i = 0; i < 4; ++i)
                guess[i] = {(quad[i].x + 0.5) * sx - 0.5, (quad[i].y + 0.5) * sy - 0.5};
            const double side = shortest_side(guess);
            if (side < std::max(kFewestSide, kFewestSearchSide * 0.7 * scale) || !dark_on_white(bgr, guess))
                continue;
            const auto known = [&](const Corners& c) {
                return cv::norm(c[0] + c[2] - guess[0] - guess[2]) < 0.5 * side;
            };
            if (std::any_of(out.begin(), out.end(), [&](const Sighting& s) { return known(s.corners); })) continue;
            const auto fine = refined(bgr, guess, std::max(2 + 1.5 * scale, 0.08 * side));
            if (!fine) continue;
            if (auto marker = decoded(bgr, *fine)) out.push_back(*marker);
        }
    }
    return out;
}

struct CardFit {
    cv::Matx33d photo_from_card;
    double rms = 0;  // px, per coordinate, of the corners used
    std::vector<const Sighting*> used;
};

// The corners of a marker that has grown by `swollen` mm on each side.
Corners swollen_mm(int id, double swollen) {
    return rectangle_mm(marker_mm(id)[0].x - swollen, marker_mm(id)[0].y - swollen, kMarkerMm + 2 * swollen,
                        kMarkerMm + 2 * swollen);
}

std::optional<cv::Matx33d> homography(const std::vector<const Sighting*>& sightings, double swollen = 0) {
    std::vector<cv::Point2d> mm, px;
    for (const auto* s : sightings) {
        const auto corners = swollen_mm(s->id, swollen);
        mm.insert(mm.end(), corners.begin(), corners.end());
        px.insert(px.end(), s->corners.begin(), s->corners.end());
    }
    const cv::Mat h = cv::findHomography(mm, px, 0);
    if (h.empty()) return std::nullopt;
    return cv::Matx33d(h);
}

double rms_of(const cv::Matx33d& h, const Sighting& s, double swollen = 0) {
    const auto mm = swollen_mm(s.id, swollen);
    double sum = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        const cv::Point2d d = through(h, mm[i]) - s.corners[i];
        sum += d.dot(d);
    }
    return std::sqrt(sum / 8);
}

// The card faces the camera, whole in front of it, and is not mirrored.
bool possible(const cv::Matx33d& h) {
    double least = 1e300, most = -1e300;
    std::array<cv::Point2d, 4> seen;
    const auto corners = card_mm();
    for (std::size_t i = 0; i < 4; ++i) {
        const double w = h(2, 0) * corners[i].x + h(2, 1) * corners[i].y + h(2, 2);
        least = std::min(least, w), most = std::max(most, w);
        seen[i] = through(h, corners[i]);
    }
    if (least * most <= 0 ||
        std::max(std::abs(least), std::abs(most)) > 3 * std::min(std::abs(least), std::abs(most)))
        return false;
    for (std::size_t i = 0; i < 4; ++i)
        if ((seen[(i + 1) % 4] - seen[i]).cross(seen[(i + 2) % 4] - seen[(i + 1) % 4]) <= 0) return false;
    return true;
}

// The largest set of markers that one flat card explains; false markers and a second card agree with none of it.
std::optional<CardFit> agreeing(const std::vector<Sighting>& sightings) {
    std::optional<CardFit> best;
    for (std::size_t i = 0; i < sightings.size(); ++i)
        for (std::size_t j = i + 1; j < sightings.size(); ++j) {
            if (sightings[i].id == sightings[j].id) continue;
            CardFit fit;
            fit.used = {&sightings[i], &sightings[j]};
            auto h = homography(fit.used);
            if (!h || !possible(*h)) continue;
            const auto allowed = [](const Sighting& s) { return 1 + 0.05 * shortest_side(s.corners); };
            if (rms_of(*h, sightings[i]) > allowed(sightings[i]) ||
                rms_of(*h, sightings[j]) > allowed(sightings[j]))
                continue;
            for (int id = 0; id < kMarkers; ++id) {
                if (id == sightings[i].id || id == sightings[j].id) continue;
                const Sighting* nearest = nullptr;
                double least = 1e300;
                for (const auto& s : sightings)
                    if (s.id == id && rms_of(*h, s) < std::min(least, 2 * allowed(s)))
                        nearest = &s, least = rms_of(*h, s);
                if (nearest) fit.used.push_back(nearest);
            }
            h = homography(fit.used);
            if (!h || !possible(*h)) continue;
            fit.photo_from_card = *h;
            double sum = 0;
            for (const auto* s : fit.used) sum += rms_of(*h, *s) * rms_of(*h, *s);
            fit.rms = std::sqrt(sum / static_cast<double>(fit.used.size()));
            if (!best || fit.used.size() > best->used.size() ||
                (fit.used.size() == best->used.size() && fit.rms < best->rms))
                best = fit;
        }
    return best;
}

// A lone marker tells where the others must be; so do two or three.
void look_where_expected(const cv::Mat& bgr, const cv::Matx33d& photo_from_card, double doubt,
                         std::vector<Sighting>& sightings) {
    for (int id = 0; id < kMarkers; ++id) {
        if (std::any_of(sightings.begin(), sightings.end(), [&](const Sighting& s) { return s.id == id; }))
            continue;
        Corners guess;
        const auto mm = marker_mm(id);
        bool inside = true;
        for (std::size_t i = 0; i < 4; ++i) {
            guess[i] = through(photo_from_card, mm[i]);
            inside = inside && within(bgr, guess[i]);
        }
        if (!inside || shortest_side(guess) < kFewestSide) continue;
        const auto fine = refined(bgr, guess, 2 + doubt * shortest_side(guess));
        if (!fine) continue;
        const auto marker = decoded(bgr, *fine);
        if (marker && marker->id == id) sightings.push_back(*marker);
    }
}

}  // namespace

std::array<std::array<bool, 4>, 4> marker_bits(int id) {
    const auto dictionary = cv::aruco::getPredefinedDictionary(cv::aruco::DICT_4X4_50);
    const cv::Mat bits = cv::aruco::Dictionary::getBitsFromByteList(dictionary->bytesList.rowRange(id, id + 1), 4);
    std::array<std::array<bool, 4>, 4> out{};
    for (int y = 0; y < 4; ++y)
        for (int x = 0; x < 4; ++x)
            out[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] = bits.at<uchar>(y, x) != 0;
    return out;
}

std::optional<CardFound> find_card(const Picture& picture) {
    const cv::Mat& bgr = picture.bgr;
    if (bgr.cols < 64 || bgr.rows < 64) return std::nullopt;
    std::vector<Sighting> sightings = sightings_in(bgr);
    if (sightings.empty()) return std::nullopt;
    auto fit = agreeing(sightings);
    if (!fit || fit->used.size() < kMarkers) {
        std::vector<Sighting> more = sightings;
        if (fit) {
            more.clear();
            for (const auto* s : fit->used) more.push_back(*s);
            look_where_expected(bgr, fit->photo_from_card, 0.1, more);
        } else {
            for (const auto& s : sightings) {
                std::vector<Sighting> from_this{s};
                look_where_expected(bgr, homography_of(s.corners, marker_mm(s.id)), 0.3, from_this);
                more.insert(more.end(), from_this.begin() + 1, from_this.end());
            }
        }
        sightings = more;
        fit = agreeing(sightings);
    }
    if (!fit) return std::nullopt;

    // A marker that was bent, blurred or half hidden weighs down the rest: it goes when the rest is far better
    // without.
    if (fit->used.size() > 2) {
        std::optional<CardFit> leaner;
        for (std::size_t i = 0; i < fit->used.size(); ++i) {
            CardFit without;
            for (const auto* s : fit->used)
                if (s != fit->used[i]) without.used.push_back(s);
            const auto h = homography(without.used);
            if (!h || !possible(*h)) continue;
            without.photo_from_card = *h;
            double sum = 0;
            for (const auto* s : without.used) sum += rms_of(*h, *s) * rms_of(*h, *s);
            without.rms = std::sqrt(sum / static_cast<double>(without.used.size()));
            if (!leaner || without.rms < leaner->rms) leaner = without;
        }
        if (leaner && leaner->used.size() >= 3 && fit->rms > 0.5 && leaner->rms < fit->rms / 4) fit = leaner;
    }

    // Ink spreads, lenses blur and cameras sharpen: black squares grow or shrink alike on all sides, which is
    // worked out with the rest. The sum of squares is a parabola of it.
    const auto square_sum = [&](double swollen, std::optional<cv::Matx33d>& h) {
        h = homography(fit->used, swollen);
        double sum = 0;
        if (h)
            for (const auto* s : fit->used) sum += std::pow(rms_of(*h, *s, swollen), 2);
        return h ? sum / static_cast<double>(fit->used.size()) : 1e9;
    };
    std::optional<cv::Matx33d> h;
    constexpr double kProbe = 0.1, kMostSwollen = 0.6;  // mm
    const double less = square_sum(-kProbe, h), none = square_sum(0, h), more = square_sum(kProbe, h);
    const double bend = less - 2 * none + more;
    double swollen = bend > 0 ? std::clamp(kProbe * 0.5 * (less - more) / bend, -kMostSwollen, kMostSwollen) : 0;
    double rest = square_sum(swollen, h);
    if (!h || rest > none) swollen = 0, rest = square_sum(0, h);
    if (!h) return std::nullopt;

    CardFound out;
    out.photo_from_card = *h * (1 / (*h)(2, 2));
    const double corners = 4.0 * static_cast<double>(fit->used.size());
    // Nine numbers were fitted; half a tenth of a pixel is what corners hold even where the residual is less.
    out.sigma_px = std::max(0.05, std::sqrt(rest * 2 * corners / (2 * corners - 9)));
    for (const auto* s : fit->used) {
        const auto id = static_cast<std::size_t>(s->id);
        const auto mm = marker_mm(s->id), grown = swollen_mm(s->id, swollen);
        out.seen.seen[id] = true;
        for (std::size_t i = 0; i < 4; ++i)  // where the corner would be without
            out.seen.markers[id][i] = px_from_mat(s->corners[i] + through(out.photo_from_card, mm[i]) -
                                                  through(out.photo_from_card, grown[i]));
    }
    for (int id = 0; id < kMarkers; ++id) {
        const auto k = static_cast<std::size_t>(id);
        if (out.seen.seen[k]) continue;
        const auto mm = marker_mm(id);
        for (std::size_t i = 0; i < 4; ++i)
            out.seen.markers[k][i] = px_from_mat(through(out.photo_from_card, mm[i]));
    }
    const auto card = card_mm();
    for (std::size_t i = 0; i < 4; ++i) out.seen.corners[i] = px_from_mat(through(out.photo_from_card, card[i]));
    return out;
}

}  // namespace footring::photo

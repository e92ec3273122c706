// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <span>

#include "photo/letters.h"

namespace footring::photo {

namespace {

constexpr double kRad = std::numbers::pi / 180;
constexpr double kLeastQuality = 1.6;  // of the best line: about three letters that lie well
constexpr std::size_t kMostLines = 8;
constexpr double kLowest = 4.5;         // px, of capitals: lower ones cannot be told from grain
constexpr std::size_t kSampled = 4000;  // pixels that decide about the angle

double quantile(std::vector<double> values, double share) {
    if (values.empty()) return 0;
    const auto at = static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1) + 0.5);
    std::ranges::nth_element(values, values.begin() + at);
    return values[static_cast<std::size_t>(at)];
}

// One letter in the frame of a line: along it and across it, px.
struct Extent {
    std::size_t letter;
    double u_from, u_to, v_from, v_to;
    double u() const { return (u_from + u_to) / 2; }
    double v() const { return (v_from + v_to) / 2; }
    double width() const { return u_to - u_from; }
    double height() const { return v_to - v_from; }
};

template <class Along, class Across>
Extent extent_of(const Letter& letter, std::size_t at, Along along, Across across) {
    Extent e{at, 1e9, -1e9, 1e9, -1e9};
    // The outermost pixels decide, and every few of them are outermost.
    const std::size_t step = std::max<std::size_t>(1, letter.pixels.size() / 120);
    for (std::size_t i = 0; i < letter.pixels.size(); i += step) {
        const cv::Point p = letter.pixels[i];
        const double u = along(p), v = across(p);
        e.u_from = std::min(e.u_from, u), e.u_to = std::max(e.u_to, u);
        e.v_from = std::min(e.v_from, v), e.v_to = std::max(e.v_to, v);
    }
    e.u_from -= 0.5, e.u_to += 0.5, e.v_from -= 0.5, e.v_to += 0.5;
    return e;
}

// About the number of letters, less the worse they lie: off the line, of different heights, over each other.
struct Judged {
    double quality = 0, height = 0;
};
Judged judge(std::span<const Extent> line, bool straight) {
    std::vector<double> heights;
    for (const Extent& e : line) heights.push_back(e.height());
    Judged out;
    out.height = quantile(heights, 0.6);
    const double h = std::max(out.height, 1.0);
    double n = 0, su = 0, sv = 0, suu = 0, suv = 0, sh = 0, shh = 0, letters = 0;
    for (const Extent& e : line) {
        if (e.height() < 0.5 * h || e.height() > 1.8 * h) continue;  // stops, hyphens, flourishes
        ++n, su += e.u(), sv += e.v(), suu += e.u() * e.u(), suv += e.u() * e.v();
        sh += e.height(), shh += e.height() * e.height();
        letters += std::clamp(e.width() / (1.1 * h), 1.0, 2.5);  // some touch
    }
    if (n < 2) return out;
    const double spread = suu - su * su / n;
    const double slope = straight && n > 2 && spread > 1e-6 ? (suv - su * sv / n) / spread : 0;
    double residual = 0, covered = 0;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const Extent& e = line[i];
        if (e.height() < 0.5 * h || e.height() > 1.8 * h) continue;
        const double off = e.v() - sv / n - slope * (e.u() - su / n);
        residual += off * off;
        if (i > 0) {
            const double shared = std::min(e.u_to, line[i - 1].u_to) - std::max(e.u_from, line[i - 1].u_from);
            covered += std::clamp(shared / std::max(1.0, std::min(e.width(), line[i - 1].width())), 0.0, 1.0);
        }
    }
    residual = std::sqrt(residual / n) / h;
    const double mean = sh / n, uneven = std::sqrt(std::max(0.0, shh / n - mean * mean)) / mean;
    const double odd = static_cast<double>(line.size()) - n;
    out.quality = std::min(letters, n + 3) * std::exp(-residual * residual / (2 * 0.15 * 0.15)) *
                  std::exp(-uneven * uneven / (2 * 0.25 * 0.25)) * std::exp(-2 * covered / n) * n / (n + odd);
    return out;
}

// --- straight lines
// ------------------------------------------------------------------------------------------------

// How sharply the pixels fall into rows when rows run along each whole degree.
std::array<double, 180> sharpness(const std::vector<Letter>& letters) {
    std::size_t all = 0;
    for (const Letter& letter : letters) all += letter.pixels.size();
    const std::size_t step = std::max<std::size_t>(1, all / kSampled);
    std::vector<cv::Point> sample;
    std::size_t at = 0;
    for (const Letter& letter : letters)
        for (const cv::Point p : letter.pixels)
            if (at++ % step == 0) sample.push_back(p);
    int left = 1 << 20, top = 1 << 20, right = 0, bottom = 0;
    for (const cv::Point p : sample) {
        left = std::min(left, p.x), top = std::min(top, p.y), right = std::max(right, p.x),
        bottom = std::max(bottom, p.y);
    }
    const double cx = (left + right) / 2.0, cy = (top + bottom) / 2.0;
    const int half = static_cast<int>(std::hypot(right - left, bottom - top) / 2) + 2;
    std::array<double, 180> out{};
    std::vector<int> rows;
    for (int degree = 0; degree < 180; ++degree) {
        rows.assign(static_cast<std::size_t>(2 * half + 1), 0);
        const double s = std::sin(degree * kRad), c = std::cos(degree * kRad);
        for (const cv::Point p : sample)
            ++rows[static_cast<std::size_t>(std::lround(-(p.x - cx) * s + (p.y - cy) * c) + half)];
        for (const int row : rows) out[static_cast<std::size_t>(degree)] += static_cast<double>(row) * row;
    }
    return out;
}

std::vector<int> likely_angles(const std::array<double, 180>& sharp) {
    std::vector<int> out;
    std::array<bool, 180> near{};
    const double best = *std::ranges::max_element(sharp);
    while (out.size() < 3) {
        int peak = -1;
        for (int d = 0; d < 180; ++d)
            if (!near[static_cast<std::size_t>(d)] &&
                (peak < 0 || sharp[static_cast<std::size_t>(d)] > sharp[static_cast<std::size_t>(peak)]))
                peak = d;
        if (peak < 0 || sharp[static_cast<std::size_t>(peak)] < 0.55 * best) break;
        out.push_back(peak);
        for (int d = -20; d <= 20; ++d) near[static_cast<std::size_t>((peak + d + 180) % 180)] = true;
    }
    return out;
}

std::vector<TextLine> straight_lines(const std::vector<Letter>& letters, double degree) {
    const double s = std::sin(degree * kRad), c = std::cos(degree * kRad);
    std::vector<Extent> all;
    std::vector<double> heights;
    for (std::size_t i = 0; i < letters.size(); ++i) {
        all.push_back(extent_of(
            letters[i], i, [&](cv::Point p) { return p.x * c + p.y * s; },
            [&](cv::Point p) { return -p.x * s + p.y * c; }));
        heights.push_back(all.back().height());
    }
    const double h = std::max(3.0, quantile(heights, 0.6));
    std::ranges::sort(all, {}, &Extent::v);
    std::vector<std::vector<Extent>> rows;
    double sum = 0;
    for (const Extent& e : all) {
        if (rows.empty() || e.v() - sum / static_cast<double>(rows.back().size()) > 0.55 * h)
            rows.emplace_back(), sum = 0;
        rows.back().push_back(e);
        sum += e.v();
    }
    std::vector<TextLine> out;
    const auto add = [&](std::span<const Extent> piece) {
        TextLine line;
        const Judged judged = judge(piece, true);
        line.quality = piece.size() == 1 ? 0.2 : judged.quality;
        line.height = judged.height;
        line.angle_deg = degree > 90 ? degree - 180 : degree;
        const double turn = degree > 90 ? -1 : 1;  // u and v of the angle that is written down
        line.u_from = line.v_from = 1e9, line.u_to = line.v_to = -1e9;
        for (const Extent& e : piece) {
            line.letters.push_back(e.letter);
            line.u_from = std::min({line.u_from, turn * e.u_from, turn * e.u_to});
            line.u_to = std::max({line.u_to, turn * e.u_from, turn * e.u_to});
            line.v_from = std::min({line.v_from, turn * e.v_from, turn * e.v_to});
            line.v_to = std::max({line.v_to, turn * e.v_from, turn * e.v_to});
        }
        if (turn < 0) std::ranges::reverse(line.letters);
        out.push_back(std::move(line));
    };
    for (std::vector<Extent>& row : rows) {
        std::ranges::sort(row, {}, &Extent::u);
        std::size_t from = 0;
        double reached = row.front().u_to;
        for (std::size_t i = 1; i <= row.size(); ++i) {
            if (i < row.size() && row[i].u_from - reached < 2.6 * h) {
                reached = std::max(reached, row[i].u_to);
                continue;
            }
            add(std::span(row).subspan(from, i - from));
            from = i;
            if (i < row.size()) reached = row[i].u_to;
        }
    }
    return out;
}

double worth(const std::vector<TextLine>& lines) {
    double out = 0;
    for (const TextLine& line : lines)
        if (line.letters.size() > 1) out += line.quality;
    return out;
}

std::vector<TextLine> best_straight(const std::vector<Letter>& letters) {
    if (letters.empty()) return {};
    std::vector<TextLine> best;
    for (const int degree : likely_angles(sharpness(letters)))
        if (auto lines = straight_lines(letters, degree); best.empty() || worth(lines) > worth(best))
            best = std::move(lines);
    return best;
}

// --- lines round a circle
// ------------------------------------------------------------------------------------------

struct Circle {
    cv::Point2d centre;
    double radius = 0;
};
std::optional<Circle> through_three(cv::Point2d a, cv::Point2d b, cv::Point2d c) {
    const cv::Point2d ab = b - a, ac = c - a;
    const double cross = 2 * (ab.x * ac.y - ab.y * ac.x);
    if (std::abs(cross) < 1e-6) return std::nullopt;
    const double b2 = ab.dot(ab), c2 = ac.dot(ac);
    const cv::Point2d from_a((ac.y * b2 - ab.y * c2) / cross, (ab.x * c2 - ac.x * b2) / cross);
    return Circle{a + from_a, cv::norm(from_a)};
}
// Least squares of x^2 + y^2 = 2 cx x + 2 cy y + k (Kasa, IEEE Trans. Instrumentation and Measurement 25(1), 1976).
std::optional<Circle> fitted(const std::vector<cv::Point2d>& points) {
    cv::Matx33d normal = cv::Matx33d::zeros();
    cv::Vec3d right(0, 0, 0);
    const cv::Point2d o = points.front();
    for (const cv::Point2d& p : points) {
        const cv::Vec3d row(p.x - o.x, p.y - o.y, 1);
        normal += row * row.t();
        right += row * (row[0] * row[0] + row[1] * row[1]);
    }
    cv::Vec3d x;
    if (!cv::solve(normal, right, x, cv::DECOMP_CHOLESKY)) return std::nullopt;
    const double cx = x[0] / 2, cy = x[1] / 2, square = x[2] + cx * cx + cy * cy;
    if (!(square > 0)) return std::nullopt;
    return Circle{{cx + o.x, cy + o.y}, std::sqrt(square)};
}

std::vector<TextLine> arcs_of(const std::vector<Letter>& letters, const Circle& circle,
                              const std::vector<std::size_t>& members, double size) {
    std::vector<Extent> all;
    for (const std::size_t i : members) {
        const cv::Point2d from = letters[i].middle - circle.centre;
        const double own = std::atan2(from.y, from.x);
        all.push_back(extent_of(
            letters[i], i,
            [&](cv::Point p) {  // px along the circle
                double a = std::atan2(p.y - circle.centre.y, p.x - circle.centre.x) - own;
                if (a > std::numbers::pi) a -= 2 * std::numbers::pi;
                if (a < -std::numbers::pi) a += 2 * std::numbers::pi;
                return (own + a) * circle.radius;
            },
            [&](cv::Point p) { return std::hypot(p.x - circle.centre.x, p.y - circle.centre.y); }));
    }
    std::ranges::sort(all, {}, &Extent::u);
    // Begin after the widest gap, so that no line is cut at the angle of 180 degrees.
    const double turn = 2 * std::numbers::pi * circle.radius;
    std::size_t first = 0;
    double widest = all.front().u_from + turn - all.back().u_to;
    for (std::size_t i = 1; i < all.size(); ++i)
        if (all[i].u_from - all[i - 1].u_to > widest) widest = all[i].u_from - all[i - 1].u_to, first = i;
    std::ranges::rotate(all, all.begin() + static_cast<std::ptrdiff_t>(first));
    for (std::size_t i = 1; i < all.size(); ++i)
        if (all[i].u() < all[0].u()) all[i].u_from += turn, all[i].u_to += turn;

    std::vector<TextLine> out;
    const auto add = [&](std::span<const Extent> piece) {
        const Judged judged = judge(piece, false);
        const double arc = (piece.back().u_to - piece.front().u_from) / circle.radius;
        const double rise = circle.radius * (1 - std::cos(std::min(arc, 2 * std::numbers::pi) / 2));
        if (piece.size() < 4 || rise < 0.8 * judged.height || judged.quality < kLeastQuality) return;
        TextLine line;
        line.curved = true;
        line.centre = circle.centre;
        double middle = 0;
        for (const Extent& e : piece) {
            line.letters.push_back(e.letter);
            middle += e.v() / static_cast<double>(piece.size());
        }
        line.radius = middle;
        line.from_deg = piece.front().u_from / circle.radius / kRad;
        line.to_deg = piece.back().u_to / circle.radius / kRad;
        line.height = judged.height;
        line.quality = judged.quality;
        out.push_back(std::move(line));
    };
    std::size_t from = 0;
    for (std::size_t i = 1; i <= all.size(); ++i)
        if (i == all.size() || all[i].u_from - all[i - 1].u_to > 2.2 * size) {
            add(std::span(all).subspan(from, i - from));
            from = i;
        }
    return out;
}

std::vector<TextLine> best_arcs(const std::vector<Letter>& letters) {
    constexpr int kTries = 400;
    constexpr std::size_t kMostOnCircles = 150;  // a mark has fewer letters; what has more is an ornament
    if (letters.size() < 5 || letters.size() > kMostOnCircles) return {};
    std::vector<double> sizes;
    for (const Letter& letter : letters) sizes.push_back(letter.size);
    const double size = quantile(sizes, 0.5);
    cv::RNG random(20011);  // always the same tries
    std::vector<TextLine> best;
    std::size_t most_members = 0;
    const auto count = static_cast<int>(letters.size());
    for (int attempt = 0; attempt < kTries; ++attempt) {
        const auto a = static_cast<std::size_t>(random.uniform(0, count)),
                   b = static_cast<std::size_t>(random.uniform(0, count)),
                   c = static_cast<std::size_t>(random.uniform(0, count));
        if (a == b || b == c || a == c) continue;
        auto circle = through_three(letters[a].middle, letters[b].middle, letters[c].middle);
        std::vector<std::size_t> members;
        for (int round = 0; round < 2 && circle; ++round) {
            if (circle->radius < 1.5 * size || circle->radius > 60 * size) {
                circle.reset();
                break;
            }
            members.clear();
            std::vector<cv::Point2d> middles;
            for (std::size_t i = 0; i < letters.size(); ++i)
                if (std::abs(cv::norm(letters[i].middle - circle->centre) - circle->radius) < 0.28 * size) {
                    members.push_back(i);
                    middles.push_back(letters[i].middle);
                }
            if (members.size() < 5) circle.reset();
            else if (round == 0) circle = fitted(middles);
        }
        if (!circle || members.size() + 1 < most_members) continue;  // a little fewer may lie better
        most_members = std::max(most_members, members.size());
        auto lines = arcs_of(letters, *circle, members, size);
        if (worth(lines) > worth(best)) best = std::move(lines);
    }
    return best;
}

}  // namespace

std::vector<TextLine> lines_of(const std::vector<Letter>& letters) {
    std::vector<TextLine> lines = best_straight(letters);
    std::vector<TextLine> curved = best_arcs(letters);
    if (!curved.empty()) {
        // What is not on the circle lies straight within it, or on another circle.
        std::vector<bool> taken(letters.size(), false);
        for (const TextLine& line : curved)
            for (const std::size_t i : line.letters) taken[i] = true;
        std::vector<Letter> rest;
        std::vector<std::size_t> at;
        for (std::size_t i = 0; i < letters.size(); ++i)
            if (!taken[i]) rest.push_back(letters[i]), at.push_back(i);
        if (rest.size() > 1 && rest.size() < letters.size())
            for (TextLine line : lines_of(rest)) {
                for (std::size_t& i : line.letters) i = at[i];
                curved.push_back(std::move(line));
            }
        // A circle goes through the letters of straight lines now and then: it must explain clearly more.
        if (worth(curved) > 1.15 * worth(lines)) lines = std::move(curved);
    }
    std::ranges::stable_sort(lines, std::ranges::greater{}, &TextLine::quality);
    std::erase_if(lines, [](const TextLine& line) { return line.quality < 0.2 || line.height < kLowest; });
    if (lines.empty() || lines.front().quality < kLeastQuality) return {};
    if (lines.size() > kMostLines) lines.resize(kMostLines);
    return lines;
}

}  // namespace footring::photo

// The ornament in the middle of the well (photo/decoration.h).
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>
#include <numeric>
#include <opencv2/imgproc.hpp>

#include "photo/decoration.h"
#include "photo/ink.h"

namespace footring::photo {

namespace {
constexpr int kSize = 512;             // px for the plate frame from -1.05 to 1.05
constexpr double kUnit = kSize / 2.1;  // px for each plate unit
constexpr double kJoin = 0.06;         // parts nearer than this are one ornament, plate units
constexpr double kLeastInk = 0.0012;   // plate units squared: a sprig 8 mm long on a plate of 250 mm

// The wall of the well, its lines and what is left of the border lie further out than that share of the way from
// the middle; an ornament of the centre may reach there, but does not lie there.
constexpr double kFloor = 0.62;
constexpr double kLeastOnFloor = 0.3;  // of its ink

constexpr double kMostOffCentre = 0.2;  // plate units; a spray may stand off the middle by as much

double x_of(double column) { return (column + 0.5) / kUnit - 1.05; }

// Rings near the border of the well are lines or the shadow of its wall, no ornament of the centre.
void drop_rings(cv::Mat& ink, double aspect, double inside_of) {
    constexpr int kTurns = 180;
    const int rings = static_cast<int>(inside_of * kUnit / 2);
    cv::Mat_<float> cover = cv::Mat_<float>::zeros(std::max(1, rings) + 1, kTurns);
    const auto place = [&](int r, int c, int& ring, int& turn) {
        const double x = x_of(c), y = x_of(r) / aspect, radius = std::hypot(x, y);
        ring = static_cast<int>(radius / inside_of * rings);
        turn = static_cast<int>((std::atan2(y, x) / (2 * std::numbers::pi) + 0.5) * kTurns) % kTurns;
        return ring < rings;
    };
    int ring = 0, turn = 0;
    for (int r = 0; r < kSize; ++r)
        for (int c = 0; c < kSize; ++c)
            if (ink.at<float>(r, c) > 0.4f && place(r, c, ring, turn)) cover(ring, turn) = 1;
    std::vector<bool> lined(static_cast<std::size_t>(rings) + 1, false);
    for (int i = static_cast<int>(0.62 * rings); i < rings; ++i)
        lined[static_cast<std::size_t>(i)] = cv::sum(cover.row(i))[0] > 0.45 * kTurns;
    for (int r = 0; r < kSize; ++r)
        for (int c = 0; c < kSize; ++c) {
            if (!place(r, c, ring, turn)) continue;
            bool near = false;
            for (int k = std::max(0, ring - 2); k <= std::min(rings - 1, ring + 2); ++k)
                near = near || lined[static_cast<std::size_t>(k)];
            if (near) ink.at<float>(r, c) = 0;
        }
}

// An ornament of the centre lies about the middle of the piece, if not quite on it: what lies wholly to one side is
// the edge of a shadow, a lamp's image or a part of the border.
bool about_the_middle(double x, double y, double radius) {
    return std::hypot(x, y) <= std::max(kMostOffCentre, 0.6 * radius);
}

// The heaviest group of parts that lies about the middle. Where none does, all groups that carry a fifth of the
// heaviest one's ink or more: sprays may stand round the middle.
cv::Mat ornament_of(const cv::Mat& ink, double aspect, double inside_of, double& area) {
    cv::Mat solid = ink > 0.5f, joined, labels, boxes, middles;
    const int reach = static_cast<int>(kJoin / 2 * kUnit) | 1;
    cv::morphologyEx(solid, joined, cv::MORPH_DILATE, cv::getStructuringElement(cv::MORPH_ELLIPSE, {reach, reach}));
    const int n = cv::connectedComponentsWithStats(joined, labels, boxes, middles, 8);
    std::vector<double> weight(static_cast<std::size_t>(n), 0.0), on_floor = weight;
    for (int r = 0; r < ink.rows; ++r)
        for (int c = 0; c < ink.cols; ++c) {
            if (!solid.at<uchar>(r, c)) continue;
            const auto label = static_cast<std::size_t>(labels.at<int>(r, c));
            weight[label] += 1;
            on_floor[label] += std::hypot(x_of(c), x_of(r) / aspect) < kFloor * inside_of;
        }
    for (std::size_t i = 0; i < weight.size(); ++i)
        if (i == 0 || on_floor[i] < kLeastOnFloor * weight[i]) weight[i] = 0;
    const double heaviest = *std::max_element(weight.begin(), weight.end());
    area = 0;
    cv::Mat kept = cv::Mat::zeros(ink.size(), CV_8UC1);
    if (heaviest <= 0) return kept;
    int central = 0;
    for (int i = 1; i < n; ++i) {
        const int* box = boxes.ptr<int>(i);
        const double x = box[cv::CC_STAT_LEFT] + (box[cv::CC_STAT_WIDTH] - 1) / 2.0;
        const double y = box[cv::CC_STAT_TOP] + (box[cv::CC_STAT_HEIGHT] - 1) / 2.0;
        const double radius = std::max(box[cv::CC_STAT_WIDTH], box[cv::CC_STAT_HEIGHT]) / 2.0 / kUnit;
        if (about_the_middle(x_of(x), x_of(y), radius) &&
            weight[static_cast<std::size_t>(i)] > weight[static_cast<std::size_t>(central)])
            central = i;
    }
    if (weight[static_cast<std::size_t>(central)] < 0.4 * kLeastInk * kUnit * kUnit) central = 0;
    for (int r = 0; r < ink.rows; ++r)
        for (int c = 0; c < ink.cols; ++c) {
            const int label = labels.at<int>(r, c);
            const bool belongs =
                central > 0 ? label == central : weight[static_cast<std::size_t>(label)] >= 0.2 * heaviest;
            if (!solid.at<uchar>(r, c) || !belongs) continue;
            kept.at<uchar>(r, c) = 255;
            area += 1 / (kUnit * kUnit);
        }
    return kept;
}

// The ring round `ornament`, about nearly the same middle, however worn: empty where there is none.
cv::Mat frame_about(const cv::Mat& ink, const cv::Mat& ornament, cv::Point2d middle, double radius,
                    double inside_of) {
    constexpr int kTurns = 120, kRounds = 3;
    constexpr double kMostOff = 0.05, kWide = 0.05, kNarrow = 0.014, kAllRound = 0.55;  // plate units; share of it
    std::vector<cv::Point2d> about;
    for (int r = 0; r < ink.rows; ++r)
        for (int c = 0; c < ink.cols; ++c) {
            const double away = cv::norm(cv::Point2d(c, r) - middle);
            if (ink.at<float>(r, c) > 0.5f && !ornament.at<uchar>(r, c) && away > radius + 1 &&
                away < kFloor * inside_of * kUnit)
                about.emplace_back(c, r);
        }
    const auto away_from = [](cv::Point2d from, cv::Point2d p) { return cv::norm(p - from); };
    // Where most of it lies is where the ring is, if there is one.
    std::vector<int> at(static_cast<std::size_t>(ink.cols), 0);
    for (const cv::Point2d p : about) ++at[static_cast<std::size_t>(away_from(middle, p))];
    cv::Point2d centre = middle;
    double ring = static_cast<double>(std::max_element(at.begin(), at.end()) - at.begin()), width = kWide * kUnit;
    std::vector<cv::Point2d> on_it;
    for (int round = 0; round < kRounds; ++round, width = kNarrow * kUnit) {
        on_it.clear();
        std::ranges::copy_if(about, std::back_inserter(on_it),
                             [&](cv::Point2d p) { return std::abs(away_from(centre, p) - ring) <= width; });
        if (on_it.size() < kTurns / 2) return {};
        cv::Mat_<double> a(static_cast<int>(on_it.size()), 3), b(static_cast<int>(on_it.size()), 1), circle;
        for (int i = 0; i < a.rows; ++i) {  // x2 + y2 = 2 x cx + 2 y cy + rest
            const cv::Point2d p = on_it[static_cast<std::size_t>(i)] - middle;
            a(i, 0) = 2 * p.x, a(i, 1) = 2 * p.y, a(i, 2) = 1, b(i, 0) = p.dot(p);
        }
        if (!cv::solve(a, b, circle, cv::DECOMP_SVD)) return {};
        const cv::Point2d off(circle(0, 0), circle(1, 0));
        centre = middle + off;
        ring = std::sqrt(std::max(0.0, circle(2, 0) + off.dot(off)));
    }
    if (away_from(middle, centre) > kMostOff * kUnit) return {};
    std::array<bool, kTurns> turns{};
    cv::Mat frame = cv::Mat::zeros(ink.size(), CV_8UC1);
    for (const cv::Point2d p : on_it) {
        frame.at<uchar>(static_cast<int>(p.y), static_cast<int>(p.x)) = 255;
        const double turn = std::atan2(p.y - centre.y, p.x - centre.x) / (2 * std::numbers::pi) + 0.5;
        turns[static_cast<std::size_t>(turn * kTurns) % kTurns] = true;
    }
    if (std::ranges::count(turns, true) < kAllRound * kTurns) return {};
    return frame;
}
}  // namespace

CentreReading read_centre(const Picture& picture, const Plate& plate, const Light& light, double inside_of,
                          const Slope& slope) {
    CentreReading reading;
    // The floor of a plate's well lies little deeper than its rim, that of a bowl where the wall leads.
    constexpr double kWallEnds = 0.3, kShallowest = 0.13, kDeepest = 0.6;
    const double depth = std::clamp(slope.depth(kWallEnds), kShallowest, kDeepest);
    const cv::Mat top = upright(picture, plate, kSize, -depth);
    cv::Mat seen = cv::Mat::zeros(top.size(), CV_8UC1);
    for (int r = 0; r < kSize; ++r)
        for (int c = 0; c < kSize; ++c)
            if (std::hypot(x_of(c), x_of(r) / plate.aspect) < inside_of) seen.at<uchar>(r, c) = 255;
    const auto lit = tell_ink(top, seen, glaze_tone(picture, plate), {.px_per_unit = kUnit, .wraps = false});
    cv::Mat ink = lit.ink.ink.clone();
    drop_rings(ink, plate.aspect, inside_of);
    double area = 0;
    const cv::Mat ornament = ornament_of(ink, plate.aspect, inside_of, area);
    Centre& centre = reading.centre;
    centre.present = area <= 0 ? 0.005 : std::clamp(1 - std::exp(-1.6 * (area / kLeastInk - 0.35)), 0.005, 0.99);
    if (centre.present < 0.3) return reading;
    const auto circle_of = [](const cv::Mat& mask, cv::Point2d& middle, double& radius) {
        std::vector<cv::Point> points;
        cv::findNonZero(mask, points);
        cv::Point2f about;
        float reach = 0;
        cv::minEnclosingCircle(points, about, reach);
        middle = about, radius = static_cast<double>(reach);
    };
    cv::Point2d middle;
    double radius = 0;
    circle_of(ornament, middle, radius);
    centre.radius = radius / kUnit;
    centre.middle = {x_of(middle.x), x_of(middle.y)};
    if (!about_the_middle(centre.middle.x, centre.middle.y, centre.radius)) {
        centre = Centre{};
        centre.present = 0.1;
        return reading;
    }
    const Tint tint = tint_of(lit, ink, ornament, light);
    centre.finish = tint.word;
    const auto shown = [&](const cv::Mat& mask, cv::Point2d about, double reach) {
        const int half = static_cast<int>(std::ceil(reach * 1.06)) + 2;
        const cv::Rect crop(static_cast<int>(std::lround(about.x)) - half,
                            static_cast<int>(std::lround(about.y)) - half, 2 * half + 1, 2 * half + 1);
        const auto cut = [&](const cv::Mat& m, const cv::Scalar& outside) {
            cv::Mat wide;
            cv::copyMakeBorder(m, wide, half, half, half, half, cv::BORDER_CONSTANT, outside);
            return wide(crop + cv::Point(half, half)).clone();
        };
        cv::Mat alone = ink.clone(), near;
        cv::dilate(mask, near, cv::getStructuringElement(cv::MORPH_ELLIPSE, {5, 5}));
        alone.setTo(0, near == 0);
        Ink out;
        out.ink = cut(alone, cv::Scalar(0));
        out.unsure = cut(lit.unsure, cv::Scalar(255));
        out.bgr = cut(lit.ink.bgr, cv::Scalar(255, 255, 255));
        out.finish = tint.word;
        return out;
    };
    reading.seen = shown(ornament, middle, radius);
    if (const cv::Mat frame = frame_about(ink, ornament, middle, radius, inside_of); !frame.empty()) {
        const cv::Mat both = ornament | frame;
        circle_of(both, middle, radius);
        reading.framed = {shown(both, middle, radius), radius / kUnit, {x_of(middle.x), x_of(middle.y)}};
    }
    return reading;
}

}  // namespace footring::photo

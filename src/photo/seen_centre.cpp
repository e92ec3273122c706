// SPDX-License-Identifier: Apache-2.0
#include "photo/seen_centre.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
constexpr double kReach = 1.25, kMove = 0.06;
constexpr int kFurthest = 7;  // steps
}  // namespace

Disc disc_of(const cv::Mat& ink) {
    // Faint traces are noise, of which a large ground holds much.
    double peak = 0;
    cv::minMaxLoc(ink, nullptr, &peak);
    cv::Mat strong;
    cv::threshold(ink, strong, 0.25 * peak, 0, cv::THRESH_TOZERO);
    const cv::Moments m = cv::moments(strong);
    Disc out;
    if (m.m00 <= 0) return {{ink.cols / 2.0, ink.rows / 2.0}, std::max(1.0, ink.rows / 2.0)};
    out.middle = {m.m10 / m.m00, m.m01 / m.m00};
    double square = 0;
    for (int y = 0; y < ink.rows; ++y)
        for (int x = 0; x < ink.cols; ++x)
            square += strong.at<float>(y, x) * (std::pow(x - out.middle.x, 2) + std::pow(y - out.middle.y, 2));
    out.radius = std::max(1.0, 1.4 * std::sqrt(square / m.m00));
    return out;
}

cv::Mat polar(const cv::Mat& ink, const Disc& disc) {
    cv::Mat x(kFine.size(), CV_32FC1), y(kFine.size(), CV_32FC1), out;
    for (int c = 0; c < kFine.columns; ++c) {
        const double angle = 2 * std::numbers::pi * c / kFine.columns, dx = std::cos(angle), dy = std::sin(angle);
        for (int r = 0; r < kFine.rows; ++r) {
            const double radius = (r + 0.5) / kFine.rows * kReach * disc.radius;
            x.at<float>(r, c) = static_cast<float>(disc.middle.x + radius * dx);
            y.at<float>(r, c) = static_cast<float>(disc.middle.y + radius * dy);
        }
    }
    // Far from the middle columns lie wide apart: what is finer than they are must not alias.
    cv::Mat soft;
    const double step = kReach * disc.radius / kFine.rows;
    if (step > 1) cv::GaussianBlur(ink, soft, {}, 0.4 * step);
    else soft = ink;
    cv::remap(soft, out, x, y, cv::INTER_LINEAR, cv::BORDER_CONSTANT, 0);
    return out;
}

std::vector<float> polar_weight(Grid grid) {
    std::vector<float> out(static_cast<std::size_t>(grid.rows));
    const float all = static_cast<float>(grid.rows * grid.rows) / 2;
    for (std::size_t r = 0; r < out.size(); ++r) out[r] = (static_cast<float>(r) + 0.5f) / all;
    return out;
}

SeenCentre::SeenCentre(cv::Mat ink) : ink_(std::move(ink)), disc_(disc_of(ink_)) {
    tile_ = at({0, 0});
    for (const int y : {0, -2, 2, -4, 4, -6, 6})
        for (const int x : {0, -2, 2, -4, 4, -6, 6}) {
            const Waves waves = waves_of(at({x, y}), kCoarse, polar_weight(kCoarse));
            for (const RowMap map : disc_maps()) rough_.push_back({{x, y}, map, mapped(waves, map)});
        }
}

cv::Mat SeenCentre::at(cv::Point move) const {
    Disc moved = disc_;
    moved.middle += cv::Point2d(move) * (kMove * disc_.radius);
    return polar(ink_, moved);
}

SeenCentre::Refined SeenCentre::refined(const Waves& drawing, cv::Point move, RowMap map) {
    RowFit best;
    const auto attempt = [&](cv::Point place, RowMap from, int rounds) {
        if (std::max(std::abs(place.x), std::abs(place.y)) > kFurthest) return false;
        auto found = fine_.find({place.x, place.y});
        if (found == fine_.end())
            found =
                fine_.emplace(std::pair(place.x, place.y), waves_of(at(place), kFine, polar_weight(kFine))).first;
        const RowFit here = best_rows(drawing, found->second, {from}, rounds, true);
        if (here.worth <= best.worth) return false;
        best = here;
        move = place;
        return true;
    };
    attempt(move, map, 1);
    for (bool better = true; better;) {
        better = false;
        const cv::Point from = move;
        for (int y = -1; y <= 1; ++y)
            for (int x = -1; x <= 1; ++x)
                if (x != 0 || y != 0) better = attempt(from + cv::Point(x, y), best.map, 0) || better;
    }
    attempt(move, best.map, 2);
    const cv::Mat& seen = fine_.at({move.x, move.y}).tile;
    return {best, overlap(drawing.tile, seen, best.map, best.fit.turn, drawing.weight)};
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/regions.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
constexpr double kLeastArea = 0.02;    // of the picture
constexpr double kLeastConvex = 0.88;  // share of its hull that a region fills
constexpr int kToBorder = 4;           // px: what is larger reaches the picture's border

cv::Mat lab_of(const cv::Mat& bgr) {
    cv::Mat out;
    bgr.convertTo(out, CV_32F, 1.0 / 255);
    cv::GaussianBlur(out, out, {5, 5}, 1.0);
    cv::cvtColor(out, out, cv::COLOR_BGR2Lab);
    return out;
}

// How unlike the picture's border each pixel is; lightness counts half, because of shadows.
cv::Mat_<float> unlike_border(const cv::Mat& lab) {
    std::vector<cv::Vec3f> border;
    const int margin = 3, step = std::max(1, 2 * (lab.cols + lab.rows) / 120);
    for (int i = 0; i < 2 * (lab.cols + lab.rows); i += step) {
        int x = 0, y = 0;
        if (i < lab.cols) x = i, y = margin;
        else if (i < 2 * lab.cols) x = i - lab.cols, y = lab.rows - 1 - margin;
        else if (i < 2 * lab.cols + lab.rows) x = margin, y = i - 2 * lab.cols;
        else x = lab.cols - 1 - margin, y = i - 2 * lab.cols - lab.rows;
        border.push_back(lab.at<cv::Vec3f>(y, x));
    }
    constexpr float kSame = 1;  // L*a*b*, squared
    cv::Mat_<float> out(lab.size());
    for (int y = 0; y < lab.rows; ++y)
        for (int x = 0; x < lab.cols; ++x) {
            const cv::Vec3f& v = lab.at<cv::Vec3f>(y, x);
            float least = 1e9f;
            for (const auto& b : border) {
                const float l = 0.5f * (v[0] - b[0]), p = v[1] - b[1], q = v[2] - b[2];
                least = std::min(least, l * l + p * p + q * q);
                if (least < kSame) break;  // no matter how much it is so
            }
            out(y, x) = std::min(255.f, 5 * std::sqrt(least));
        }
    return out;
}

}  // namespace

std::optional<std::vector<cv::Point>> region_unlike_border(const cv::Mat& crude, double scale,
                                                           const std::optional<CardFound>& card) {
    cv::Mat distance, mask;
    unlike_border(lab_of(crude)).convertTo(distance, CV_8U);
    if (card) {
        std::vector<cv::Point> area;
        for (const auto& c : card->seen.corners) area.emplace_back(cvRound(c.x * scale), cvRound(c.y * scale));
        cv::fillConvexPoly(distance, area, 0);
        cv::polylines(distance, std::vector<std::vector<cv::Point>>{area}, true, 0, 3);
    }
    const double otsu = cv::threshold(distance, mask, 0, 255, cv::THRESH_BINARY | cv::THRESH_OTSU);
    cv::threshold(distance, mask, std::clamp(0.7 * otsu, 22.0, 60.0), 255, cv::THRESH_BINARY);
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, cv::getStructuringElement(cv::MORPH_ELLIPSE, {5, 5}));
    cv::morphologyEx(mask, mask, cv::MORPH_CLOSE, cv::getStructuringElement(cv::MORPH_ELLIPSE, {9, 9}));
    std::vector<std::vector<cv::Point>> contours;
    cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    const std::vector<cv::Point>* best = nullptr;
    double most = 0;
    for (const auto& contour : contours) {
        const double area = cv::contourArea(contour);
        if (area < kLeastArea * static_cast<double>(crude.total())) continue;
        const cv::Moments m = cv::moments(contour);
        const double off = std::hypot(m.m10 / m.m00 - crude.cols / 2.0, m.m01 / m.m00 - crude.rows / 2.0) /
                           std::hypot(crude.cols, crude.rows);
        const double score = area * std::exp(-off * off / (2 * 0.2 * 0.2));
        if (score > most) most = score, best = &contour;
    }
    if (!best) return std::nullopt;
    std::size_t at_border = 0;
    for (const auto& p : *best) at_border += p.x <= 2 || p.y <= 2 || p.x >= crude.cols - 3 || p.y >= crude.rows - 3;
    if (at_border > best->size() / 12) return std::nullopt;
    std::vector<cv::Point> hull;
    cv::convexHull(*best, hull, true);
    if (cv::contourArea(*best) < 0.9 * cv::contourArea(hull)) return std::nullopt;
    return hull;
}

std::vector<std::vector<cv::Point>> regions_of_one_colour(const cv::Mat& crude) {
    cv::Mat smooth, lab;
    cv::GaussianBlur(crude, smooth, {5, 5}, 1.2);
    cv::cvtColor(smooth, lab, cv::COLOR_BGR2Lab);
    std::vector<std::vector<cv::Point>> out;
    std::vector<cv::Moments> known;
    const auto keep = [&](const std::vector<cv::Point>& contour) {
        const double area = cv::contourArea(contour);
        const cv::Rect box = cv::boundingRect(contour);
        if (area < kLeastArea * static_cast<double>(crude.total()) || box.width > crude.cols - kToBorder ||
            box.height > crude.rows - kToBorder)
            return;
        std::vector<cv::Point> hull;
        cv::convexHull(contour, hull, true);
        if (area < kLeastConvex * cv::contourArea(hull)) return;
        const cv::Moments own = cv::moments(hull);
        const auto alike = [&](const cv::Moments& other) {
            return std::abs(own.m00 / other.m00 - 1) < 0.03 &&
                   std::hypot(own.m10 / own.m00 - other.m10 / other.m00,
                              own.m01 / own.m00 - other.m01 / other.m00) < 3;
        };
        if (std::any_of(known.begin(), known.end(), alike)) return;
        known.push_back(own);
        out.push_back(std::move(hull));
    };
    // Glaze that is lit and shaded much, or cloth nearly of its colour. Lightness of eight bits is 2.55 times that
    // of L*a*b*.
    for (const cv::Scalar& tolerance : {cv::Scalar(55, 9, 9), cv::Scalar(30, 6, 6)})
        for (int i = 0; i < 25; ++i) {
            const cv::Point seed(cvRound(crude.cols * (0.2 + 0.15 * (i % 5))),
                                 cvRound(crude.rows * (0.2 + 0.15 * (i / 5))));
            cv::Mat mask = cv::Mat::zeros(crude.rows + 2, crude.cols + 2, CV_8U);
            const int count = cv::floodFill(lab, mask, seed, cv::Scalar(), nullptr, tolerance, tolerance,
                                            4 | (255 << 8) | cv::FLOODFILL_FIXED_RANGE | cv::FLOODFILL_MASK_ONLY);
            if (count < 0.015 * static_cast<double>(crude.total())) continue;
            for (const int bridge : {3, 5}) {  // px: so wide are stripes and threads by which colour runs out
                cv::Mat opened;
                cv::morphologyEx(mask, opened, cv::MORPH_OPEN,
                                 cv::getStructuringElement(cv::MORPH_ELLIPSE, {bridge, bridge}));
                std::vector<std::vector<cv::Point>> contours;
                cv::findContours(opened, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE, {-1, -1});
                std::for_each(contours.begin(), contours.end(), keep);
            }
        }
    return out;
}

}  // namespace footring::photo

// Specks, uneven glaze and crazing (photo/decoration.h).
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/crazing.h"
#include "photo/decoration.h"
#include "photo/ink.h"

namespace footring::photo {

namespace {
constexpr double kUsualUnitMm = 125;  // without a scale
constexpr double kSpeckFromMm = 0.3, kSpeckToMm = 1.6;
constexpr double kAloneMm = 2.5;  // of bare glaze round a speck
constexpr double kCompanyMm = 6;

double quantile(std::vector<float>& v, double q) {
    const auto at = v.begin() + static_cast<std::ptrdiff_t>(q * static_cast<double>(v.size() - 1));
    std::nth_element(v.begin(), at, v.end());
    return static_cast<double>(*at);
}

// Where glaze is bare: 255. Borders, lines and the centre are left out with a margin.
cv::Mat bare_glaze(int size, const Plate& plate, const RimReading& rim, const CentreReading& centre) {
    cv::Mat bare = cv::Mat::zeros(size, size, CV_8UC1);
    for (int r = 0; r < size; ++r)
        for (int c = 0; c < size; ++c) {
            const double x = -1.05 + 2.1 * (c + 0.5) / size, y = -1.05 + 2.1 * (r + 0.5) / size;
            const double t = 1 - std::hypot(x, y / plate.aspect);
            if (t < 0.03) continue;
            constexpr double kBeside = 0.025;
            if (rim.border.present > 0.3 && t > rim.border.from - kBeside && t < rim.border.to + kBeside) continue;
            const auto on = [&](const Line& line) {
                return line.present > 0.3 && std::abs(t - line.at) < line.width / 2 + kBeside;
            };
            if (on(rim.edge_line) || on(rim.verge_line)) continue;
            if (centre.centre.present > 0.3 &&
                std::hypot(x - centre.centre.middle.x, y - centre.centre.middle.y) < centre.centre.radius + kBeside)
                continue;
            bare.at<uchar>(r, c) = 255;
        }
    return bare;
}

// Whether nothing but bare glaze lies round a spot: what ornament leaves of itself, and the corners of a lamp's
// image, have more of their kind beside them. `inner` and `outer` px from the spot's middle.
bool stands_alone(const cv::Mat& bgr, cv::Point2d middle, double inner, double outer) {
    constexpr double kCalm = 0.11, kLeast = 10;  // of the level; of 255
    std::array<std::vector<float>, 3> around;
    const int reach = static_cast<int>(std::ceil(outer)), x0 = cvRound(middle.x), y0 = cvRound(middle.y);
    for (int dy = -reach; dy <= reach; ++dy)
        for (int dx = -reach; dx <= reach; ++dx) {
            const double away = std::hypot(dx, dy);
            if (away < inner || away > outer) continue;
            const int x = x0 + dx, y = y0 + dy;
            if (x < 0 || y < 0 || x >= bgr.cols || y >= bgr.rows) return false;
            for (std::size_t c = 0; c < 3; ++c) around[c].push_back(bgr.at<cv::Vec3b>(y, x)[static_cast<int>(c)]);
        }
    for (auto& values : around) {
        if (values.size() < 12) return false;
        // (another speck may lie near)
        const double low = quantile(values, 0.06), high = quantile(values, 0.97);
        if (high - low > std::max(kLeast, kCalm * high)) return false;
    }
    return true;
}

// Dots of a drawing lie close to each other; specks fall where they fall, seldom three together.
bool in_company(const std::vector<cv::Point2d>& spots, cv::Point2d spot, double near) {
    return std::count_if(spots.begin(), spots.end(), [&](const cv::Point2d& other) {
               return cv::norm(other - spot) < near;
           }) >= 3;  // and itself
}

cv::Mat grey_of(const cv::Mat& bgr) {
    cv::Mat grey;
    cv::cvtColor(bgr, grey, cv::COLOR_BGR2GRAY);
    return grey;
}

// Spread of the glaze's lightness after what a lamp does to a plate (a smooth fall over it, and a rim that faces
// away) is taken out.
double unevenness_of(const cv::Mat& top, const cv::Mat& bare) {
    constexpr int kTerms = 8;
    cv::Mat lab, calm;
    cv::GaussianBlur(top, calm, {}, 2.0);
    cv::cvtColor(calm, lab, cv::COLOR_BGR2Lab);
    const int size = top.rows;
    const auto terms = [&](int r, int c) {
        const double x = -1.05 + 2.1 * (c + 0.5) / size, y = -1.05 + 2.1 * (r + 0.5) / size, q = x * x + y * y;
        return cv::Vec<double, kTerms>(1, x, y, q, x * q, y * q, x * x - y * y, x * y);
    };
    cv::Vec<double, kTerms> fit = cv::Vec<double, kTerms>::all(0);
    std::vector<float> left;
    double cut = 1e9;
    for (int round = 0; round < 4; ++round) {
        cv::Matx<double, kTerms, kTerms> a = cv::Matx<double, kTerms, kTerms>::eye() * 1e-6;
        cv::Vec<double, kTerms> b = cv::Vec<double, kTerms>::all(0);
        left.clear();
        for (int r = 0; r < size; ++r)
            for (int c = 0; c < size; ++c) {
                if (!bare.at<uchar>(r, c)) continue;
                const auto v = terms(r, c);
                const double l = lab.at<cv::Vec3b>(r, c)[0] / 2.55, off = l - fit.dot(v);
                if (round > 0) left.push_back(static_cast<float>(std::abs(off)));
                if (round > 0 && std::abs(off) > cut) continue;
                a += v * v.t();
                b += v * l;
            }
        if (round > 0 && !left.empty()) cut = std::max(0.5, 3 * 1.4826 * quantile(left, 0.5));
        const cv::Mat solved = cv::Mat(a).inv(cv::DECOMP_SVD) * cv::Mat(b);
        for (int i = 0; i < kTerms; ++i) fit[i] = solved.at<double>(i);
    }
    return left.empty() ? 0 : 1.4826 * quantile(left, 0.5) / 100;
}
}  // namespace

Faults read_faults(const Picture& picture, const Plate& plate, const Light&, const RimReading& rim,
                   const CentreReading& centre) {
    Faults faults;
    const double unit_mm = plate.mm_per_unit.value_or(kUsualUnitMm);
    // as many px as the photograph can give, but no more than specks need
    const double given = plate.outline.rim.a * 2.1, needed = 2.1 * unit_mm / (kSpeckFromMm / 2);
    const int size = static_cast<int>(std::clamp(std::min(given, needed), 200.0, 1400.0));
    const double px_per_mm = size / 2.1 / unit_mm;
    const cv::Mat top = upright(picture, plate, size, -0.08);
    cv::Mat bare;
    cv::resize(bare_glaze(350, plate, rim, centre), bare, top.size(), 0, 0, cv::INTER_NEAREST);
    const cv::Mat grey = grey_of(top);

    // dark spots that are smaller than the ring of glaze round them
    const int reach = std::max(2, static_cast<int>(std::ceil(kSpeckToMm * px_per_mm / 2 + 1)));
    cv::Mat closed, around, dip;
    cv::morphologyEx(grey, closed, cv::MORPH_CLOSE,
                     cv::getStructuringElement(cv::MORPH_RECT, {2 * reach + 1, 2 * reach + 1}));
    // a gap in a lamp's image is as bright as the glaze round it, and no speck
    const int quarter = std::max(1, size / 4);
    cv::resize(grey, around, {quarter, quarter}, 0, 0, cv::INTER_AREA);
    cv::medianBlur(around, around, (std::clamp(static_cast<int>(4 * px_per_mm / 4), 1, 20)) * 2 + 1);
    cv::resize(around, around, grey.size(), 0, 0, cv::INTER_LINEAR);
    // nor is one as wide as a window, whose bars let the glaze be seen
    std::vector<float> usual;
    for (int r = 0; r < size; r += 3)
        for (int c = 0; c < size; c += 5)
            if (bare.at<uchar>(r, c)) usual.push_back(grey.at<uchar>(r, c));
    const double brightest = usual.empty() ? 255 : quantile(usual, 0.6);
    cv::subtract(cv::min(cv::min(closed, around), brightest), grey, dip);
    usual.clear();
    for (int r = 0; r < size; r += 3)
        for (int c = 0; c < size; c += 5)
            if (bare.at<uchar>(r, c)) usual.push_back(dip.at<uchar>(r, c));
    double area_px = cv::countNonZero(bare);
    if (usual.size() > 50) {
        const double middle = quantile(usual, 0.5), spread = 1.4826 * std::max(0.7, quantile(usual, 0.84) - middle);
        const double least = std::max(18.0, middle + 7 * spread);
        const cv::Mat dark = (dip > least) & (bare > 0);
        cv::Mat labels, stats, middles;
        const int n = cv::connectedComponentsWithStats(dark, labels, stats, middles, 8);
        const double smallest = 0.35 * std::pow(kSpeckFromMm * px_per_mm, 2),
                     largest = std::pow(kSpeckToMm * px_per_mm, 2);
        std::vector<cv::Point2d> spots;
        for (int i = 1; i < n; ++i) {
            const int area = stats.at<int>(i, cv::CC_STAT_AREA), w = stats.at<int>(i, cv::CC_STAT_WIDTH),
                      h = stats.at<int>(i, cv::CC_STAT_HEIGHT);
            if (area < std::max(1.0, smallest) || area > largest) continue;
            const int longer = std::max(w, h), shorter = std::min(w, h);
            if (longer > 2.5 * shorter + 1 || area < 0.45 * w * h) continue;  // scratches, cracks
            if (!stands_alone(top, {middles.at<double>(i, 0), middles.at<double>(i, 1)}, longer / 2.0 + 2,
                              longer / 2.0 + std::max(4.0, kAloneMm * px_per_mm)))
                continue;
            spots.emplace_back(middles.at<double>(i, 0), middles.at<double>(i, 1));
        }
        const cv::Matx34d& p = plate.photo_from_plate;
        for (const cv::Point2d& spot : spots) {
            if (in_company(spots, spot, kCompanyMm * px_per_mm)) continue;
            const double x = -1.05 + 2.1 * (spot.x + 0.5) / size, y = -1.05 + 2.1 * (spot.y + 0.5) / size;
            const cv::Vec3d photo = p * cv::Vec4d(x, y, -0.08, 1);
            faults.specks.push_back(px_from_mat({photo[0] / photo[2], photo[1] / photo[2]}));
        }
    }
    const double dm2 = area_px / (px_per_mm * px_per_mm) / 10000;
    faults.specks_per_dm2 = dm2 > 0.02 ? static_cast<double>(faults.specks.size()) / dm2 : 0;

    constexpr int kSmall = 192;
    cv::Mat small, small_bare;
    cv::resize(top, small, {kSmall, kSmall}, 0, 0, cv::INTER_AREA);
    cv::resize(bare, small_bare, {kSmall, kSmall}, 0, 0, cv::INTER_AREA);
    small_bare = small_bare > 250;
    faults.unevenness = unevenness_of(small, small_bare);
    faults.crazing = chance_of_crazing(grey, bare, px_per_mm);
    return faults;
}

}  // namespace footring::photo

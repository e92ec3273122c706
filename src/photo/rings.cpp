// SPDX-License-Identifier: Apache-2.0
#include "photo/rings.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <opencv2/imgproc.hpp>

namespace footring::photo {

namespace {
constexpr int kBlocks = 96;
constexpr float kFilled = 0.80f;     // of a stretch's columns
constexpr double kLeastWhole = 0.2;  // of the rim: a line four fifths worn away
constexpr double kOddWear = 1.4;     // times what even wear bares: it comes in patches

// Coverage of each row in each stretch; -1 where too little is seen.
cv::Mat_<float> coverage(const cv::Mat& ink, const cv::Mat& unsure) {
    cv::Mat over;  // a line may waver by a row
    cv::dilate(ink, over, cv::getStructuringElement(cv::MORPH_RECT, {1, 3}));
    cv::Mat_<float> cover(ink.rows, kBlocks);
    for (int r = 0; r < ink.rows; ++r)
        for (int b = 0; b < kBlocks; ++b) {
            const int from = b * ink.cols / kBlocks, to = (b + 1) * ink.cols / kBlocks;
            int seen = 0, filled = 0;
            for (int c = from; c < to; ++c) {
                if (unsure.at<uchar>(r, c)) continue;
                ++seen;
                filled += over.at<float>(r, c) > 0.45f;
            }
            cover(r, b) = seen * 3 < to - from ? -1.f : static_cast<float>(filled) / static_cast<float>(seen);
        }
    return cover;
}
// Whether some row of the repeat (it may waver by one) is inked from end to end, but for a share `bare`.
bool unbroken(const cv::Mat& whole, int from, int to, double bare) {
    constexpr double kEndToEnd = 0.94, kMostlyThere = 0.6;
    for (int r = std::max(1, from); r < std::min(whole.rows - 1, to); ++r) {
        int filled = 0, seen = 0;
        for (int c = 0; c < whole.cols; ++c) {
            const float most =
                std::max({whole.at<float>(r - 1, c), whole.at<float>(r, c), whole.at<float>(r + 1, c)});
            seen += most > BestRepeat::kNeverSeen;
            filled += most > 0.4f;
        }
        if (2 * seen > whole.cols && filled >= std::max(kMostlyThere, kEndToEnd - bare) * seen) return true;
    }
    return false;
}
}  // namespace

double BestRepeat::bare_by_wear(double kept) const {
    constexpr int kMany = 9;  // the best preserved fifth of so many is whole, or the line is hardly there
    if (count >= kMany) return 0;
    const int needed = count < 3 ? 1 : 2;
    double bare = 0, ways = 1;  // binomial: fewer than `needed` of `count` are left
    for (int left = 0; left < needed; ++left) {
        bare += ways * std::pow(kept, left) * std::pow(1 - kept, count - left);
        ways = ways * (count - left) / (left + 1);
    }
    return bare;
}

std::vector<Ring> find_rings(const cv::Mat& ink, const cv::Mat& unsure, const BestRepeat& repeat, int first_row,
                             double rows_per_unit) {
    const cv::Mat_<float> cover = coverage(ink, unsure);
    std::vector<double> whole(static_cast<std::size_t>(ink.rows), 0.0);
    for (int r = first_row; r < ink.rows; ++r) {
        int seen = 0, full = 0;
        for (int b = 0; b < kBlocks; ++b)
            if (cover(r, b) >= 0) {
                ++seen;
                full += cover(r, b) > kFilled;
            }
        if (seen * 4 > kBlocks) whole[static_cast<std::size_t>(r)] = static_cast<double>(full) / seen;
    }
    std::vector<Ring> rings;
    for (int r = first_row; r < ink.rows; ++r) {
        if (whole[static_cast<std::size_t>(r)] < kLeastWhole) continue;
        int end = r;
        double best = 0;
        while (end < ink.rows && whole[static_cast<std::size_t>(end)] >= kLeastWhole * 0.6) {
            best = std::max(best, whole[static_cast<std::size_t>(end)]);
            ++end;
        }
        // Its profile over the stretches where it is there: the width is what ink there is at full strength. Beside
        // the ring the same stretches must be bare, on each side that is glaze, or it is part of a dense ornament.
        const int peak = static_cast<int>(std::max_element(whole.begin() + r, whole.begin() + end) - whole.begin());
        std::vector<bool> there(kBlocks);
        for (int b = 0; b < kBlocks; ++b) there[static_cast<std::size_t>(b)] = cover(peak, b) > kFilled;
        const auto level = [&](int row) {
            if (row < 0 || row >= ink.rows) return 0.0;
            double sum = 0, count = 1e-9;
            for (int c = 0; c < ink.cols; ++c) {
                if (!there[static_cast<std::size_t>(c * kBlocks / ink.cols)] || unsure.at<uchar>(row, c)) continue;
                sum += static_cast<double>(ink.at<float>(row, c));
                ++count;
            }
            return sum / count;
        };
        double top = 0, from = r, to = end;
        std::vector<double> levels;
        const int reach = 3 + static_cast<int>(0.006 * rows_per_unit);
        const int low = std::max(first_row, r - reach), high = std::min(ink.rows, end + reach);
        for (int row = low; row < high; ++row) levels.push_back(level(row));
        top = *std::max_element(levels.begin(), levels.end());
        const auto half = [&](double v) { return v > top / 2; };
        const auto first = std::find_if(levels.begin(), levels.end(), half);
        const auto last = std::find_if(levels.rbegin(), levels.rend(), half);
        from = low + static_cast<double>(first - levels.begin());
        to = low + static_cast<double>(levels.rend() - last);
        const auto cross = [&](double inside, double outside) {  // share of a row beyond the half-way row
            return inside > outside ? std::clamp((inside - top / 2) / (inside - outside), 0.0, 1.0) - 0.5 : 0.0;
        };
        if (first != levels.begin()) from -= cross(*first, *(first - 1));
        if (last != levels.rbegin()) to += cross(*last, *(last - 1));
        const double inner = level(static_cast<int>(to + 2 + 0.004 * rows_per_unit)),
                     outer = from > first_row + 2 ? level(static_cast<int>(from - 3 - 0.004 * rows_per_unit)) : 0;
        if (top > 0.35 && std::max(inner, outer) < 0.62 * top && to - from > 0.5 &&
            unbroken(repeat.ink, r, end, kOddWear * repeat.bare_by_wear(best))) {
            int breaks = 0;
            for (std::size_t b = 0; b < kBlocks; ++b) breaks += there[b] && !there[(b + 1) % kBlocks];
            rings.push_back({from, to, best, breaks});
        }
        r = end;
    }
    return rings;
}

std::vector<double> share_of_ink(const cv::Mat& ink, const cv::Mat& unsure) {
    std::vector<double> share(static_cast<std::size_t>(ink.rows), 0.0);
    for (int r = 0; r < ink.rows; ++r) {
        double sum = 0, seen = 1e-9;
        for (int c = 0; c < ink.cols; ++c)
            if (!unsure.at<uchar>(r, c)) {
                sum += static_cast<double>(ink.at<float>(r, c));
                ++seen;
            }
        share[static_cast<std::size_t>(r)] = seen * 8 > ink.cols ? sum / seen : 0;
    }
    return share;
}

}  // namespace footring::photo

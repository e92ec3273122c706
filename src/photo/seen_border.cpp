// SPDX-License-Identifier: Apache-2.0
#include "photo/seen_border.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/tile_match.h"

namespace footring::photo {

namespace {
constexpr int kMostColumns = 4096, kMostRepeats = 160, kWaves = 1024;
constexpr double kMargin = 0.1;

// The ribbon, or when only one repeat is there, a ribbon made of it.
void ribbon(const Repeat& seen, cv::Mat& ink, cv::Mat& sure) {
    const auto known = [](const cv::Mat& unsure, cv::Size size) {
        cv::Mat out(size, CV_32FC1, cv::Scalar(1));
        if (unsure.size() == size) out.setTo(0, unsure);
        return out;
    };
    if (!seen.strip_ink.empty()) {
        ink = seen.strip_ink;
        sure = known(seen.strip_unsure, ink.size());
    } else {
        const int count = std::clamp(seen.count, 1, kMostRepeats);
        cv::Mat tile, known_tile;
        const cv::Size size(std::max(8, kMostColumns / 2 / count), seen.mean.ink.rows);
        cv::resize(seen.mean.ink, tile, size, 0, 0, cv::INTER_AREA);
        cv::resize(known(seen.mean.unsure, seen.mean.ink.size()), known_tile, size, 0, 0, cv::INTER_AREA);
        ink = cv::repeat(tile, 1, count);
        sure = cv::repeat(known_tile, 1, count);
    }
    const int columns = std::min(ink.cols, kMostColumns);
    if (columns < ink.cols) {
        cv::resize(ink.mul(sure), ink, {columns, ink.rows}, 0, 0, cv::INTER_AREA);
        cv::resize(sure, sure, {columns, sure.rows}, 0, 0, cv::INTER_AREA);
        ink /= cv::max(sure, 1e-3f);
    }
}

cv::Mat folded(const cv::Mat& ink, const cv::Mat& sure, int count, int columns) {
    cv::Mat sum = cv::Mat::zeros(ink.rows, columns, CV_32FC1), weight = sum.clone();
    std::vector<int> at(static_cast<std::size_t>(ink.cols));
    std::vector<float> share(at.size());
    for (int x = 0; x < ink.cols; ++x) {
        const double turns = (x + 0.5) * count / ink.cols, place = (turns - std::floor(turns)) * columns - 0.5;
        const double below = std::floor(place);
        at[static_cast<std::size_t>(x)] = (static_cast<int>(below) + columns) % columns;
        share[static_cast<std::size_t>(x)] = static_cast<float>(place - below);
    }
    for (int y = 0; y < ink.rows; ++y) {
        const float *value = ink.ptr<float>(y), *known = sure.ptr<float>(y);
        float *s = sum.ptr<float>(y), *w = weight.ptr<float>(y);
        double all = 0, seen = 0;
        for (int x = 0; x < ink.cols; ++x) {
            const int a = at[static_cast<std::size_t>(x)], b = a + 1 == columns ? 0 : a + 1;
            const float right = share[static_cast<std::size_t>(x)] * known[x], left = known[x] - right;
            s[a] += left * value[x], w[a] += left;
            s[b] += right * value[x], w[b] += right;
            all += known[x] * value[x], seen += known[x];
        }
        const float mean = seen > 0 ? static_cast<float>(all / seen) : 0;
        for (int x = 0; x < columns; ++x) s[x] = w[x] > 1e-3f ? s[x] / w[x] : mean;
    }
    return sum;
}
}  // namespace

Extent inked_rows(const cv::Mat& ink) {
    cv::Mat soft, most;
    cv::blur(ink, soft, {std::max(1, ink.cols / 48), 1});
    cv::reduce(soft, most, 1, cv::REDUCE_MAX);
    double peak = 0;
    cv::minMaxLoc(most, nullptr, &peak);
    int first = 0, last = ink.rows - 1;
    const auto bare = [&](int row) { return most.at<float>(row) < 0.25f * static_cast<float>(peak); };
    while (first < last && bare(first)) ++first;
    while (last > first && bare(last)) --last;
    return {static_cast<double>(first) / ink.rows, static_cast<double>(last + 1) / ink.rows};
}

cv::Mat with_margins(const cv::Mat& ink, Extent rows, cv::Size size) {
    const double height = rows.to - rows.from, margin = height * kMargin / (1 - 2 * kMargin);
    const int from = static_cast<int>(std::floor((rows.from - margin) * ink.rows));
    const int to = std::max(from + 1, static_cast<int>(std::ceil((rows.to + margin) * ink.rows)));
    cv::Mat padded, out;
    const int first = std::max(0, from), last = std::min(ink.rows, to);
    cv::copyMakeBorder(ink.rowRange(first, last), padded, first - from, to - last, 0, 0, cv::BORDER_CONSTANT, 0);
    cv::resize(padded, out, size, 0, 0, padded.rows >= size.height ? cv::INTER_AREA : cv::INTER_LINEAR);
    return out;
}

SeenBorder::SeenBorder(const Repeat& seen) {
    cv::Mat ink, sure;
    ribbon(seen, ink, sure);
    const int count = std::clamp(seen.count, 0, kMostRepeats);
    const Extent rows = inked_rows(folded(ink, sure, std::max(1, count), kFine.columns));
    const cv::Size size(ink.cols, kFine.rows);
    ink_ = with_margins(ink, rows, size);
    // Beyond the ribbon nothing was seen, yet glaze is what lies there.
    cv::Mat unsure = 1 - sure;
    sure_ = 1 - with_margins(unsure, rows, size);

    const cv::Range inner(static_cast<int>(kMargin * kFine.rows), static_cast<int>((1 - kMargin) * kFine.rows));
    level_ = cv::mean(ink_.rowRange(inner))[0];
    // Energy of every wave along the rim; what was not seen is taken to be as its row.
    cv::Mat row_sum, row_known, filled, spectrum;
    cv::Mat known = ink_.mul(sure_);
    cv::reduce(known, row_sum, 1, cv::REDUCE_SUM);
    cv::reduce(sure_, row_known, 1, cv::REDUCE_SUM);
    row_sum /= cv::max(row_known, 1e-3f);
    filled = known - cv::repeat(row_sum, 1, ink_.cols).mul(sure_);
    cv::resize(filled, filled, {2 * kWaves + 48, kCoarse.rows}, 0, 0, cv::INTER_AREA);
    cv::dft(filled, spectrum, cv::DFT_ROWS | cv::DFT_COMPLEX_OUTPUT | cv::DFT_SCALE);
    energy_.assign(kWaves, 0);
    for (int r = 0; r < spectrum.rows; ++r)
        for (int k = 1; k < kWaves; ++k) {
            const auto c = spectrum.at<cv::Vec2f>(r, k);
            energy_[static_cast<std::size_t>(k)] += 2 * (c[0] * c[0] + c[1] * c[1]) / spectrum.rows;
        }
    for (const double e : energy_) changing_ += e;
    ripple_ = std::sqrt(changing_);

    const auto add = [&](int n) {
        if (n >= 1 && n <= kMostRepeats && std::ranges::find(counts_, n) == counts_.end()) counts_.push_back(n);
    };
    if (count > 0) add(count);
    for (int k = 2; k <= 8; ++k)
        if (count % k == 0) add(count / k);
    for (int m = 2; m <= 4; ++m) add(count * m);
    // A count with less than a third of the best one's periodic change is no period of this ribbon.
    double most = 0;
    for (const int n : counts_) most = std::max(most, periodic(n));
    std::erase_if(counts_, [&](int n) { return n != count && periodic(n) < 0.35 * most; });
}

cv::Mat SeenBorder::fold(int count) const { return folded(ink_, sure_, count, kFine.columns); }

cv::Mat SeenBorder::flat() const {
    cv::Mat sum, known;
    cv::reduce(ink_.mul(sure_), sum, 1, cv::REDUCE_SUM);
    cv::reduce(sure_, known, 1, cv::REDUCE_SUM);
    sum /= cv::max(known, 1e-3f);
    double most = 0;
    cv::minMaxLoc(sum, nullptr, &most);
    if (most > 0.05) sum /= most;
    return cv::repeat(sum, 1, kFine.columns);
}

double SeenBorder::periodic(int count) const {
    if (changing_ <= 0) return 0;
    double sum = 0;
    for (int j = 1; j * count < kWaves && j <= kFine.waves; ++j) {
        const std::size_t at = static_cast<std::size_t>(j * count);
        double floor = 0;
        int counted = 0;
        for (int d = 2; d <= 3; ++d)  // what lies beside a harmonic is wear and noise
            for (const int sign : {-1, 1}) {
                const int k = j * count + sign * d;
                if (k < 1 || k >= kWaves || k % count == 0) continue;
                floor += energy_[static_cast<std::size_t>(k)], ++counted;
            }
        sum += std::max(0.0, energy_[at] - (counted ? floor / counted : 0));
    }
    return std::min(1.0, sum / changing_);
}

}  // namespace footring::photo

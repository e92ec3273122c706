// SPDX-License-Identifier: Apache-2.0
#include "photo/overlap.h"

#include <algorithm>
#include <cmath>

namespace footring::photo {

namespace {
// The greatest of each cell and its eight neighbours; columns close on themselves.
void widest(const cv::Mat& in, cv::Mat& out) {
    cv::Mat along(in.size(), CV_32FC1);
    out.create(in.size(), CV_32FC1);
    for (int y = 0; y < in.rows; ++y) {
        const float* p = in.ptr<float>(y);
        float* q = along.ptr<float>(y);
        for (int x = 0; x < in.cols; ++x)
            q[x] = std::max({p[x], p[x == 0 ? in.cols - 1 : x - 1], p[x + 1 == in.cols ? 0 : x + 1]});
    }
    for (int y = 0; y < in.rows; ++y) {
        const float *above = along.ptr<float>(std::max(0, y - 1)), *p = along.ptr<float>(y),
                    *below = along.ptr<float>(std::min(in.rows - 1, y + 1));
        float* q = out.ptr<float>(y);
        for (int x = 0; x < in.cols; ++x) q[x] = std::max({above[x], p[x], below[x]});
    }
}
}  // namespace

Overlap overlap(const cv::Mat& drawing, const cv::Mat& seen, RowMap map, float turn,
                const std::vector<float>& weight) {
    const int rows = drawing.rows, columns = drawing.cols;
    cv::Mat d(drawing.size(), CV_32FC1), s = cv::Mat::zeros(drawing.size(), CV_32FC1), wide_d, wide_s;
    const int by = static_cast<int>(std::lround(turn * static_cast<float>(columns))) % columns;
    for (int y = 0; y < rows; ++y) {
        const float* from = drawing.ptr<float>(y);
        std::rotate_copy(from, from + (columns - by) % columns, from + columns, d.ptr<float>(y));
        const float at =
            (0.5f + ((static_cast<float>(y) + 0.5f) / static_cast<float>(rows) - 0.5f) * map.scale + map.shift) *
                static_cast<float>(rows) -
            0.5f;
        const int below = static_cast<int>(std::floor(at));
        const float share = at - static_cast<float>(below);
        for (const auto& [row, part] : {std::pair(below, 1 - share), std::pair(below + 1, share)}) {
            if (row < 0 || row >= rows) continue;
            for (int x = 0; x < columns; ++x) s.at<float>(y, x) += part * seen.at<float>(row, x);
        }
    }
    // Noise lifts bare ground; a tenth of any tile but a solid one is bare.
    std::vector<float> values(s.begin<float>(), s.end<float>());
    std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(values.size() / 10));
    const float floor = std::min(0.1f, values[values.size() / 10]);
    // How strong ink is where it is not worn.
    values.clear();
    for (int y = 0; y < rows; ++y)
        for (int x = 0; x < columns; ++x) {
            float& v = s.at<float>(y, x);
            v = std::max(0.0f, v - floor);
            if (d.at<float>(y, x) > 0.5f) values.push_back(v);
        }
    if (values.empty()) return {};
    std::ranges::nth_element(values, values.begin() + static_cast<std::ptrdiff_t>(values.size() * 3 / 4));
    const float gain = std::max(0.02f, values[values.size() * 3 / 4]);
    d *= gain;
    widest(d, wide_d);
    widest(s, wide_s);
    double extra = 0, missing = 0, all_seen = 1e-9, all_drawn = 1e-9;
    for (int y = 0; y < rows; ++y) {
        const double w = weight[static_cast<std::size_t>(y)];
        const float *pd = d.ptr<float>(y), *ps = s.ptr<float>(y), *wd = wide_d.ptr<float>(y),
                    *ws = wide_s.ptr<float>(y);
        double e = 0, m = 0, as = 0, ad = 0;
        for (int x = 0; x < columns; ++x) {
            e += std::max(0.0f, ps[x] - wd[x]), as += ps[x];
            m += std::max(0.0f, pd[x] - ws[x]), ad += pd[x];
        }
        extra += w * e, missing += w * m, all_seen += w * as, all_drawn += w * ad;
    }
    return {static_cast<float>(extra / all_seen), static_cast<float>(missing / all_drawn)};
}

}  // namespace footring::photo

// A rim whose place is nearly known (photo/rim_search.h).
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>

#include "photo/radial.h"
#include "photo/rim_line.h"
#include "photo/rim_search.h"
#include "photo/rim_table.h"

namespace footring::photo {

RimFound rim_near(const cv::Mat& bgr, const Hoop& start, double doubt) {
    RimFound out;
    out.hoop = start;
    double reach = doubt;
    for (int round = 0; round < 3; ++round) {
        const Axes axes = axes_of(out.hoop);
        RadialOptions options;
        options.places = 360;
        options.inwards = options.outwards = reach;
        options.step = std::clamp(reach / 20, 0.4, 1.0);
        options.smooth = std::clamp(reach / 8, 0.8, 1.6);
        options.beside_step = std::clamp(perimeter(axes) / options.places / 3, 1.0, 3.0);
        options.calm = 2;
        const Radial radial = radial_edges(bgr, out.hoop, options);
        const double narrow = std::max(0.8, reach / 6);
        const auto found = track(radial, {}, std::max(1.5, reach / 2), narrow, 6);
        if (!found || found->support < 0.2) break;
        out.hoop = changed(out.hoop, found->change);
        out.seen = found->support * found->visible;
        out.visible = found->visible;
        out.sigma_px = found->sigma;
        out.covariance = found->covariance;
        reach = std::max(std::min(4.0, doubt), reach / 2.5);
    }
    return out;
}

RimFound beside_the_table(const cv::Mat& bgr, const RimFound& found) {
    constexpr double kBeyondDoubt = 0.95, kHardlySeen = 0.6;  // of what is visible
    if (found.by_line || found.seen > kBeyondDoubt * found.visible) return found;
    const auto table = where_table_begins(bgr, found.hoop, found.seen < kHardlySeen * found.visible);
    if (!table) return found;
    RimFound out = rim_near(bgr, *table, 1.2);
    out.hoop = *table;  // a line's inner side may be the nearer edge
    out.inner = found.inner;
    return out;
}

RimFound beside_its_line(const cv::Mat& bgr, const LineSide& line) {
    RimFound out = rim_near(bgr, line.hoop, 1.5);
    out.hoop = line.hoop;
    out.seen = std::max(out.seen, line.seen * out.visible);
    out.by_line = true;
    return out;
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/text_ground.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "photo/sampling.h"

namespace footring::photo {

cv::Mat Halves::crop(const cv::Matx33d& photo_from_crop, cv::Size size) {
    const cv::Point2d middle(size.width / 2.0, size.height / 2.0);
    const cv::Point2d here = through(photo_from_crop, middle);
    const double along = cv::norm(through(photo_from_crop, middle + cv::Point2d(1, 0)) - here);
    const double down = cv::norm(through(photo_from_crop, middle + cv::Point2d(0, 1)) - here);
    const double shrink = std::sqrt(along * down);
    std::size_t level = 0;
    for (double left = shrink; left > 1.6 && level < 6; left /= 2) {
        ++level;
        if (level == levels_.size()) {
            const cv::Mat& big = levels_.back();
            if (std::min(big.cols, big.rows) < 2) {
                --level;
                break;
            }
            cv::Mat half;
            cv::resize(big, half, {big.cols / 2, big.rows / 2}, 0, 0, cv::INTER_AREA);
            levels_.push_back(half);
        }
    }
    const double scale_x = static_cast<double>(levels_[level].cols) / levels_[0].cols;
    const double scale_y = static_cast<double>(levels_[level].rows) / levels_[0].rows;
    // Pixel centres: (x + 0.5) shrinks, not x.
    const cv::Matx33d level_from_photo(scale_x, 0, 0.5 * scale_x - 0.5, 0, scale_y, 0.5 * scale_y - 0.5, 0, 0, 1);
    cv::Mat out;
    cv::warpPerspective(levels_[level], out, level_from_photo * photo_from_crop, size,
                        cv::INTER_LINEAR | cv::WARP_INVERSE_MAP, cv::BORDER_REPLICATE);
    return out;
}

Ground ground_of(const Picture& picture, const std::optional<Plate>& plate, double reach, int size) {
    Ground out;
    const cv::Size photo = picture.bgr.size();
    if (photo.width < 8 || photo.height < 8) return out;
    if (plate) {
        const double unit =
            std::max(4.0, std::min(plate->outline.rim.a, size / (2 * reach)));  // px of a plate unit
        const int side = std::max(8, static_cast<int>(std::lround(2 * reach * unit)));
        const double half = (side - 1) / 2.0;
        const cv::Matx34d& p = plate->photo_from_plate;
        const cv::Matx33d photo_from_plane(p(0, 0), p(0, 1), p(0, 3), p(1, 0), p(1, 1), p(1, 3), p(2, 0), p(2, 1),
                                           p(2, 3));
        const cv::Matx33d plane_from_ground(1 / unit, 0, -half / unit, 0, 1 / unit, -half / unit, 0, 0, 1);
        out.photo_from_ground = photo_from_plane * plane_from_ground;
        out.bgr = Halves(picture.bgr).crop(out.photo_from_ground, {side, side});
        out.inside = cv::Mat::zeros(side, side, CV_8UC1);
        const double across = std::clamp(plate->aspect, 0.2, 1.0);
        cv::ellipse(out.inside, cv::Point(side / 2, side / 2),
                    cv::Size(static_cast<int>(half), static_cast<int>(std::min(half, half * across))), 0, 0, 360,
                    255, -1);
        out.middle = {half, half};
        out.reach = half;
        return out;
    }
    const double scale = std::min(1.0, static_cast<double>(size) / std::max(photo.width, photo.height));
    const cv::Size small(std::max(8, static_cast<int>(std::lround(photo.width * scale))),
                         std::max(8, static_cast<int>(std::lround(photo.height * scale))));
    const double sx = static_cast<double>(photo.width) / small.width,
                 sy = static_cast<double>(photo.height) / small.height;
    out.photo_from_ground = cv::Matx33d(sx, 0, 0.5 * sx - 0.5, 0, sy, 0.5 * sy - 0.5, 0, 0, 1);
    cv::resize(picture.bgr, out.bgr, small, 0, 0, cv::INTER_AREA);
    out.inside = cv::Mat(small, CV_8UC1, cv::Scalar(255));
    out.middle = {(small.width - 1) / 2.0, (small.height - 1) / 2.0};
    out.reach = std::hypot(small.width, small.height) / 2;
    return out;
}

}  // namespace footring::photo

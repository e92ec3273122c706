// SPDX-License-Identifier: Apache-2.0
#include "photo/line_picture.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <opencv2/imgproc.hpp>

#include "photo/sampling.h"

namespace footring::photo {

namespace {

constexpr double kRad = std::numbers::pi / 180;
constexpr double kBeside = 0.9, kAbove = 0.55;  // margins, in heights of capitals
constexpr double kLongestPx = 2400;             // of a line's picture
constexpr double kLargestSquarePx = 1600;       // round the circle of a curved one

cv::Mat toned(const cv::Mat& bgr, const InkTone& tone) {
    cv::Mat out(bgr.size(), CV_8UC1);
    for (int y = 0; y < bgr.rows; ++y) {
        const auto* from = bgr.ptr<cv::Vec3b>(y);
        auto* to = out.ptr<uchar>(y);
        for (int x = 0; x < bgr.cols; ++x) {
            const double ink = tone.weights[0] * from[x][0] + tone.weights[1] * from[x][1] +
                               tone.weights[2] * from[x][2] + tone.offset;
            to[x] = cv::saturate_cast<uchar>(220 - 185 * ink);
        }
    }
    return out;
}

cv::Mat mask_of(const Mark& mark, const TextLine& line, cv::Size size) {
    cv::Mat out(size, CV_8UC1, cv::Scalar(255));
    for (const std::size_t i : line.letters)
        for (const cv::Point p : mark.letters[i].pixels) out.at<uchar>(p) = 0;
    return out;
}

double angle_in_photo(const cv::Matx33d& photo_from_ground, cv::Point2d at, cv::Point2d along) {
    const cv::Point2d v = through(photo_from_ground, at + along) - through(photo_from_ground, at - along);
    return std::atan2(v.y, v.x) / kRad;
}

LinePicture straight_picture(const Ground& ground, Halves& photo, const cv::Mat& mask, const TextLine& line,
                             const InkTone& tone, bool over) {
    const double angle = (line.angle_deg + (over ? 180 : 0)) * kRad, h = line.height;
    const cv::Point2d along(std::cos(angle), std::sin(angle)), down(-along.y, along.x);
    const double u_from = over ? -line.u_to : line.u_from, u_to = over ? -line.u_from : line.u_to;
    const double v_from = over ? -line.v_to : line.v_from, v_to = over ? -line.v_from : line.v_to;
    const cv::Point2d corner = along * (u_from - kBeside * h) + down * (v_from - kAbove * h);
    const double length = u_to - u_from + 2 * kBeside * h, height = v_to - v_from + 2 * kAbove * h;
    const double px = std::min(kCapitalPx / h, kLongestPx / length);  // of the picture for one of the ground
    const cv::Size size(std::max(8, cvRound(length * px)), std::max(8, cvRound(height * px)));
    const cv::Matx33d ground_from_line(along.x / px, down.x / px, corner.x, along.y / px, down.y / px, corner.y, 0,
                                       0, 1);
    LinePicture out;
    out.gray = toned(photo.crop(ground.photo_from_ground * ground_from_line, size), tone);
    cv::warpPerspective(mask, out.mask, ground_from_line, size, cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                        cv::BORDER_CONSTANT, cv::Scalar(255));
    const std::array<cv::Point2d, 4> box = {along * u_from + down * v_from, along * u_to + down * v_from,
                                            along * u_to + down * v_to, along * u_from + down * v_to};
    std::ranges::transform(box, out.box.begin(),
                           [&](cv::Point2d p) { return through(ground.photo_from_ground, p); });
    out.turned_deg = angle_in_photo(ground.photo_from_ground, (box[0] + box[2]) / 2, along);
    return out;
}

LinePicture curved_picture(const Ground& ground, Halves& photo, const cv::Mat& mask, const TextLine& line,
                           const InkTone& tone, bool over) {
    const double h = line.height, r = line.radius;
    const double half = h * (0.5 + kAbove + 0.2);
    const double from = line.from_deg * kRad - kBeside * h / r, to = line.to_deg * kRad + kBeside * h / r;
    const double length = (to - from) * r;
    // First the square round the circle at the final scale, then the ring unrolled out of it.
    const double reach = r + half + 1;
    const double px = std::min({kCapitalPx / h, kLongestPx / length, kLargestSquarePx / (2 * reach)});
    const cv::Size square(std::max(8, cvRound(2 * reach * px)), std::max(8, cvRound(2 * reach * px)));
    const cv::Matx33d ground_from_square(1 / px, 0, line.centre.x - reach, 0, 1 / px, line.centre.y - reach, 0, 0,
                                         1);
    cv::Mat around_bgr = photo.crop(ground.photo_from_ground * ground_from_square, square), around_mask;
    cv::warpPerspective(mask, around_mask, ground_from_square, square, cv::INTER_LINEAR | cv::WARP_INVERSE_MAP,
                        cv::BORDER_CONSTANT, cv::Scalar(255));
    const cv::Size size(std::max(8, cvRound(length * px)), std::max(8, cvRound(2 * half * px)));
    cv::Mat map_x(size, CV_32FC1), map_y(size, CV_32FC1);
    for (int x = 0; x < size.width; ++x) {
        // The heads of the letters point outwards: read clockwise. Else inwards, and the other way round.
        const double along = (x + 0.5) / size.width * (to - from);
        const double a = over ? to - along : from + along, ca = std::cos(a), sa = std::sin(a);
        for (int y = 0; y < size.height; ++y) {
            const double out = half - (y + 0.5) / px;
            const double d = over ? r - out : r + out;
            map_x.at<float>(y, x) = static_cast<float>((reach + d * ca) * px);
            map_y.at<float>(y, x) = static_cast<float>((reach + d * sa) * px);
        }
    }
    LinePicture out;
    cv::Mat bgr;
    cv::remap(around_bgr, bgr, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    cv::remap(around_mask, out.mask, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_CONSTANT, cv::Scalar(255));
    out.gray = toned(bgr, tone);
    const double middle = (from + to) / 2;
    const cv::Point2d outwards(std::cos(middle), std::sin(middle)), clockwise(-outwards.y, outwards.x);
    const cv::Point2d along = over ? -clockwise : clockwise, down = over ? outwards : -outwards;
    // The box of a curved line is the upright one that holds it.
    double u_from = 1e9, u_to = -1e9, v_from = 1e9, v_to = -1e9;
    for (int step = 0; step <= 24; ++step)
        for (const double d : {r - h / 2, r + h / 2}) {
            const double a = line.from_deg * kRad + (line.to_deg - line.from_deg) * kRad * step / 24;
            const cv::Point2d p = line.centre + d * cv::Point2d(std::cos(a), std::sin(a));
            u_from = std::min(u_from, p.dot(along)), u_to = std::max(u_to, p.dot(along));
            v_from = std::min(v_from, p.dot(down)), v_to = std::max(v_to, p.dot(down));
        }
    const std::array<cv::Point2d, 4> box = {along * u_from + down * v_from, along * u_to + down * v_from,
                                            along * u_to + down * v_to, along * u_from + down * v_to};
    std::ranges::transform(box, out.box.begin(),
                           [&](cv::Point2d p) { return through(ground.photo_from_ground, p); });
    out.turned_deg = angle_in_photo(ground.photo_from_ground, line.centre + r * outwards, along);
    return out;
}

}  // namespace

InkTone ink_tone(const Ground& ground, const Mark& mark, const TextLine& line) {
    const cv::Rect whole({0, 0}, ground.bgr.size());
    const int margin = std::max(2, cvRound(0.35 * line.height));
    cv::Rect area;
    for (const std::size_t i : line.letters) area |= mark.letters[i].box;
    area = cv::Rect(area.x - margin, area.y - margin, area.width + 2 * margin, area.height + 2 * margin) & whole;
    cv::Mat ink = cv::Mat::zeros(area.size(), CV_8UC1), near = ink.clone(), clear;
    for (const Letter& letter : mark.letters)
        for (const cv::Point p : letter.pixels)
            if (area.contains(p)) ink.at<uchar>(p - area.tl()) = 128;  // of any line: not ground
    for (const std::size_t i : line.letters) {
        const Letter& letter = mark.letters[i];
        for (const cv::Point p : letter.pixels)
            if (area.contains(p)) ink.at<uchar>(p - area.tl()) = 255;
        const cv::Rect box = cv::Rect(letter.box.x - margin, letter.box.y - margin, letter.box.width + 2 * margin,
                                      letter.box.height + 2 * margin) &
                             area;
        near(box - area.tl()).setTo(255);
    }
    cv::dilate(ink, clear, cv::Mat());
    cv::Vec3d sum[2], sum_sq[2];
    double count[2] = {0, 0};
    for (int y = 0; y < area.height; ++y)
        for (int x = 0; x < area.width; ++x) {
            const bool is_ink = ink.at<uchar>(y, x) == 255;
            if (!is_ink && (clear.at<uchar>(y, x) != 0 || near.at<uchar>(y, x) == 0)) continue;
            const auto bgr = cv::Vec3d(ground.bgr.at<cv::Vec3b>(y + area.y, x + area.x));
            sum[is_ink] += bgr, sum_sq[is_ink] += bgr.mul(bgr), ++count[is_ink];
        }
    InkTone tone;
    const double sign = mark.dark ? 1 : -1;
    if (count[0] < 4 || count[1] < 4) {
        tone.weights = cv::Vec3d::all(-sign / 300.0);
        tone.offset = mark.dark ? 0.8 : 0;
        return tone;
    }
    // Fisher's direction with the channels taken as independent: their noise nearly is, and a full covariance of a
    // few pixels would make more noise than it takes away.
    const cv::Vec3d light = sum[0] / count[0], ink_mean = sum[1] / count[1];
    cv::Vec3d weights;
    for (int c = 0; c < 3; ++c) {
        const double spread = std::max(0.0, sum_sq[0][c] / count[0] - light[c] * light[c]) + 9;
        weights[c] = (ink_mean[c] - light[c]) / spread;
    }
    const double range = weights.dot(ink_mean - light);
    if (!(range > 0)) return tone;
    tone.contrast = std::sqrt(range);
    tone.weights = weights / range;
    tone.offset = -weights.dot(light) / range;
    return tone;
}

LinePicture line_picture(const Ground& ground, Halves& photo, const Mark& mark, const TextLine& line,
                         const InkTone& tone, bool over) {
    const cv::Mat mask = mask_of(mark, line, ground.bgr.size());
    return line.curved ? curved_picture(ground, photo, mask, line, tone, over)
                       : straight_picture(ground, photo, mask, line, tone, over);
}

cv::Mat flattened(const cv::Mat& gray) {
    cv::Mat light, out;
    const int across = 2 * static_cast<int>(kCapitalPx / 2) + 1;
    cv::morphologyEx(gray, light, cv::MORPH_CLOSE, cv::getStructuringElement(cv::MORPH_RECT, {across, across}));
    cv::GaussianBlur(light, light, {across, across}, 0);
    cv::divide(gray, light, out, 235);
    return out;
}

cv::Mat black_and_white(const cv::Mat& gray) {
    cv::Mat out;
    cv::GaussianBlur(flattened(gray), out, {3, 3}, 0);
    cv::threshold(out, out, 0, 255, cv::THRESH_BINARY | cv::THRESH_OTSU);
    cv::GaussianBlur(out, out, {3, 3}, 0);  // Tesseract was trained on grey edges
    return out;
}

cv::Mat by_surroundings(const cv::Mat& gray) {
    cv::Mat out;
    cv::GaussianBlur(gray, out, {5, 5}, 0);
    cv::adaptiveThreshold(out, out, 255, cv::ADAPTIVE_THRESH_GAUSSIAN_C, cv::THRESH_BINARY, 41, 9);
    cv::medianBlur(out, out, 3);
    return out;
}

}  // namespace footring::photo

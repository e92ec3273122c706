// SPDX-License-Identifier: Apache-2.0
#include "photo/letters.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <opencv2/imgproc.hpp>

#include "photo/line_picture.h"

namespace footring::photo {

namespace {

constexpr int kBroadestStroke = 17;           // px; of what is as broad as that only the rim is seen
constexpr int kSmallest = 6, kLargest = 120;  // px, of a letter's longer side
constexpr std::size_t kMostLetters = 1500;    // more is a speckled ground, not writing
constexpr std::size_t kMostInMark = 250;      // letters, stops and pieces of its ornament

// How much darker (or lighter) than its surroundings each pixel is, relative to them, in the channel where it is
// most.
cv::Mat strength_of(const cv::Mat& bgr, bool dark) {
    cv::Mat smooth, surround;
    cv::GaussianBlur(bgr, smooth, {3, 3}, 0);
    const cv::Mat brush = cv::getStructuringElement(cv::MORPH_RECT, {kBroadestStroke, kBroadestStroke});
    cv::morphologyEx(smooth, surround, dark ? cv::MORPH_CLOSE : cv::MORPH_OPEN, brush);
    cv::Mat out(bgr.size(), CV_8UC1);
    for (int y = 0; y < bgr.rows; ++y) {
        const auto* here = smooth.ptr<cv::Vec3b>(y);
        const auto* around = surround.ptr<cv::Vec3b>(y);
        auto* to = out.ptr<uchar>(y);
        for (int x = 0; x < bgr.cols; ++x) {
            int most = 0;
            for (int c = 0; c < 3; ++c) {
                const int more = std::abs(around[x][c] - here[x][c]) * 255;
                most = std::max(most, more / (std::max(around[x][c], here[x][c]) + 16));
            }
            to[x] = cv::saturate_cast<uchar>(most);
        }
    }
    return out;
}

// Strengths from just over the noise upwards, each twice the one before.
std::vector<int> levels_of(const cv::Mat& strength, const cv::Mat& inside) {
    std::array<int, 256> counts{};
    int all = 0;
    for (int y = 0; y < strength.rows; ++y) {
        const auto* s = strength.ptr<uchar>(y);
        const auto* in = inside.ptr<uchar>(y);
        for (int x = 0; x < strength.cols; ++x)
            if (in[x]) ++counts[s[x]], ++all;
    }
    const auto quantile = [&](double share) {
        int sum = 0;
        for (int v = 0; v < 256; ++v) {
            sum += counts[static_cast<std::size_t>(v)];
            if (sum >= share * all) return v;
        }
        return 255;
    };
    // Writing covers a few hundredths at most, so the quartiles are those of the bare ground.
    const int noise = std::max(7, quantile(0.5) + 4 * std::max(1, quantile(0.75) - quantile(0.25)));
    const int most = quantile(0.9995);
    std::vector<int> out;
    for (int level = noise; level < std::max(most, noise + 1) && out.size() < 5; level = level * 17 / 10)
        out.push_back(level);
    return out;
}

std::vector<Letter> letters_at(const cv::Mat& strength, const cv::Mat& inside, int level) {
    cv::Mat ink = strength >= level;
    ink &= inside;
    cv::Mat labels, stats, middles;
    const int count = cv::connectedComponentsWithStats(ink, labels, stats, middles, 8, CV_32S);
    std::vector<Letter> out;
    std::vector<int> letter_of_label(static_cast<std::size_t>(count), -1);
    for (int i = 1; i < count; ++i) {
        const int* s = stats.ptr<int>(i);
        const cv::Rect box(s[cv::CC_STAT_LEFT], s[cv::CC_STAT_TOP], s[cv::CC_STAT_WIDTH], s[cv::CC_STAT_HEIGHT]);
        const int area = s[cv::CC_STAT_AREA], longer = std::max(box.width, box.height);
        if (longer < kSmallest || longer > kLargest || area < 8 || area < longer) continue;
        if (area < 0.07 * box.area()) continue;  // a scratch across its box, or an outline of a ring
        letter_of_label[static_cast<std::size_t>(i)] = static_cast<int>(out.size());
        Letter letter;
        letter.box = box;
        letter.middle = {box.x + (box.width - 1) / 2.0, box.y + (box.height - 1) / 2.0};
        letter.size = longer;
        letter.pixels.reserve(static_cast<std::size_t>(area));
        out.push_back(std::move(letter));
        if (out.size() > kMostLetters) return {};
    }
    for (int i = 1; i < count; ++i) {
        const int at = letter_of_label[static_cast<std::size_t>(i)];
        if (at < 0) continue;
        Letter& letter = out[static_cast<std::size_t>(at)];
        for (int y = letter.box.y; y < letter.box.br().y; ++y) {
            const int* row = labels.ptr<int>(y);
            for (int x = letter.box.x; x < letter.box.br().x; ++x)
                if (row[x] == i) letter.pixels.emplace_back(x, y);
        }
    }
    return out;
}

// Letters that could stand in one mark: near each other for their size, and of sizes that go together.
std::vector<std::vector<Letter>> groups_of(std::vector<Letter> letters) {
    std::vector<std::size_t> parent(letters.size());
    std::iota(parent.begin(), parent.end(), 0);
    const auto root = [&](std::size_t i) {
        while (parent[i] != i) i = parent[i] = parent[parent[i]];
        return i;
    };
    for (std::size_t i = 0; i < letters.size(); ++i)
        for (std::size_t j = i + 1; j < letters.size(); ++j) {
            const Letter &a = letters[i], &b = letters[j];
            const double larger = std::max(a.size, b.size), smaller = std::min(a.size, b.size);
            if (larger > 2.4 * smaller) continue;
            const int dx = std::max({0, a.box.x - b.box.br().x, b.box.x - a.box.br().x});
            const int dy = std::max({0, a.box.y - b.box.br().y, b.box.y - a.box.br().y});
            if (std::hypot(dx, dy) <= 1.3 * larger) parent[root(i)] = root(j);
        }
    std::vector<std::vector<Letter>> out;
    std::vector<int> group_of_root(letters.size(), -1);
    for (std::size_t i = 0; i < letters.size(); ++i) {
        int& group = group_of_root[root(i)];
        if (group < 0) group = static_cast<int>(out.size()), out.emplace_back();
        out[static_cast<std::size_t>(group)].push_back(std::move(letters[i]));
    }
    return out;
}

// Grain and the shading of the clay make rows of specks too, but no contrast: writing stands clear of its ground.
void weigh_by_contrast(const Ground& ground, Mark& mark) {
    constexpr double kLeast = 2.0, kHalf = 3.0;
    double before = 0, after = 0;
    for (TextLine& line : mark.lines) {
        const double contrast = ink_tone(ground, mark, line).contrast;
        before += line.quality;
        line.quality *= contrast < kLeast ? 0 : contrast * contrast / (contrast * contrast + kHalf * kHalf);
        after += line.quality;
    }
    mark.quality *= after / std::max(before, 1e-9);
    std::erase_if(mark.lines, [](const TextLine& line) { return line.quality <= 0; });
    if (std::ranges::none_of(mark.lines, [](const TextLine& line) { return line.quality >= 1; }))
        mark.lines.clear();
}

bool overlap(const Mark& a, const Mark& b) {
    const auto box_of = [](const Mark& mark) {
        cv::Rect box;
        for (const TextLine& line : mark.lines)
            for (const std::size_t i : line.letters) box |= mark.letters[i].box;
        return box;
    };
    const cv::Rect one = box_of(a), other = box_of(b);
    return (one & other).area() > 0.25 * std::min(one.area(), other.area());
}

}  // namespace

std::vector<Mark> find_writing(const Ground& ground, std::size_t most) {
    std::vector<Mark> found;
    if (ground.bgr.empty()) return found;
    for (const bool dark : {true, false}) {
        const cv::Mat strength = strength_of(ground.bgr, dark);
        for (const int level : levels_of(strength, ground.inside))
            for (std::vector<Letter>& group : groups_of(letters_at(strength, ground.inside, level))) {
                if (group.size() < 2 || group.size() > kMostInMark) continue;
                Mark mark;
                mark.lines = lines_of(group);
                if (mark.lines.empty()) continue;
                mark.letters = std::move(group);
                mark.dark = dark;
                cv::Point2d middle;
                for (const TextLine& line : mark.lines) {
                    mark.quality += line.quality;
                    for (const std::size_t i : line.letters)
                        middle += mark.letters[i].middle / static_cast<double>(line.letters.size());
                }
                middle /= static_cast<double>(mark.lines.size());
                const double off = cv::norm(middle - ground.middle) / std::max(1.0, ground.reach);
                mark.quality *= 1 / (1 + off * off);
                found.push_back(std::move(mark));
            }
    }
    constexpr std::size_t kWeighed = 24;  // the contrast of more is not asked for
    std::ranges::stable_sort(found, std::ranges::greater{}, &Mark::quality);
    if (found.size() > kWeighed) found.resize(kWeighed);
    for (Mark& mark : found) weigh_by_contrast(ground, mark);
    std::erase_if(found, [](const Mark& mark) { return mark.lines.empty(); });
    std::ranges::stable_sort(found, std::ranges::greater{}, &Mark::quality);
    std::vector<Mark> out;
    for (Mark& mark : found) {
        if (out.size() == most) break;
        if (std::ranges::none_of(out, [&](const Mark& better) { return overlap(better, mark); }))
            out.push_back(std::move(mark));
    }
    return out;
}

}  // namespace footring::photo

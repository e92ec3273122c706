// SPDX-License-Identifier: Apache-2.0
#include "photo/wording.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <set>

#include "base/text.h"
#include "photo/letters.h"
#include "photo/mark_text.h"
#include "photo/read_mark.h"
#include "photo/text_ground.h"

namespace footring::photo {

namespace {

// Marks lie within the foot ring, some 0.6 of the rim's radius. It stands higher than the rim on the table, so that
// under tilt it is seen off the middle of the rim.
constexpr double kReach = 0.9;
constexpr int kSearchPx = 1300;        // side of what is searched
constexpr std::size_t kMostMarks = 5;  // groups of letters that are read
constexpr int kPasses = 36;            // of the engine over one photograph, some 25 ms each

// Trust from which a number is believed beside a mark, and without any; without any it must have three digits.
constexpr NumberTrust kNumberApart{0.80, 2}, kNumberAlone{0.93, 3};

constexpr double kGlanceReach = 0.65;  // looks_like_back
constexpr int kGlancePx = 640;
// Of the best line. On 40 rendered photographs undersides had 2.9 to 9.8, and of 32 fronts one had more than 2.8
// with four letters or more; what passes is read, which costs as much as the rest of the search five times over.
constexpr double kGlanceQuality = 2.8;
constexpr std::size_t kGlanceLetters = 4;
constexpr double kGlanceHeight = 0.045;  // of the side of what is searched; capitals are lower
constexpr int kGlancePasses = 14;

std::vector<std::string> words_known(const book::Book& book) {
    std::set<std::string> out;
    for (const book::Mark& mark : book.marks)
        for (const std::string& line : split(mark.wording, '/')) out.insert(line);
    for (const book::Clue& clue : book.clues) out.insert(clue.wording.begin(), clue.wording.end());
    return {out.begin(), out.end()};
}

// The quadrilateral that holds all lines, upright with them, and the picture of it.
void frame(Wording& out, Halves& photo, const std::vector<MarkText>& accepted) {
    const double turn = accepted.front().turned_deg * CV_PI / 180;
    const cv::Point2d along(std::cos(turn), std::sin(turn)), down(-along.y, along.x);
    double u_from = 1e9, u_to = -1e9, v_from = 1e9, v_to = -1e9, height = 0;
    for (const MarkText& one : accepted)
        for (const MarkLine& line : one.lines) {
            height = std::max(height, line.curved ? 0.0 : cv::norm(line.box[3] - line.box[0]));
            for (const cv::Point2d& p : line.box) {
                u_from = std::min(u_from, p.dot(along)), u_to = std::max(u_to, p.dot(along));
                v_from = std::min(v_from, p.dot(down)), v_to = std::max(v_to, p.dot(down));
            }
        }
    const double margin = std::max({0.8 * height, 0.08 * (u_to - u_from), 4.0});
    u_from -= margin, u_to += margin, v_from -= margin, v_to += margin;
    const cv::Point2d corners[] = {along * u_from + down * v_from, along * u_to + down * v_from,
                                   along * u_to + down * v_to, along * u_from + down * v_to};
    for (std::size_t i = 0; i < 4; ++i) out.area[i] = px_from_mat(corners[i]);

    constexpr double kLongestPx = 900;
    const double px = std::min(1.5, kLongestPx / std::max(u_to - u_from, v_to - v_from));
    const cv::Matx33d photo_from_crop(along.x / px, down.x / px, corners[0].x, along.y / px, down.y / px,
                                      corners[0].y, 0, 0, 1);
    const cv::Mat upright = photo.crop(
        photo_from_crop, {std::max(1, cvRound((u_to - u_from) * px)), std::max(1, cvRound((v_to - v_from) * px))});
    std::vector<uchar> png;
    if (cv::imencode(".png", upright, png)) out.mark_png.assign(png.begin(), png.end());
}

}  // namespace

Wording read_wording(const Picture& picture, const std::optional<Plate>& plate, const book::Book& book,
                     const std::function<bool()>& stop) {
    Wording out;
    const Ground ground = ground_of(picture, plate, kReach, kSearchPx);
    const std::vector<Mark> marks = find_writing(ground, kMostMarks);
    if (marks.empty() || (stop && stop())) return out;
    Ocr ocr;
    if (!ocr.ready()) {
        out.note = "Wording was not read: Tesseract's data for English are missing (package tesseract-ocr-eng).";
        return out;
    }
    Halves photo(picture.bgr);
    const std::vector<std::string> known = words_known(book);
    std::vector<MarkText> accepted, apart;
    std::optional<double> turn;
    for (const Mark& mark : marks) {
        const MarkText all = read_mark(ground, photo, mark, ocr, known, kPasses - ocr.passes(), turn, stop);
        MarkText words = all;
        keep_words(words, known);
        if (words.lines.empty()) {
            apart.push_back(all);
            keep_numbers(apart.back(), kNumberApart);
        } else {
            if (!turn) turn = words.turned_deg;
            accepted.push_back(std::move(words));
        }
    }
    // Unmarked ware has its number alone, and then that must be beyond doubt.
    if (accepted.empty())
        for (MarkText& text : apart) keep_numbers(text, kNumberAlone);
    if (stop && stop()) return out;
    std::ranges::copy_if(apart, std::back_inserter(accepted),
                         [](const MarkText& text) { return !text.lines.empty(); });
    if (accepted.empty()) return out;
    // The mark with most words first; numbers that stand apart after it.
    std::ranges::stable_sort(accepted, std::ranges::greater{}, [](const MarkText& text) {
        int letters = 0;
        for (const MarkLine& line : text.lines) letters += line.read.letters();
        return letters;
    });
    std::vector<MarkLine> lines;
    for (const MarkText& one : accepted) lines.insert(lines.end(), one.lines.begin(), one.lines.end());
    compare(out, lines, book);
    frame(out, photo, accepted);
    return out;
}

bool looks_like_back(const Picture& picture, const std::optional<Plate>& plate) {
    const Ground ground = ground_of(picture, plate, kGlanceReach, kGlancePx);
    const std::vector<Mark> marks = find_writing(ground, 1);
    if (marks.empty()) return false;
    const bool may_be_writing = std::ranges::any_of(marks.front().lines, [&](const TextLine& line) {
        return line.quality >= kGlanceQuality && line.letters.size() >= kGlanceLetters &&
               line.height <= kGlanceHeight * std::max(ground.bgr.cols, ground.bgr.rows);
    });
    if (!may_be_writing) return false;
    Ocr ocr;
    if (!ocr.ready()) return marks.front().quality > 3 * kGlanceQuality;
    Halves photo(picture.bgr);
    MarkText text = read_mark(ground, photo, marks.front(), ocr, {}, kGlancePasses, {}, {});
    keep_words(text, {});
    return !text.lines.empty();
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "photo/read_mark.h"

#include <algorithm>
#include <cctype>
#include <cmath>

#include "photo/line_picture.h"
#include "photo/wording.h"

namespace footring::photo {

namespace {

constexpr double kGood = 0.90;   // confidence from which no other picture of the line is tried
constexpr double kKnown = 0.12;  // what a word of the packs adds to the confidence when readings are compared

bool is_letter(char c) { return std::isalnum(static_cast<unsigned char>(c)) != 0; }

// What a reading is worth when it is compared with others of the same line: sure letters count, unsure ones take
// away, and so do letters for which there is no room.
double worth(const MarkLine& in, const std::vector<std::string>& known) {
    const ReadLine& line = in.read;
    double out = 0;
    for (const ReadChar& c : line.chars)
        if (is_letter(c.letter)) out += trust(c) - 0.45;
        else if (c.letter != ' ') out -= 0.1;
    double best = 0;
    for (const std::string& word : known) best = std::max(best, likeness(line.text(), word));
    out -= 0.6 * std::max(0.0, line.letters() - 1.2 * in.letters_fit - 0.5);
    return out + kKnown * best * line.letters();
}

// Tesseract sees spaces between letters that are set wide apart. Where the letters as they were found leave no gap
// that is wider than what usually separates two of them, there is none.
void close_up(ReadLine& line, const cv::Mat& mask) {
    std::vector<uchar> blank(static_cast<std::size_t>(mask.cols), 1);
    for (int y = 0; y < mask.rows; ++y)
        for (int x = 0; x < mask.cols; ++x)
            if (mask.at<uchar>(y, x) < 128) blank[static_cast<std::size_t>(x)] = 0;
    struct Gap {
        double from, to;
    };
    std::vector<Gap> gaps;  // between the first letter and the last
    int from = -1;
    for (int x = 0; x < mask.cols; ++x) {
        if (blank[static_cast<std::size_t>(x)]) continue;
        if (from >= 0 && x > from + 1) gaps.push_back({from + 1.0, static_cast<double>(x)});
        from = x;
    }
    std::vector<double> widths;
    for (const Gap& gap : gaps) widths.push_back(gap.to - gap.from);
    double usual = 0;
    // Of letters that touch no gap is seen: those count as gaps of nothing.
    while (widths.size() + 1 < static_cast<std::size_t>(line.letters())) widths.push_back(0);
    if (!widths.empty()) {
        std::ranges::nth_element(widths, widths.begin() + static_cast<std::ptrdiff_t>(widths.size() / 2));
        usual = widths[widths.size() / 2];
    }
    std::vector<ReadChar> out;
    for (std::size_t i = 0; i < line.chars.size(); ++i) {
        if (line.chars[i].letter == ' ' && i > 0 && i + 1 < line.chars.size()) {
            const ReadChar &left = line.chars[i - 1], &right = line.chars[i + 1];
            const double before = (left.from + left.to) / 2, after = (right.from + right.to) / 2;
            const bool space = std::ranges::any_of(gaps, [&](const Gap& gap) {
                const double middle = (gap.from + gap.to) / 2;
                return middle > before && middle < after &&
                       gap.to - gap.from > std::min(usual + 0.15 * kCapitalPx, 0.6 * kCapitalPx);
            });
            if (!space) continue;
        }
        out.push_back(line.chars[i]);
    }
    line.chars = std::move(out);
}

// Whether it is worth while to try harder: some trust, and about as many characters as things were found.
bool plausible(const MarkLine& line) {
    const auto read = static_cast<double>(line.read.letters()), seen = static_cast<double>(line.letters_seen);
    return read >= 1 && line.read.confidence() > 0.45 && read <= 1.5 * line.letters_fit + 2 && seen <= 3 * read + 2;
}

struct Reader {
    const Ground& ground;
    Halves& photo;
    const Mark& mark;
    Ocr& ocr;
    const std::vector<std::string>& known;
    int passes;
    const std::function<bool()>& stop;

    bool may_go_on() const { return passes > 0 && !(stop && stop()); }
    ReadLine read(const cv::Mat& gray) {
        if (!may_go_on()) return {};
        --passes;
        return ocr.line(gray);
    }
    MarkLine start(const TextLine& line, const InkTone& tone, bool over, LinePicture& picture) {
        picture = line_picture(ground, photo, mark, line, tone, over);
        const double length =
            line.curved ? (line.to_deg - line.from_deg) * CV_PI / 180 * line.radius : line.u_to - line.u_from;
        const double fit = std::max(static_cast<double>(line.letters.size()), length / (0.95 * line.height));
        return {read(picture.gray), picture.box, picture.turned_deg, line.curved, line.letters.size(), fit};
    }
    void improve(MarkLine& line, const LinePicture& picture, int ways) {
        const auto good = [&] {
            return line.read.confidence() >= kGood && line.read.letters() <= 1.2 * line.letters_fit + 0.5;
        };
        for (int way = 0; way < ways && !good() && may_go_on(); ++way) {
            MarkLine other = line;
            other.read = read(way == 0   ? black_and_white(picture.gray)
                              : way == 1 ? by_surroundings(picture.gray)
                                         : picture.mask);
            if (worth(other, known) > worth(line, known) + 0.05) line = std::move(other);
        }
    }
};

}  // namespace

MarkText read_mark(const Ground& ground, Halves& photo, const Mark& mark, Ocr& ocr,
                   const std::vector<std::string>& known, int passes, std::optional<double> usual_turn_deg,
                   const std::function<bool()>& stop) {
    Reader reader{ground, photo, mark, ocr, known, passes, stop};
    struct BothWays {
        const TextLine* line;
        InkTone tone;
        MarkLine way[2];
        LinePicture picture[2];
        bool tried[2] = {false, false};
    };
    std::vector<BothWays> lines;
    for (const TextLine& line : mark.lines) lines.push_back({&line, ink_tone(ground, mark, line), {}, {}, {}});
    const auto attempt = [&](BothWays& one, bool over) {
        if (one.tried[over]) return;
        one.tried[over] = true;
        one.way[over] = reader.start(*one.line, one.tone, over, one.picture[over]);
    };

    // Which way up: the best lines are read from both ends until one end is clearly ahead. Straight lines of a mark
    // stand one way; each curved one has its own.
    double ahead = 0, letters = 0;
    for (BothWays& one : lines) {
        if (one.line->curved || one.line->letters.size() < 2) continue;
        if (letters > 0 && std::abs(ahead) > 0.12 * letters) break;
        attempt(one, false);
        attempt(one, true);
        // When both read badly nothing is known yet: a better picture of each decides. Of a few letters one picture
        // alone says too little in any case.
        const bool few = one.line->letters.size() <= 3;
        if (few || std::max(one.way[0].read.confidence(), one.way[1].read.confidence()) < 0.75)
            for (const bool over : {false, true}) reader.improve(one.way[over], one.picture[over], few ? 3 : 1);
        ahead += worth(one.way[1], known) - worth(one.way[0], known);
        if (usual_turn_deg) {
            constexpr double kUsualTurn = 0.12;  // for each letter: as much as a little more trust in it
            const double with = std::cos((one.way[1].turned_deg - *usual_turn_deg) * CV_PI / 180);
            ahead += kUsualTurn * with * static_cast<double>(one.line->letters.size());
        }
        letters += static_cast<double>(one.line->letters.size());
    }
    // When neither end reads like words, what lies there are none.
    if (letters > 0 && std::ranges::none_of(lines, [](const BothWays& one) {
            return one.line->curved || plausible(one.way[0]) || plausible(one.way[1]);
        }))
        return {};
    const bool over = ahead > 0;

    MarkText out;
    for (BothWays& one : lines) {
        bool way = over;
        if (one.line->curved) {
            attempt(one, false);
            attempt(one, true);
            if (!plausible(one.way[0]) && !plausible(one.way[1])) continue;
            way = worth(one.way[1], known) > worth(one.way[0], known);
        } else {
            attempt(one, over);
        }
        reader.improve(one.way[way], one.picture[way], 3);
        close_up(one.way[way].read, one.picture[way].mask);
        if (one.way[way].read.letters() == 0) continue;
        out.lines.push_back(std::move(one.way[way]));
    }
    if (out.lines.empty()) return out;

    // From the top down, seen upright; curved lines as they come round the mark.
    const auto longest = std::ranges::max_element(
        out.lines, {}, [](const MarkLine& line) { return std::pair(!line.curved, line.read.letters()); });
    out.turned_deg = longest->turned_deg;
    const double turn = out.turned_deg * CV_PI / 180;
    const auto place = [&](const MarkLine& line) {
        const cv::Point2d middle = (line.box[0] + line.box[2]) / 2;
        return std::pair(-middle.x * std::sin(turn) + middle.y * std::cos(turn),
                         middle.x * std::cos(turn) + middle.y * std::sin(turn));
    };
    std::ranges::stable_sort(out.lines, [&](const MarkLine& a, const MarkLine& b) {
        const auto [a_down, a_along] = place(a);
        const auto [b_down, b_along] = place(b);
        const double height = std::min(cv::norm(a.box[3] - a.box[0]), cv::norm(b.box[3] - b.box[0]));
        if (!a.curved && !b.curved && std::abs(a_down - b_down) < 0.5 * height) return a_along < b_along;
        return a_down < b_down;
    });

    double sum = 0, count = 0;
    for (const MarkLine& line : out.lines) {
        sum += line.read.confidence() * line.read.letters();
        count += line.read.letters();
    }
    out.confidence = count > 0 ? sum / count : 0;
    return out;
}

}  // namespace footring::photo

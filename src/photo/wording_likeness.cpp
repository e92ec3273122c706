// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <optional>
#include <string>
#include <vector>

#include "base/text.h"
#include "photo/wording.h"

namespace footring::photo {

namespace {

// Letters that readers of print and worn stamps take for each other. A pair in one group costs kConfused.
constexpr std::array<std::string_view, 18> kConfusable = {"O0QDCGU", "1ILTJ7", "5S",  "8B3", "2Z",  "6G",
                                                          "UV",      "MNHW",   "EFB", "KXR", "4A",  "9GQ",
                                                          "PRF",     "VY",     "CG",  "HNK", "TYI", "DB"};
constexpr double kConfused = 0.35, kOther = 1.0;
constexpr double kLost = 0.7;         // a letter of the mark that was not read: wear loses letters
constexpr double kAdded = 0.8;        // a letter read that the mark has not: dirt seldom looks like one
constexpr double kOutOfOrder = 0.03;  // for each line of the mark that stands elsewhere
constexpr double kBreak = 0.01;       // breaks, spaces and marks between words that differ, for each, at most four
constexpr std::size_t kMostReordered = 4;  // of a mark, tried in every order
constexpr std::size_t kLongest = 200;      // letters compared; no mark is longer

// Letters and digits in capitals; accents of Latin-1 left out, everything else counts as a break.
struct Folded {
    std::string letters;
    int breaks = 0;
};
char base_of_latin1(unsigned char second) {  // of U+00C0..U+00FF, by the second byte of its UTF-8
    constexpr std::string_view kBase = "AAAAAAACEEEEIIIIDNOOOOO OUUUUYTSAAAAAAACEEEEIIIIDNOOOOO OUUUUYTY";
    return kBase[second - 0x80U];
}
Folded folded(std::string_view text) {
    Folded out;
    bool in_break = true;
    for (std::size_t i = 0; i < text.size() && out.letters.size() < kLongest; ++i) {
        const auto c = static_cast<unsigned char>(text[i]);
        char letter = ' ';
        if (c >= 'a' && c <= 'z') letter = static_cast<char>(c - 'a' + 'A');
        else if ((c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9')) letter = static_cast<char>(c);
        else if (c == '&') letter = '&';
        else if (c == 0xC3 && i + 1 < text.size()) {
            const auto second = static_cast<unsigned char>(text[++i]);
            if (second >= 0x80 && second <= 0xBF) letter = base_of_latin1(second);
        }
        if (letter != ' ') out.letters += letter, in_break = false;
        else if (!in_break) ++out.breaks, in_break = true;
    }
    if (in_break && out.breaks > 0) --out.breaks;  // at the end
    return out;
}

double substitution(char a, char b) {
    if (a == b) return 0;
    for (const std::string_view group : kConfusable)
        if (group.find(a) != std::string_view::npos && group.find(b) != std::string_view::npos) return kConfused;
    return kOther;
}

// Cost of reading `read` where `mark` stands; letters only. Two thin letters may be one broad one (RN as M).
double cost(std::string_view read, std::string_view mark) {
    constexpr std::array<std::pair<std::string_view, char>, 6> kTwoAsOne = {
        {{"RN", 'M'}, {"VV", 'W'}, {"CL", 'D'}, {"II", 'U'}, {"IN", 'M'}, {"LI", 'U'}}};
    const std::size_t n = read.size(), m = mark.size();
    std::vector<std::vector<double>> d(n + 1, std::vector<double>(m + 1, 0));
    for (std::size_t i = 0; i <= n; ++i)
        for (std::size_t j = 0; j <= m; ++j) {
            if (i == 0 && j == 0) continue;
            double best = 1e9;
            if (i > 0) best = std::min(best, d[i - 1][j] + kAdded);
            if (j > 0) best = std::min(best, d[i][j - 1] + kLost);
            if (i > 0 && j > 0) best = std::min(best, d[i - 1][j - 1] + substitution(read[i - 1], mark[j - 1]));
            for (const auto& [two, one] : kTwoAsOne) {
                if (i > 1 && j > 0 && read.substr(i - 2, 2) == two && mark[j - 1] == one)
                    best = std::min(best, d[i - 2][j - 1] + kConfused);
                if (i > 0 && j > 1 && read[i - 1] == one && mark.substr(j - 2, 2) == two)
                    best = std::min(best, d[i - 1][j - 2] + kConfused);
            }
            d[i][j] = best;
        }
    return d[n][m];
}

// 1 when equal, 0 when nothing but the lengths would be right.
double alike(std::string_view read, std::string_view mark) {
    if (read.empty() || mark.empty()) return read.empty() && mark.empty() ? 1 : 0;
    // The most that the cheapest way can cost is to lose every letter and to add every other one.
    const double worst =
        std::max(static_cast<double>(mark.size()) * kLost + static_cast<double>(read.size()) * kAdded, 1e-9);
    const double share = 1 - cost(read, mark) / worst;
    // Half of the letters of any two wordings can be laid over each other; only what is above that tells.
    return std::clamp((share - 0.42) / 0.58, 0.0, 1.0);
}

}  // namespace

double likeness(std::string_view read, std::string_view mark_wording) {
    const Folded r = folded(read);
    std::vector<Folded> lines;
    for (const std::string& line : split(mark_wording, '/')) lines.push_back(folded(line));
    std::erase_if(lines, [](const Folded& line) { return line.letters.empty(); });
    if (lines.empty()) return r.letters.empty() ? 1 : 0;

    std::vector<std::size_t> order(lines.size());
    std::iota(order.begin(), order.end(), 0);
    double best = 0;
    do {
        std::string mark;
        double moved = 0;
        int breaks = static_cast<int>(lines.size()) - 1;
        for (std::size_t at = 0; at < order.size(); ++at) {
            mark += lines[order[at]].letters;
            breaks += lines[order[at]].breaks;
            if (order[at] != at) moved += kOutOfOrder;
        }
        const double gaps = kBreak * std::min(4, std::abs(breaks - r.breaks));
        best = std::max(best, alike(r.letters, mark) - moved - gaps);
    } while (lines.size() <= kMostReordered && std::ranges::next_permutation(order).found);
    return std::clamp(best, 0.0, 1.0);
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "dating/phrase.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>
#include <optional>

namespace footring::dating {

namespace {

// Groups of signs that look alike in a stamped, worn or photographed mark.
constexpr std::array<std::string_view, 11> kAlike = {"O0QD", "I1LJ", "S5",  "B8", "Z2", "G6C",
                                                     "EF",   "UVY",  "NHM", "A4", "RK"};
constexpr double kHalf = 0.5;
constexpr std::size_t kShort = 4;  // letters; below, only a figure read for a letter is forgiven
constexpr std::size_t kSlack = 3;  // letters that a match may be longer than its phrase

bool is_digit(char c) { return c >= '0' && c <= '9'; }

bool alike(char a, char b) {
    return std::ranges::any_of(
        kAlike, [&](std::string_view group) { return group.find(a) != group.npos && group.find(b) != group.npos; });
}

// The plain letter of a code point; absent: it is neither letter nor figure of ours.
std::optional<char> plain(std::uint32_t c) {
    if (c >= 'a' && c <= 'z') return static_cast<char>(c - 'a' + 'A');
    if ((c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9')) return static_cast<char>(c);
    // U+00C0 to U+00FF, capitals and small letters alike; - where there is no plain letter.
    constexpr std::string_view kLatin = "AAAAAAACEEEEIIIIDNOOOOO-OUUUUYTS";
    if (c >= 0xC0 && c <= 0xFF && kLatin[(c - 0xC0) % 32] != '-') return kLatin[(c - 0xC0) % 32];
    constexpr std::string_view kExtended =  // U+0100 to U+017F
        "AAAAAACCCCCCCCDDDDEEEEEEEEEEGGGGGGGGHHHHIIIIIIIIIIIIJJKKKLLLLLLLLLLNNNNNNNNNOOOOOOOORRRRRRSSSSSSSSTTTTTT"
        "UUUUUUUUUUUUWWYYYZZZZZZS";
    if (c >= 0x100 && c <= 0x17F) return kExtended[c - 0x100];
    return std::nullopt;
}

// The next code point; bytes that are no UTF-8 count as one sign each.
std::uint32_t next_sign(std::string_view text, std::size_t& at) {
    const auto byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i]));
    };
    const std::uint32_t lead = byte(at++);
    const int more = lead >= 0xF0 ? 3 : lead >= 0xE0 ? 2 : lead >= 0xC0 ? 1 : 0;
    std::uint32_t c = more == 0 ? lead : lead & (0x3Fu >> more);
    for (int i = 0; i < more && at < text.size() && (byte(at) & 0xC0u) == 0x80u; ++i)
        c = (c << 6) | (byte(at++) & 0x3Fu);
    return c;
}

// Two letters read as one, and one as two.
struct Pair {
    char one, a, b;
};
constexpr std::array<Pair, 3> kPairs = {{{'M', 'R', 'N'}, {'W', 'V', 'V'}, {'D', 'C', 'L'}}};

double swap_cost(char phrase, char text, bool short_phrase) {
    if (phrase == text) return 0;
    if (short_phrase) return alike(phrase, text) && is_digit(phrase) != is_digit(text) ? kHalf : 1;
    return alike(phrase, text) ? kHalf : 1;
}

}  // namespace

std::vector<Letter> letters_of(std::string_view text) {
    std::vector<Letter> out;
    std::size_t at = 0;
    bool open = false;  // the sign before was a letter
    for (std::size_t byte = 0; byte < text.size(); ++at) {
        const std::size_t begin = byte;
        const auto c = plain(next_sign(text, byte));
        if (!c) {
            if (open) out.back().ends = true;
            open = false;
            continue;
        }
        // A figure beside a letter parts words too: Rd176239 is two.
        const bool parts = open && is_digit(out.back().c) != is_digit(*c);
        if (parts) out.back().ends = true;
        out.push_back({*c, at, begin, !open || parts, false});
        open = true;
    }
    if (open) out.back().ends = true;
    return out;
}

std::string folded(std::string_view phrase) {
    std::string out;
    for (const Letter& letter : letters_of(phrase)) out += letter.c;
    return out;
}

double allowed_cost(std::size_t letters) {
    if (letters <= 2) return 0;
    if (letters <= 5) return 0.5;
    if (letters <= 8) return 1;
    if (letters <= 9) return 1.5;
    return letters <= 13 ? 2 : 3;
}

std::vector<PhraseMatch> find_phrase(const std::vector<Letter>& text, std::string_view phrase, double most) {
    std::vector<PhraseMatch> out;
    const std::size_t m = phrase.size();
    if (m == 0) return out;
    const bool is_short = m <= kShort;
    constexpr double kNever = std::numeric_limits<double>::infinity();
    // cost[i][j]: the first i letters of the phrase against the first j of the text from here on
    std::vector<std::vector<double>> cost(m + 1);
    for (std::size_t start = 0; start < text.size(); ++start) {
        if (!text[start].begins) continue;
        const std::size_t n = std::min(text.size() - start, m + kSlack);
        const auto t = [&](std::size_t j) { return text[start + j - 1].c; };  // 1-based, as the table is
        const auto p = [&](std::size_t i) { return phrase[i - 1]; };
        // The first letter may be wrong, but not both of the first two: most words end the search here.
        const bool begins = swap_cost(p(1), t(1), is_short) <= kHalf ||
                            (m > 1 && (p(2) == t(1) || (n > 1 && p(2) == t(2)))) ||
                            std::ranges::any_of(kPairs, [&](const Pair& pair) {
                                return (p(1) == pair.one && t(1) == pair.a) || (p(1) == pair.a && t(1) == pair.one);
                            });
        if (!begins) continue;
        for (auto& row : cost) row.assign(n + 1, kNever);
        for (std::size_t i = 0; i <= m; ++i)
            for (std::size_t j = 0; j <= n; ++j) {
                double& best = cost[i][j];
                if (i == 0 && j == 0) best = 0;
                const auto offer = [&](double value) { best = std::min(best, value); };
                if (i > 0) offer(cost[i - 1][j] + (i > 1 && p(i) == p(i - 1) && !is_short ? kHalf : 1));
                if (j > 0) offer(cost[i][j - 1] + (j > 1 && t(j) == t(j - 1) && !is_short ? kHalf : 1));
                if (i > 0 && j > 0) offer(cost[i - 1][j - 1] + swap_cost(p(i), t(j), is_short));
                if (is_short) continue;
                if (i > 1 && j > 1 && p(i) == t(j - 1) && p(i - 1) == t(j)) offer(cost[i - 2][j - 2] + kHalf);
                const auto pair_for = [&](char one, char a, char b) {
                    if (i > 0 && j > 1 && p(i) == one && t(j - 1) == a && t(j) == b)
                        offer(cost[i - 1][j - 2] + kHalf);
                    if (j > 0 && i > 1 && t(j) == one && p(i - 1) == a && p(i) == b)
                        offer(cost[i - 2][j - 1] + kHalf);
                };
                for (const Pair& pair : kPairs) pair_for(pair.one, pair.a, pair.b);
            }
        std::optional<PhraseMatch> best;
        for (std::size_t j = 1; j <= n; ++j)
            if (text[start + j - 1].ends && cost[m][j] <= most && (!best || cost[m][j] < best->cost))
                best = {start, start + j - 1, cost[m][j]};
        if (best) out.push_back(*best);
    }
    return out;
}

}  // namespace footring::dating

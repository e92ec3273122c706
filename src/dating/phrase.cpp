// SPDX-License-Identifier: Apache-2.0
#include "dating/phrase.h"

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>

namespace footring::dating {

namespace {

// Groups of signs that look alike in a stamped, worn or photographed mark.
constexpr std::array<std::string_view, 11> kAlike = {"O0QD", "I1LJ", "S5",  "B8", "Z2", "G6C",
                                                     "EF",   "UVY",  "NHM", "A4", "RK"};
constexpr std::size_t kShort = 4;  // letters; below, only a figure read for a letter is forgiven
constexpr std::size_t kSlack = 3;  // letters that a match may be longer than its phrase

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// By pair of plain letters: 26 letters, then 10 figures.
constexpr std::size_t kLetters = 26, kSigns = kLetters + 10;
constexpr std::size_t sign_of(char c) {
    return c >= '0' && c <= '9' ? static_cast<std::size_t>(c - '0') + kLetters : static_cast<std::size_t>(c - 'A');
}
constexpr auto kAlikePairs = [] {
    std::array<std::array<bool, kSigns>, kSigns> out{};
    for (const std::string_view group : kAlike)
        for (const char a : group)
            for (const char b : group) out[sign_of(a)][sign_of(b)] = true;
    return out;
}();

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
constexpr std::size_t kNoPair = 99;
constexpr std::array<Pair, 3> kPairs = {{{'M', 'R', 'N'}, {'W', 'V', 'V'}, {'D', 'C', 'L'}}};

// Costs are counted in halves.
constexpr int kHalf = 1, kWhole = 2, kNever = 1000;
constexpr auto table_of_swaps(bool short_phrase) {
    std::array<std::array<std::uint8_t, kSigns>, kSigns> out{};
    for (std::size_t phrase = 0; phrase < kSigns; ++phrase)
        for (std::size_t text = 0; text < kSigns; ++text) {
            const bool figure_for_letter = (phrase >= kLetters) != (text >= kLetters);
            const bool near = kAlikePairs[phrase][text] && (!short_phrase || figure_for_letter);
            out[phrase][text] = static_cast<std::uint8_t>(phrase == text ? 0 : near ? kHalf : kWhole);
        }
    return out;
}
constexpr auto kSwaps = table_of_swaps(false), kShortSwaps = table_of_swaps(true);

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
    for (std::size_t byte = 0; byte < phrase.size();)
        if (const auto c = plain(next_sign(phrase, byte))) out += *c;
    return out;
}

double allowed_cost(std::size_t letters) {
    if (letters <= 2) return 0;
    if (letters <= 5) return 0.5;
    if (letters <= 8) return 1;
    if (letters <= 9) return 1.5;
    return letters <= 13 ? 2 : 3;
}

std::vector<PhraseMatch> find_phrase(const std::vector<Letter>& text, std::string_view phrase,
                                     double most_allowed) {
    std::vector<PhraseMatch> out;
    const std::size_t m = phrase.size();
    if (m == 0) return out;
    const bool is_short = m <= kShort;
    const int most = static_cast<int>(most_allowed * 2);
    const auto& swaps = is_short ? kShortSwaps : kSwaps;
    // By letter of the phrase, 1-based as the table below: its sign, what leaving it out costs, the pair that it is
    // one letter of, and the pair that it ends.
    struct Step {
        std::size_t sign = 0;
        int drop = kWhole;
        const Pair *as_one = nullptr, *as_two = nullptr;
    };
    std::vector<Step> steps(m + 1);
    for (std::size_t i = 1; i <= m; ++i) {
        Step& step = steps[i];
        const char c = phrase[i - 1];
        step.sign = sign_of(c);
        if (is_short) continue;
        if (i > 1 && phrase[i - 2] == c) step.drop = kHalf;
        for (const Pair& pair : kPairs) {
            if (c == pair.one) step.as_one = &pair;
            if (i > 1 && phrase[i - 2] == pair.a && c == pair.b) step.as_two = &pair;
        }
    }
    // cost[i * width + j]: the first i letters of the phrase against the first j of the text from here on. Made
    // when the first word may begin the phrase: most phrases never need it.
    const std::size_t width = m + kSlack + 1;
    std::vector<int> cost;
    for (std::size_t start = 0; start < text.size(); ++start) {
        if (!text[start].begins) continue;
        const std::size_t n = std::min(text.size() - start, m + kSlack);
        const auto t = [&](std::size_t j) { return text[start + j - 1].c; };
        const auto p = [&](std::size_t i) { return phrase[i - 1]; };
        // The first letter may be wrong, but not both of the first two: most words end the search here.
        const bool begins = swaps[steps[1].sign][sign_of(t(1))] <= kHalf ||
                            (m > 1 && (p(2) == t(1) || (n > 1 && p(2) == t(2)))) ||
                            std::ranges::any_of(kPairs, [&](const Pair& pair) {
                                return (p(1) == pair.one && t(1) == pair.a) || (p(1) == pair.a && t(1) == pair.one);
                            });
        if (!begins) continue;
        cost.resize((m + 1) * width);
        cost[0] = 0;
        for (std::size_t j = 1; j <= n; ++j)
            cost[j] = cost[j - 1] + (j > 1 && t(j) == t(j - 1) && !is_short ? kHalf : kWhole);
        int before = 0;  // the least of the row before
        for (std::size_t i = 1; i <= m; ++i) {
            const Step& step = steps[i];
            const auto& swap = swaps[step.sign];
            int* const row = &cost[i * width];
            const int* const above = row - width;
            row[0] = above[0] + step.drop;
            int least = row[0];
            for (std::size_t j = 1; j <= n; ++j) {
                const char c = t(j);
                int best = std::min(above[j] + step.drop, above[j - 1] + swap[sign_of(c)]);
                const bool doubled = j > 1 && !is_short && c == t(j - 1);
                best = std::min(best, row[j - 1] + (doubled ? kHalf : kWhole));
                if (!is_short) {
                    if (i > 1 && j > 1 && p(i) == t(j - 1) && p(i - 1) == c)  // two changed places
                        best = std::min(best, (above - width)[j - 2] + kHalf);
                    if (step.as_one != nullptr && j > 1 && t(j - 1) == step.as_one->a && c == step.as_one->b)
                        best = std::min(best, above[j - 2] + kHalf);
                    if (step.as_two != nullptr && c == step.as_two->one)
                        best = std::min(best, (above - width)[j - 1] + kHalf);
                }
                row[j] = best;
                least = std::min(least, best);
            }
            // A row leans on the two above it: when both cost too much, so does all that follows.
            if (least > most && before > most) {
                std::fill_n(&cost[m * width], n + 1, kNever);
                break;
            }
            before = least;
        }
        std::size_t best = 0;  // letters of the text; 0: none
        const int* const whole = &cost[m * width];
        for (std::size_t j = 1; j <= n; ++j)
            if (text[start + j - 1].ends && whole[j] <= most && (best == 0 || whole[j] < whole[best])) best = j;
        if (best > 0) out.push_back({start, start + best - 1, whole[best] / 2.0});
    }
    return out;
}

}  // namespace footring::dating

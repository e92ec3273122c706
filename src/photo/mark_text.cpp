// SPDX-License-Identifier: Apache-2.0
#include "photo/mark_text.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <optional>
#include <set>

#include "base/settings.h"
#include "base/text.h"
#include "book/code_scheme.h"
#include "photo/wording.h"

namespace footring::photo {

namespace {

constexpr double kIllegible = 0.5;    // trust below which a character of a number is a `?`
constexpr double kWordOfMark = 0.75;  // likeness from which a line is one of a mark's
constexpr std::size_t kLongestNumber = 7, kLongestCode = 6;

bool is_letter(char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; }
bool is_upper(char c) { return std::isupper(static_cast<unsigned char>(c)) != 0; }
bool is_digit(char c) { return c >= '0' && c <= '9'; }

double best_likeness(std::string_view text, const std::vector<std::string>& known) {
    double best = 0;
    for (const std::string& word : known) best = std::max(best, likeness(text, word));
    return best;
}

// How much a line looks like a word of a mark, 0..1: its reader's confidence, less for changes from small letters
// to capitals, for stops and dashes, and for a count of letters that is not what was seen.
double wordiness(const MarkLine& line, const std::vector<std::string>& known) {
    const std::string text = line.read.text();
    const auto letters = static_cast<double>(line.read.letters());
    if (letters == 0) return 0;
    int changes = 0, odd = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text[i] != ' ' && text[i] != '&' && text[i] != '-' && !is_letter(text[i]) && !is_digit(text[i])) ++odd;
        if (i > 0 && is_letter(text[i]) && is_letter(text[i - 1]) && is_upper(text[i]) && !is_upper(text[i - 1]))
            ++changes;
    }
    const auto seen = static_cast<double>(line.letters_seen);
    const double count = std::min(letters, seen) / std::max(letters, seen);
    double out = line.read.confidence() - 0.15 * changes - 0.08 * odd - 0.6 * std::max(0.0, 0.6 - count);
    if (letters >= 4) out = std::max(out, 0.9 * best_likeness(text, known));
    return out;
}

// A token of a line: letters between two spaces.
struct Token {
    std::string text;
    double trust = 1;       // of the least sure character
    std::string with_gaps;  // unsure characters as `?`
};
std::vector<Token> tokens_of(const ReadLine& line) {
    std::vector<Token> out;
    bool open = false;
    for (const ReadChar& c : line.chars) {
        if (c.letter == ' ') {
            open = false;
            continue;
        }
        if (!open) out.emplace_back(), open = true;
        Token& token = out.back();
        token.text += c.letter;
        token.trust = std::min(token.trust, c.confidence);
        token.with_gaps += c.confidence < kIllegible ? '?' : c.letter;
    }
    for (Token& token : out) {  // stops and dashes at the ends are dirt
        const auto is_edge = [](char c) { return !is_letter(c) && !is_digit(c) && c != '?'; };
        while (!token.with_gaps.empty() && is_edge(token.with_gaps.back()))
            token.with_gaps.pop_back(), token.text.pop_back();
        while (!token.with_gaps.empty() && is_edge(token.with_gaps.front()))
            token.with_gaps.erase(0, 1), token.text.erase(0, 1);
    }
    std::erase_if(out, [](const Token& token) { return token.text.empty(); });
    return out;
}

// Between digits a letter that looks like one is one.
std::string as_number(std::string text) {
    const auto digits = std::ranges::count_if(text, is_digit);
    const auto letters = std::ranges::count_if(text, is_letter);
    if (digits <= letters) return text;
    constexpr std::string_view kFrom = "OoQIlSsZzB", kTo = "0001155228";
    for (std::size_t i = 0; i < text.size(); ++i) {
        const bool last = i + 1 == text.size(), first = i == 0;
        if (first || last) continue;  // K9 and 112B are numbers with a letter
        if (const auto at = kFrom.find(text[i]); at != std::string_view::npos) text[i] = kTo[at];
    }
    return text;
}

bool is_number(const std::string& text) {
    if (text.empty() || text.size() > kLongestNumber) return false;
    const auto digits = std::ranges::count_if(text, is_digit);
    const auto others =
        std::ranges::count_if(text, [](char c) { return !is_digit(c) && c != '?' && c != '/' && c != '-'; });
    return digits >= 1 && others <= 2 && digits >= others;
}

std::string upper(std::string_view text) {
    std::string out(text);
    for (char& c : out) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    return out;
}

// Whether a token says a year by the scheme; digits and letters that look alike are both tried.
std::optional<std::string> as_code(const book::CodeScheme& scheme, const std::string& token) {
    const Settings usual;
    const auto says_year = [&](const std::string& code) {
        const auto years =
            book::decode(scheme, code, static_cast<int>(usual.first_year), static_cast<int>(usual.last_year));
        return years && !years->empty();
    };
    const std::string plain = upper(token);
    if (says_year(plain)) return plain;
    constexpr std::string_view kAlike[] = {"O0", "I1", "S5", "Z2", "B8", "G6"};
    for (std::size_t i = 0; i < plain.size(); ++i)
        for (const std::string_view pair : kAlike)
            if (const auto at = pair.find(plain[i]); at != std::string_view::npos) {
                std::string other = plain;
                other[i] = pair[1 - at];
                if (says_year(other)) return other;
            }
    return std::nullopt;
}

// The share of letters that both texts have, whatever their order. Where it is small the wordings are not alike,
// and the careful comparison is not worth while; packs may have thousands of marks.
double letters_in_common(std::string_view a, std::string_view b) {
    std::array<int, 256> count{};
    int of_a = 0, of_b = 0, common = 0;
    const auto is_sign = [](char c) { return is_letter(c) || is_digit(c); };
    for (const char c : a)
        if (is_sign(c)) ++of_a, ++count[static_cast<std::size_t>(std::toupper(static_cast<unsigned char>(c)))];
    for (const char c : b)
        if (is_sign(c)) {
            ++of_b;
            if (count[static_cast<std::size_t>(std::toupper(static_cast<unsigned char>(c)))]-- > 0) ++common;
        }
    return common / std::max(1.0, static_cast<double>(std::max(of_a, of_b)));
}

struct MarkChance {
    std::size_t mark;
    double likeness, weight;
};

// Chances over the marks and "none of them", from the likeness of the wording. The scale is such that a likeness of
// kNone is as likely another pottery's mark as this one, and that a tenth more makes it some seven times likelier.
std::vector<MarkChance> marks_by_wording(const std::vector<std::string>& lines, const book::Book& book) {
    constexpr double kNone = 0.72, kSteep = 20;
    std::string text;
    for (const std::string& line : lines) text += (text.empty() ? "" : " / ") + line;
    std::vector<MarkChance> out;
    double sum = std::exp(0.0);
    for (std::size_t i = 0; i < book.marks.size(); ++i) {
        if (letters_in_common(text, book.marks[i].wording) < 0.35) continue;
        const double alike = likeness(text, book.marks[i].wording);
        if (alike < 0.3) continue;
        out.push_back({i, alike, std::exp(kSteep * (alike - kNone))});
        sum += out.back().weight;
    }
    for (MarkChance& one : out) one.weight /= sum;
    std::ranges::stable_sort(out, std::ranges::greater{}, &MarkChance::weight);
    return out;
}

}  // namespace

void keep_words(MarkText& text, const std::vector<std::string>& known) {
    // One line must be beyond doubt, the more so the shorter it is; then weaker ones beside it are believed too.
    constexpr double kLongAnchor = 0.80, kShortAnchor = 0.92, kBeside = 0.60, kSingle = 0.80;
    const bool anchored = std::ranges::any_of(text.lines, [&](const MarkLine& line) {
        const int letters = line.read.letters();
        return letters >= 3 && wordiness(line, known) >= (letters >= 5 ? kLongAnchor : kShortAnchor);
    });
    std::erase_if(text.lines, [&](const MarkLine& line) {
        return !anchored || wordiness(line, known) < (line.read.letters() == 1 ? kSingle : kBeside);
    });
}

void keep_numbers(MarkText& text, const NumberTrust& trusted) {
    std::erase_if(text.lines, [&](const MarkLine& line) {
        const std::vector<Token> tokens = tokens_of(line.read);
        return tokens.size() != 1 || tokens[0].text.size() < trusted.least_signs ||
               !is_number(as_number(tokens[0].text)) || wordiness(line, {}) < trusted.least ||
               line.read.letters() > 1.2 * line.letters_fit + 0.5;
    });
}

void compare(Wording& out, const std::vector<MarkLine>& lines, const book::Book& book) {
    std::vector<std::string> known;
    for (const book::Mark& mark : book.marks)
        for (const std::string& line : split(mark.wording, '/')) known.push_back(line);

    // Lines that are nothing but a number or a code are not part of the wording, unless the packs know them as
    // such.
    std::vector<std::string> wording;
    struct Loose {
        Token token;
        bool alone;  // on its line
    };
    std::vector<Loose> loose;
    for (const MarkLine& line : lines) {
        Words words;
        words.text = std::string(trim(line.read.text()));
        words.confidence = line.read.confidence();
        for (std::size_t i = 0; i < 4; ++i) words.box[i] = px_from_mat(line.box[i]);
        words.turned_deg = line.turned_deg;
        const std::vector<Token> tokens = tokens_of(line.read);
        const bool in_a_mark = best_likeness(words.text, known) >= kWordOfMark;
        if (!in_a_mark && tokens.size() == 1 &&
            (is_number(as_number(tokens[0].with_gaps)) || tokens[0].text.size() <= 2)) {
            loose.push_back({tokens[0], true});
            if (is_number(as_number(tokens[0].with_gaps))) words.text = as_number(tokens[0].with_gaps);
        } else {
            wording.push_back(words.text);
            if (!in_a_mark)
                for (const Token& token : tokens) loose.push_back({token, false});
        }
        out.words.push_back(std::move(words));
    }

    std::vector<MarkChance> marks = marks_by_wording(wording, book);
    // Short lines may be wording after all ("K W"): when a mark is nearer with them, they are.
    if (std::ranges::any_of(loose, [](const Loose& one) { return one.alone; })) {
        std::vector<std::string> all;
        for (const Words& words : out.words) all.push_back(words.text);
        auto with_all = marks_by_wording(all, book);
        if (!with_all.empty() && (marks.empty() || with_all[0].likeness > marks[0].likeness + 0.02)) {
            marks = std::move(with_all);
            const std::string& chosen = book.marks[marks[0].mark].wording;
            std::erase_if(loose, [&](const Loose& one) {
                return std::ranges::any_of(split(chosen, '/'), [&](const std::string& line) {
                    return likeness(one.token.text, line) > kWordOfMark;
                });
            });
        }
    }
    constexpr std::size_t kMost = 8;
    constexpr double kLeast = 0.01;
    for (const MarkChance& one : marks)
        if (out.marks.size() < kMost && one.weight >= kLeast)
            out.marks.push_back(
                {book::id_of(book, book::Ref<book::Mark>{static_cast<std::uint32_t>(one.mark)}), one.weight});

    // A date code by the scheme of the likely mark; by another scheme only when it is long enough to be no
    // accident.
    std::set<std::uint32_t> likely;
    for (const MarkChance& one : marks)
        if (one.weight >= 0.2 && book.marks[one.mark].code_scheme)
            likely.insert(book.marks[one.mark].code_scheme->at);
    std::set<std::string> codes;
    for (const Loose& one : loose) {
        if (one.token.text.size() > kLongestCode || one.token.trust < kIllegible) continue;
        bool is_a_code = false;
        for (std::uint32_t scheme = 0; scheme < book.code_schemes.size() && !is_a_code; ++scheme) {
            const bool by_mark = likely.contains(scheme);
            if (!by_mark && (one.token.text.size() < 3 || !likely.empty())) continue;
            if (!one.alone && one.token.text.size() < 3) continue;
            // Digits alone are a number rather than a date, when the mark's scheme does not say otherwise.
            if (!by_mark && std::ranges::all_of(one.token.text, is_digit)) continue;
            if (const auto code = as_code(book.code_schemes[scheme], one.token.text)) {
                if (codes.insert(*code).second) out.date_codes.push_back(*code);
                is_a_code = true;
            }
        }
        if (is_a_code) continue;
        const std::string number = as_number(one.token.with_gaps);
        if (is_number(number) && std::ranges::find(out.numbers, number) == out.numbers.end())
            out.numbers.push_back(number);
    }
}

}  // namespace footring::photo

// SPDX-License-Identifier: Apache-2.0
#include "base/text.h"

#include <fmt/format.h>
#include <unicode/uchar.h>
#include <unicode/utf8.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <limits>
#include <numeric>

namespace footring {

namespace {
char lower_char(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }
bool is_ascii_only(std::string_view text) {
    return std::ranges::none_of(text, [](char c) { return static_cast<unsigned char>(c) >= 0x80; });
}
// The character at `at`, which moves behind it; a byte that is none stands for itself, below all characters.
UChar32 next_character(std::string_view text, std::size_t& at) {
    auto i = static_cast<std::int32_t>(at);
    UChar32 c = 0;
    U8_NEXT(text.data(), i, static_cast<std::int32_t>(text.size()), c);
    if (c >= 0) {
        at = static_cast<std::size_t>(i);
        return c;
    }
    return -1 - static_cast<unsigned char>(text[at++]);
}
UChar32 small(UChar32 c) { return c < 0 ? c : u_foldCase(c, U_FOLD_CASE_DEFAULT); }
bool is_space(char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r' || c == '\f' || c == '\v'; }

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t above = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, diagonal + (a[i - 1] == b[j - 1] ? 0 : 1)});
            diagonal = above;
        }
    }
    return row.back();
}
}  // namespace

std::string_view trim(std::string_view text) {
    while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
    while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
    return text;
}

std::vector<std::string> split(std::string_view text, char at) {
    std::vector<std::string> parts;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(at), text.size());
        if (const auto part = trim(text.substr(0, end)); !part.empty()) parts.emplace_back(part);
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return parts;
}

std::string lower(std::string_view text) {
    std::string out(text);
    if (is_ascii_only(text)) {
        std::ranges::transform(out, out.begin(), lower_char);
        return out;
    }
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t begin = at;
        const UChar32 c = next_character(text, at);
        if (c < 0) continue;
        const UChar32 small = u_tolower(c);
        if (static_cast<std::size_t>(U8_LENGTH(small)) != at - begin) continue;
        std::size_t to = begin;
        U8_APPEND_UNSAFE(out.data(), to, small);
    }
    return out;
}

std::optional<double> to_number(std::string_view text) {
    double value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size() || !std::isfinite(value)) return std::nullopt;
    return value;
}

std::optional<int> to_int(std::string_view text) {
    int value = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

bool is_kebab(std::string_view text) {
    if (text.empty() || text.front() == '-' || text.back() == '-') return false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        if (c == '-' && text[i - 1] == '-') return false;
        if (c != '-' && !(c >= 'a' && c <= 'z') && !(c >= '0' && c <= '9')) return false;
    }
    return true;
}

bool is_utf8(std::string_view text) {
    for (std::size_t i = 0; i < text.size();) {
        const auto lead = static_cast<unsigned char>(text[i]);
        if (lead == 0) return false;
        const std::size_t length = lead < 0x80         ? 1
                                   : (lead >> 5) == 6  ? 2
                                   : (lead >> 4) == 14 ? 3
                                   : (lead >> 3) == 30 ? 4
                                                       : 0;
        if (length == 0 || i + length > text.size()) return false;
        char32_t code = length == 1 ? lead : lead & (0x7Fu >> length);
        for (std::size_t k = 1; k < length; ++k) {
            const auto next = static_cast<unsigned char>(text[i + k]);
            if ((next >> 6) != 2) return false;
            code = (code << 6) | (next & 0x3Fu);
        }
        constexpr char32_t kLeast[] = {0, 0, 0x80, 0x800, 0x10000};
        if (code < kLeast[length] || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return false;
        i += length;
    }
    return true;
}

// Greedy with one step back per star: linear in practice, never exponential.
bool matches_pattern(std::string_view pattern, std::string_view text) {
    constexpr std::size_t kNone = std::string_view::npos;
    std::size_t p = 0, t = 0, star = kNone, retry = 0;
    while (t < text.size()) {
        if (p < pattern.size() && pattern[p] == '*') {
            star = p++;
            retry = t;
            continue;
        }
        if (p < pattern.size()) {
            std::size_t after_p = p, after_t = t;
            const UChar32 wanted = next_character(pattern, after_p), there = next_character(text, after_t);
            if (wanted == '?' || small(wanted) == small(there)) {
                p = after_p, t = after_t;
                continue;
            }
        }
        if (star == kNone) return false;
        p = star + 1;
        next_character(text, retry);
        t = retry;
    }
    while (p < pattern.size() && pattern[p] == '*') ++p;
    return p == pattern.size();
}

std::string escape_markup(std::string_view text) {
    std::string out;
    out.reserve(text.size());
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            case '"':
                out += "&quot;";
                break;
            case '\'':
                out += "&#39;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

std::string did_you_mean(std::string_view name, std::span<const std::string> known, std::string_view otherwise) {
    std::size_t nearest = std::numeric_limits<std::size_t>::max();
    const std::string* best = nullptr;
    for (const std::string& candidate : known) {
        if (candidate.size() > name.size() + 3 || name.size() > candidate.size() + 3) continue;
        const std::size_t distance = edit_distance(lower(name), lower(candidate));
        if (distance < nearest) nearest = distance, best = &candidate;
    }
    if (best == nullptr || nearest > std::max<std::size_t>(1, name.size() / 3)) return std::string(otherwise);
    return fmt::format("did you mean '{}'?", *best);
}

}  // namespace footring

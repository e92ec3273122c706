// SPDX-License-Identifier: Apache-2.0
#include "store/words.h"

#include <unicode/normalizer2.h>
#include <unicode/uchar.h>
#include <unicode/unistr.h>
#include <unicode/utf8.h>

#include <algorithm>
#include <set>

namespace footring::store {

namespace {

// Letters that Unicode does not decompose and that a person types without their stroke.
std::string_view plain_letters(UChar32 c) {
    switch (c) {
        case 0xE6:
            return "ae";  // æ
        case 0x153:
            return "oe";  // œ
        case 0xF8:
            return "o";  // ø
        case 0x142:
            return "l";  // ł
        case 0x111:
            return "d";  // đ
        case 0xF0:
            return "d";  // ð
        case 0xFE:
            return "th";  // þ
        case 0x131:
            return "i";  // ı
        case 0x127:
            return "h";  // ħ
        default:
            return {};
    }
}

bool is_ascii(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x80; });
}
bool is_ascii_word(char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }
bool is_blank(char c) { return c == ' ' || (c >= '\t' && c <= '\r'); }

// At most `most` bytes, never half a character.
std::string_view cut(std::string_view text, std::size_t most) {
    if (text.size() <= most) return text;
    while (most > 0 && (static_cast<unsigned char>(text[most]) & 0xC0U) == 0x80U) --most;
    return text.substr(0, most);
}

// Folded text as parts of letters and digits, in words that blanks separate.
std::vector<std::vector<std::string>> words_of(std::string_view text) {
    std::vector<std::vector<std::string>> words(1);
    bool inside = false;
    const auto take = [&](std::string_view letters) {
        if (!inside) words.back().emplace_back();
        words.back().back() += letters;
        inside = true;
    };
    const auto sign = [&](bool blank) {
        inside = false;
        if (blank && !words.back().empty()) words.emplace_back();
    };
    const std::string folded = fold(text);
    if (is_ascii(folded)) {
        for (const char& c : folded)
            if (is_ascii_word(c)) take({&c, 1});
            else sign(is_blank(c));
    } else {
        const auto unicode = icu::UnicodeString::fromUTF8(folded);
        for (int32_t i = 0; i < unicode.length(); i = unicode.moveIndex32(i, 1)) {
            const UChar32 c = unicode.char32At(i);
            std::string letters;
            icu::UnicodeString(c).toUTF8String(letters);
            if (u_isalnum(c) || (U_GET_GC_MASK(c) & U_GC_MC_MASK) != 0) take(letters);
            else sign(u_isUWhiteSpace(c));
        }
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

}  // namespace

std::string fold(std::string_view utf8) {
    if (is_ascii(utf8)) {
        std::string out(utf8);
        for (char& c : out)
            if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
        return out;
    }
    UErrorCode error = U_ZERO_ERROR;
    const icu::Normalizer2* folding = icu::Normalizer2::getNFKCCasefoldInstance(error);
    const icu::Normalizer2* apart = icu::Normalizer2::getNFKDInstance(error);
    if (U_FAILURE(error)) return std::string(utf8);  // ICU without its data: searched as written
    const auto text =
        icu::UnicodeString::fromUTF8(icu::StringPiece(utf8.data(), static_cast<int32_t>(utf8.size())));
    const icu::UnicodeString letters = apart->normalize(folding->normalize(text, error), error);
    if (U_FAILURE(error)) return std::string(utf8);
    std::string out;
    icu::UnicodeString kept;
    for (int32_t i = 0; i < letters.length(); i = letters.moveIndex32(i, 1)) {
        const UChar32 c = letters.char32At(i);
        if (u_charType(c) == U_NON_SPACING_MARK) continue;
        if (const auto plain = plain_letters(c); !plain.empty()) kept += icu::UnicodeString::fromUTF8(plain);
        else kept += c;
    }
    kept.toUTF8String(out);
    return out;
}

std::string index_words(const std::vector<std::string_view>& texts) {
    std::set<std::string, std::less<>> found;
    std::size_t bytes = 0;
    for (const std::string_view text : texts) {
        for (const auto& parts : words_of(text)) {
            for (std::size_t from = 0; from < parts.size(); ++from) {
                std::string tail;
                for (std::size_t i = from; i < parts.size() && tail.size() < kLongestWord; ++i) tail += parts[i];
                const auto word = cut(tail, kLongestWord);
                if (bytes + word.size() + 1 > kMostIndexBytes) continue;
                if (found.emplace(word).second) bytes += word.size() + 1;
            }
        }
    }
    std::string out;
    for (const std::string& word : found) (out += out.empty() ? "" : " ") += word;
    return out;
}

std::vector<std::string> query_words(std::string_view typed) {
    std::vector<std::string> out;
    for (const auto& parts : words_of(typed)) {
        std::string word;
        for (const std::string& part : parts) word += part;
        if (out.size() < kMostQueryWords && std::ranges::find(out, word) == out.end())
            out.emplace_back(cut(word, kLongestWord));
    }
    return out;
}

bool has_words(std::string_view indexed, const std::vector<std::string>& query) {
    return std::ranges::all_of(query, [&](const std::string& word) {
        for (std::size_t at = indexed.find(word); at != std::string_view::npos; at = indexed.find(word, at + 1))
            if (at == 0 || indexed[at - 1] == ' ') return true;
        return false;
    });
}

std::vector<std::string> beginnings(const std::vector<std::string>& words, int letters) {
    std::vector<std::string> out;
    for (const std::string& word : words) {
        const bool has_digit = std::ranges::any_of(word, [](char c) { return c >= '0' && c <= '9'; });
        int32_t bytes = 0;
        const auto length = static_cast<int32_t>(word.size());
        U8_FWD_N(word.data(), bytes, length, letters);
        out.push_back(has_digit ? word : word.substr(0, static_cast<std::size_t>(bytes)));
    }
    return out;
}

std::string natural_key(std::string_view text) {
    constexpr std::size_t kDigits = 12, kLongest = 200;
    if (text.empty()) return "~";  // after every letter and digit of a key that begins with '0'
    const std::string folded = fold(cut(text, kLongest));
    std::string key = "0";
    for (std::size_t i = 0; i < folded.size();) {
        std::size_t end = i;
        while (end < folded.size() && folded[end] >= '0' && folded[end] <= '9') ++end;
        if (end == i) {
            key += folded[i++];
            continue;
        }
        while (i + 1 < end && folded[i] == '0') ++i;
        if (end - i < kDigits) key.append(kDigits - (end - i), '0');
        key.append(folded, i, end - i);
        i = end;
    }
    return key;
}

}  // namespace footring::store

// SPDX-License-Identifier: Apache-2.0
#include "papers/hyphenate.h"

#include <hyphen.h>

#include <cstdlib>
#include <vector>

namespace footring::papers {

namespace {

// Debian, Fedora and Arch keep it here.
constexpr const char* kDictionary = "/usr/share/hyphen/hyph_en_GB.dic";

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

// Longer words than this are no English.
constexpr std::size_t kLongestDivided = 60;

}  // namespace

void Hyphenator::Free::operator()(void* dictionary) const { hnj_hyphen_free(static_cast<HyphenDict*>(dictionary)); }

Hyphenator::Hyphenator() : Hyphenator(kDictionary) {}
Hyphenator::Hyphenator(const std::string& dictionary) : dictionary_(hnj_hyphen_load(dictionary.c_str())) {}
Hyphenator::~Hyphenator() = default;
Hyphenator::Hyphenator(Hyphenator&&) noexcept = default;

std::string Hyphenator::with_soft_hyphens(std::string_view text) const {
    std::string out;
    out.reserve(text.size() + text.size() / 4);
    std::size_t at = 0;
    while (at < text.size()) {
        if (!is_letter(text[at])) {
            out += text[at++];
            continue;
        }
        std::size_t end = at;
        while (end < text.size() && is_letter(text[end])) ++end;
        const std::string_view word = text.substr(at, end - at);
        // A neighbour that belongs to the word (a digit, an accented letter, a hyphen) makes it one we do not know.
        const auto joins = [](char c) {
            return (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80 || c == '_' || c == '/' ||
                   c == ':' || c == '@';
        };
        const bool joined = (at > 0 && (joins(text[at - 1]) || text[at - 1] == '.')) ||
                            (end < text.size() && (joins(text[end]) && text[end] != ':') &&
                             !text.substr(end).starts_with("\u2019") && !text.substr(end).starts_with("\u2013") &&
                             !text.substr(end).starts_with("\u201d"));
        bool capitals = true;
        std::string lower(word);
        for (char& c : lower) {
            if (c >= 'a') capitals = false;
            else c = static_cast<char>(c - 'A' + 'a');
        }
        if (dictionary_ == nullptr || joined || capitals || word.size() < kShortestDivided ||
            word.size() > kLongestDivided) {
            out += word;
            at = end;
            continue;
        }
        std::vector<char> places(word.size() + 5, '0');
        char** replaced = nullptr;
        int* position = nullptr;
        int* cut = nullptr;
        const int failed = hnj_hyphen_hyphenate2(static_cast<HyphenDict*>(dictionary_.get()), lower.c_str(),
                                                 static_cast<int>(lower.size()), places.data(), nullptr, &replaced,
                                                 &position, &cut);
        const bool plain = failed == 0 && replaced == nullptr;  // English divides without changing letters
        if (replaced != nullptr) {
            for (std::size_t i = 0; i < word.size(); ++i) std::free(replaced[i]);
            std::free(replaced);
        }
        std::free(position);
        std::free(cut);
        for (std::size_t i = 0; i < word.size(); ++i) {
            out += word[i];
            if (plain && i + 3 < word.size() && i >= 1 && (places[i] - '0') % 2 == 1) out += kSoftHyphen;
        }
        at = end;
    }
    return out;
}

}  // namespace footring::papers

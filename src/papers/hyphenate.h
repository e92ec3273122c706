// papers/hyphenate.h - where English words may be divided.
//   in      a text, UTF-8
//   out     the same text with a soft hyphen (U+00AD) at each place where a word may be divided. Words that are in
//           capitals, hold a digit, or are shorter than kShortestDivided stay whole; those with a hyphen of their
//           own are divided there.
//   Without the dictionary of the system (package hyphen-en-gb) nothing is divided.
// SPDX-License-Identifier: Apache-2.0
#pragma once

#include <memory>
#include <string>
#include <string_view>

namespace footring::papers {

inline constexpr std::string_view kSoftHyphen = "\u00AD";
inline constexpr std::size_t kShortestDivided = 6;  // letters

class Hyphenator {
  public:
    Hyphenator();
    explicit Hyphenator(const std::string& dictionary);  // path of a libhyphen dictionary
    ~Hyphenator();
    Hyphenator(Hyphenator&&) noexcept;
    bool ready() const { return dictionary_ != nullptr; }
    std::string with_soft_hyphens(std::string_view text) const;

  private:
    struct Free {
        void operator()(void*) const;
    };
    std::unique_ptr<void, Free> dictionary_;
};

}  // namespace footring::papers

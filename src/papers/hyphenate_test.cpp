// SPDX-License-Identifier: Apache-2.0
#include "papers/hyphenate.h"

#include <gtest/gtest.h>

namespace footring::papers {
namespace {

std::string divided(const std::string& text) {
    std::string out = Hyphenator().with_soft_hyphens(text);
    for (std::size_t at; (at = out.find(kSoftHyphen)) != std::string::npos;)
        out.replace(at, kSoftHyphen.size(), "-");
    return out;
}

TEST(Hyphenating, DividesEnglishWordsWhereTheyAreSpoken) {
    EXPECT_EQ(divided("decoration"), "dec-or-a-tion");
    EXPECT_EQ(divided("The ornament is repeated."), "The or-na-ment is re-peated.");
}

TEST(Hyphenating, LeavesShortWordsCapitalsNumbersAndAddressesWhole) {
    for (const char* text : {"plate", "WARRANTED", "t-117", "https://example.org/something", "caf\u00e9teria"})
        EXPECT_EQ(divided(text), text);
}

TEST(Hyphenating, WithoutADictionaryDividesNothing) {
    const Hyphenator none("/nowhere/at-all.dic");
    EXPECT_FALSE(none.ready());
    EXPECT_EQ(none.with_soft_hyphens("decoration"), "decoration");
}

}  // namespace
}  // namespace footring::papers

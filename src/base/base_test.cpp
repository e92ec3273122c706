// SPDX-License-Identifier: Apache-2.0
#include <gtest/gtest.h>

#include <set>

#include "base/problem.h"
#include "base/quantity.h"
#include "base/settings.h"
#include "base/text.h"

namespace footring {
namespace {

TEST(Problem, IsOneLineHoweverItIsMade) {
    const Problem p{ProblemCode::kBadInput, "a.csv:3:7", "two\nlines", "join them"};
    EXPECT_EQ(to_line(p), "a.csv:3:7: two lines: join them");
    EXPECT_EQ(exit_status(ProblemCode::kBadInput), 2);
    EXPECT_EQ(exit_status(ProblemCode::kNotFound), 3);
    EXPECT_EQ(exit_status(ProblemCode::kOurFault), 1);
}

TEST(Settings, DefaultsLieInTheirRangesAndNamesAreUnique) {
    std::set<std::string_view> names;
    const Settings defaults;
    for (const Setting& s : all_settings()) {
        EXPECT_TRUE(names.insert(s.name).second) << s.name;
        EXPECT_LE(s.lowest, s.fallback) << s.name;
        EXPECT_GE(s.highest, s.fallback) << s.name;
        EXPECT_EQ(defaults.*s.field, s.fallback) << s.name;
        EXPECT_EQ(s.sentence.back(), '.') << s.name;
    }
}

TEST(Settings, AreSetByNameAndRefuseWhatIsOutOfRange) {
    Settings s;
    ASSERT_TRUE(set(s, "sure_guess", "0.5").has_value());
    EXPECT_EQ(s.sure_guess, 0.5);
    EXPECT_EQ(to_line(set(s, "sure_guess", "1.5").error()),
              "setting sure_guess: '1.5' is not a number from 0 to 1: "
              "give a number in that range (the default is 0.6)");
    EXPECT_EQ(set(s, "sure_gues", "0.5").error().remedy, "did you mean 'sure_guess'?");
    EXPECT_EQ(set(s, "sure_gues", "0.5").error().code, ProblemCode::kNotFound);
}

TEST(Text, PatternsTakeOneCharacterOrAnyRun) {
    EXPECT_TRUE(matches_pattern("1?7", "117"));
    EXPECT_FALSE(matches_pattern("1?7", "17"));
    EXPECT_TRUE(matches_pattern("*7", "7"));
    EXPECT_TRUE(matches_pattern("Ž 7", "ž 7"));
    EXPECT_TRUE(matches_pattern("? 7", "Ž 7")) << "a character is not a byte";
    EXPECT_TRUE(matches_pattern("№*7", "№ 17"));
    EXPECT_FALSE(matches_pattern("?", "žž"));
    EXPECT_FALSE(matches_pattern("*ž", "\xC5"));
    EXPECT_TRUE(matches_pattern("\xC5?", "\xC5x")) << "bytes that are no text stand for themselves";
    EXPECT_EQ(lower("ŠÁLEK Nº 5"), "šálek nº 5");
    EXPECT_EQ(lower("\xC5 A"), "\xC5 a");
    EXPECT_EQ(lower("İ"), "İ") << "its small letter is shorter";
    EXPECT_TRUE(matches_pattern("H-*2*", "h-1020"));
    EXPECT_FALSE(matches_pattern("", "1"));
    EXPECT_TRUE(matches_pattern("*", ""));
}

TEST(Text, KnowsKebabAndUtf8) {
    EXPECT_TRUE(is_kebab("fern-pair"));
    EXPECT_TRUE(is_kebab("117"));
    EXPECT_FALSE(is_kebab("Fern"));
    EXPECT_FALSE(is_kebab("a--b"));
    EXPECT_FALSE(is_kebab("-a"));
    EXPECT_TRUE(is_utf8("caf\xC3\xA9"));
    EXPECT_FALSE(is_utf8("caf\xE9"));
    EXPECT_FALSE(is_utf8("\xC0\xAF"));
    EXPECT_FALSE(is_utf8("\xED\xA0\x80"));
}

TEST(Text, SuggestsOnlyWhatIsNear) {
    const std::vector<std::string> known{"oat", "ivory", "snow"};
    EXPECT_EQ(did_you_mean("oot", known, "see the list"), "did you mean 'oat'?");
    EXPECT_EQ(did_you_mean("cobalt", known, "see the list"), "see the list");
}

TEST(Text, EscapesWhatWouldBeMarkup) {
    EXPECT_EQ(escape_markup("<b a='1'>&\""), "&lt;b a=&#39;1&#39;&gt;&amp;&quot;");
}

TEST(Text, NumbersAreWholeAndFinite) {
    EXPECT_EQ(to_number("0.25"), 0.25);
    EXPECT_FALSE(to_number("0.25 "));
    EXPECT_FALSE(to_number("1e999"));
    EXPECT_FALSE(to_number("inf"));
    EXPECT_EQ(split(" a; ;b ", ';'), (std::vector<std::string>{"a", "b"}));
}

}  // namespace
}  // namespace footring

// SPDX-License-Identifier: Apache-2.0
#include "book/silhouette.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace footring::book {
namespace {

std::string_view chosen(std::string_view id, std::string_view name, bool lidded = false) {
    return silhouette_of(id, name, lidded).name;
}

TEST(Silhouette, IsChosenByTheWordsOfIdAndName) {
    EXPECT_EQ(chosen("teacup", ""), "cup");
    EXPECT_EQ(chosen("reed:cup", ""), "cup");
    EXPECT_EQ(chosen("egg-cup", ""), "egg cup");
    EXPECT_EQ(chosen("f-12", "After-dinner cup"), "small cup");
    EXPECT_EQ(chosen("cream-soup", "Cream soup cup"), "two-handled cup");
    EXPECT_EQ(chosen("sugar", "Sugar, covered"), "sugar");
    EXPECT_EQ(chosen("open-sugar", "Open sugar"), "open sugar");
    EXPECT_EQ(chosen("creamer", ""), "creamer");
    EXPECT_EQ(chosen("jug-36s", "Jug, 36s"), "jug");
    EXPECT_EQ(chosen("f-9", "Gravy boat"), "sauce boat");
    EXPECT_EQ(chosen("sauce-boat", ""), "sauce boat");
    EXPECT_EQ(chosen("covered-dish", ""), "covered dish");
    EXPECT_EQ(chosen("casserole", ""), "covered dish");
    EXPECT_EQ(chosen("butter", "Butter dish with cover"), "butter dish");
    EXPECT_EQ(chosen("teapot", ""), "teapot");
    EXPECT_EQ(chosen("coffee-pot", ""), "coffee pot");
    EXPECT_EQ(chosen("nappy-9", ""), "nappy");
    EXPECT_EQ(chosen("baker", "Oval baker"), "baker");
    EXPECT_EQ(chosen("oatmeal", ""), "nappy");
    EXPECT_EQ(chosen("salad", "Salad bowl"), "bowl");
}

TEST(Silhouette, OfAnUnknownFormIsABowlThatIsCoveredWhenItHasALid) {
    EXPECT_EQ(chosen("whatsit", "Whatsit"), "bowl");
    EXPECT_EQ(chosen("whatsit", "Whatsit", true), "covered dish");
    EXPECT_EQ(chosen("", ""), "bowl");
}

TEST(Silhouette, OfEveryFormCanBeDrawn) {
    std::set<std::string_view> seen;
    for (const char* id : {"bowl",       "covered-dish",  "cup",        "demitasse",  "bouillon",    "mug",
                           "tumbler",    "egg-cup",       "nappy",      "baker",      "sugar",       "open-sugar",
                           "creamer",    "jug",           "sauce-boat", "tureen",     "butter-dish", "teapot",
                           "coffee-pot", "chocolate-pot", "jar",        "mustard",    "shaker",      "ramekin",
                           "sherbet",    "compote",       "vase",       "flower-pot", "candlestick"}) {
        const Silhouette& s = silhouette_of(id, "", false);
        EXPECT_TRUE(seen.insert(s.name).second) << id << " looks like another form";
        ASSERT_GE(s.body.size(), 4u) << id;
        EXPECT_EQ(s.body.front().y, 0) << id;
        for (std::size_t i = 1; i < s.body.size(); ++i) EXPECT_GT(s.body[i].y, s.body[i - 1].y) << id;
        for (std::size_t i = 1; i < s.lid.size(); ++i) EXPECT_GT(s.lid[i].y, s.lid[i - 1].y) << id;
        if (!s.lid.empty()) {
            EXPECT_EQ(s.lid.back().y, 0) << id;
            EXPECT_LE(s.lid.back().r, s.body.front().r + 2) << id << ": the lid hangs over";
            EXPECT_GT(-s.lid.front().y, s.tilt * s.lid.back().r) << id << ": the lid is too low to be seen";
        }
        EXPECT_LT(s.rim, s.body.back().y * 0.6) << id << ": the rim leaves no body";
        EXPECT_EQ(s.handles == Handles::kNone, s.handle_out == 0) << id;
    }
    EXPECT_EQ(seen.size(), 29u);
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/stripes.h"

#include <gtest/gtest.h>

#include <string>

namespace footring::book {
namespace {

// "0-0.5 #ff0000; ..." of the stripes in a 100 x 50 drawing.
std::string stripes(std::string_view inside) {
    std::string out;
    for (const Stripe& s :
         stripes_of_svg("<svg viewBox='0 0 100 50'>" + std::string(inside) + "</svg>", {0, 0, 100, 50})) {
        if (!out.empty()) out += "; ";
        out += std::to_string(static_cast<int>(s.from * 100 + 0.5)) + "-" +
               std::to_string(static_cast<int>(s.to * 100 + 0.5)) + " " + (s.colour.empty() ? "finish" : s.colour);
    }
    return out;
}

TEST(Stripes, AreReadFromPathsAndRectangles) {
    EXPECT_EQ(stripes("<path fill='#c79a3b' d='M0 0h100v25h-100z'/>"), "0-50 #c79a3b");
    EXPECT_EQ(stripes("<path fill='#c79a3b' d='M0 0h100v5h-100zm0 30h100v20h-100z'/>"),
              "0-10 #c79a3b; 60-100 #c79a3b");
    EXPECT_EQ(stripes("<path d='M0,10 L100,10 100,20 0,20 Z'/>"), "20-40 finish");
    EXPECT_EQ(stripes("<path d='M0 10H100V20H0Z'/>"), "20-40 finish");
    EXPECT_EQ(
        stripes(
            "<g fill='#0a0'><rect width='100' height='10'/></g><rect y='40' width='100' height='10' fill='red'/>"),
        "0-20 #00aa00; 80-100 #b3362b");
    EXPECT_EQ(stripes("<!-- <path d='M0 0q1 1'/> --><rect x='-5' width='110' height='60'/>"), "0-100 finish");
}

TEST(Stripes, AreNotSeenInAnythingElse) {
    EXPECT_EQ(stripes("<path d='M0 0h100v25h-100z'/><circle r='3'/>"), "");
    EXPECT_EQ(stripes("<path d='M0 0h100v25h-100z'/><path d='M0 0q5 5 9 9'/>"), "");
    EXPECT_EQ(stripes("<path d='M0 0h60v25h-60z'/>"), "") << "shorter than the drawing";
    EXPECT_EQ(stripes("<path d='M0 0h100v25h-50v5h-50z'/>"), "") << "stepped";
    EXPECT_EQ(stripes("<path d='M0 0L100 5 100 9 0 4z'/>"), "") << "slanted";
    EXPECT_EQ(stripes("<path stroke='red' d='M0 0h100v25h-100z'/>"), "");
    EXPECT_EQ(stripes("<rect width='100' height='10' transform='rotate(4)'/>"), "");
    EXPECT_EQ(stripes("<rect width='100' height='10' rx='4'/>"), "");
    EXPECT_EQ(stripes("<rect width='100' height='10' fill='url(#g)'/>"), "");
    EXPECT_EQ(stripes("<rect width='100' height='10' fill='none'/>"), "");
    EXPECT_EQ(stripes("<rect width='100' height='nan'/>"), "");
    EXPECT_EQ(stripes("<path d='M0 0h1e999v5z'/>"), "");
    EXPECT_EQ(stripes("<path d='0 0 1 1'/><path d='M'/>"), "");
    EXPECT_EQ(stripes("<path"), "");
    EXPECT_EQ(stripes(""), "");
}

TEST(Stripes, TakeACutOrBrokenDrawingWithoutHarm) {
    const std::string whole = "<svg><g fill='#123456'><path d='M0 0h100v5h-100zm0 9h100v5h-100z'/></g></svg>";
    for (std::size_t i = 0; i <= whole.size(); ++i) {
        stripes_of_svg(whole.substr(0, i), {0, 0, 100, 50});
        std::string broken = whole;
        if (i < whole.size()) broken[i] = '>';
        EXPECT_LE(stripes_of_svg(broken, {0, 0, 100, 50}).size(), 2u) << i;
    }
}

}  // namespace
}  // namespace footring::book

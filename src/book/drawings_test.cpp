// SPDX-License-Identifier: Apache-2.0
#include "book/drawings.h"

#include <gtest/gtest.h>

#include <string>

namespace footring::book {
namespace {

constexpr std::string_view kTile =
    R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 20"><path d="M0 0h4"/></svg>)";

TEST(DataUri, IsLeftOutOverTheLimit) {
    std::string large(kTile.substr(0, kTile.size() - 6));
    large += "<!--" + std::string(kMostDrawingBytes, 'x') + "--></svg>";
    EXPECT_EQ(data_uri(large), "");
    EXPECT_TRUE(data_uri(kTile).starts_with("data:image/svg+xml;base64,PHN2Zy"));
}

TEST(DataUri, TakesOnlySvgAndPng) {
    EXPECT_EQ(data_uri("GIF89a"), "");
    EXPECT_EQ(data_uri(""), "");
    EXPECT_EQ(data_uri("<html><svg/></html>"), "");
    EXPECT_EQ(data_uri("<svgx viewBox='0 0 1 1'></svgx>"), "");
    EXPECT_EQ(data_uri("<svg viewBox='0 0 1 1'><path d='M0"), "") << "cut off";
    EXPECT_EQ(data_uri("<!DOCTYPE svg [<!ENTITY a 'b'>]><svg viewBox='0 0 1 1'></svg>"), "");
    EXPECT_NE(data_uri("<?xml version='1.0'?><!-- a > b --><svg viewBox='0 0 1 1'/>\n"), "");
    EXPECT_EQ(data_uri("\x89PNG\r\n\x1a\n"), "") << "no header";
    const std::string png =
        std::string("\x89PNG\r\n\x1a\n") + std::string("\0\0\0\x0dIHDR\0\0\0\x20\0\0\0\x10", 16);
    EXPECT_TRUE(data_uri(png).starts_with("data:image/png;base64,iVBOR"));
    const std::string vast =
        std::string("\x89PNG\r\n\x1a\n") + std::string("\0\0\0\x0dIHDR\x7f\0\0\0\0\0\0\x10", 16);
    EXPECT_EQ(data_uri(vast), "");
}

TEST(ShapeOf, ReadsTheBoxOfADrawing) {
    const auto size = [](std::string_view svg) {
        const auto shape = shape_of(data_uri(svg));
        return shape ? std::pair(shape->width, shape->height) : std::pair(0.0, 0.0);
    };
    EXPECT_EQ(size(kTile), std::pair(40.0, 20.0));
    EXPECT_EQ(size("<svg viewBox = '-5,-5 30.5 12'></svg>"), std::pair(30.5, 12.0));
    EXPECT_EQ(size("<svg width='12mm' height=\"6mm\"></svg>"), std::pair(12.0, 6.0));
    EXPECT_EQ(size("<svg stroke-width='3' height='9' width='27'></svg>"), std::pair(27.0, 9.0));
    EXPECT_EQ(size("<svg></svg>"), std::pair(1.0, 1.0));
    EXPECT_EQ(size("<svg viewBox='0 0 0 0'></svg>"), std::pair(1.0, 1.0));
    const std::string png =
        std::string("\x89PNG\r\n\x1a\n") + std::string("\0\0\0\x0dIHDR\0\0\1\x20\0\0\0\x10", 16);
    EXPECT_EQ(size(png), std::pair(288.0, 16.0));
}

TEST(ShapeOf, RefusesWhatIsNoDrawing) {
    EXPECT_FALSE(shape_of(""));
    EXPECT_FALSE(shape_of("https://example.org/a.svg"));
    EXPECT_FALSE(shape_of("data:image/svg+xml,<svg/>"));
    EXPECT_FALSE(shape_of("data:image/svg+xml;base64,\"/><script>alert(1)</script>"));
    EXPECT_FALSE(shape_of("data:text/html;base64,PHN2Zy8+"));
}

TEST(ShapeOf, TellsADrawingInOneInkFromOneWithColoursOfItsOwn) {
    const auto one_ink = [](std::string_view inside) {
        return shape_of(data_uri("<svg viewBox='0 0 1 1'>" + std::string(inside) + "</svg>"))->one_ink;
    };
    EXPECT_TRUE(one_ink("<path d='M0 0'/>"));
    EXPECT_TRUE(one_ink("<path fill='none' stroke='currentColor' stroke-width='2' fill-rule='evenodd'/>"));
    EXPECT_TRUE(one_ink("<path style='fill: #000; stroke:black'/>"));
    EXPECT_FALSE(one_ink("<path fill='#c9a227'/>"));
    EXPECT_FALSE(one_ink("<path style='fill:red'/>"));
    EXPECT_FALSE(one_ink("<rect fill=\"white\"/><path/>"));
    EXPECT_FALSE(one_ink("<linearGradient/>"));
    EXPECT_FALSE(one_ink("<style>path{fill:red}</style>"));
}

TEST(DataUri, EncodesEveryLengthSoThatItComesBack) {
    for (int blanks = 0; blanks < 4; ++blanks) {
        const std::string svg =
            "<svg viewBox='0 0 7 3'>" + std::string(static_cast<std::size_t>(blanks), ' ') + "</svg>";
        const std::string uri = data_uri(svg);
        EXPECT_EQ((uri.size() - std::string_view("data:image/svg+xml;base64,").size()) % 4, 0u);
        EXPECT_EQ(shape_of(uri)->width, 7) << blanks;
    }
}

}  // namespace
}  // namespace footring::book

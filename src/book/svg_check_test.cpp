// SPDX-License-Identifier: Apache-2.0
#include "book/svg_check.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> faults(std::string_view svg) {
    std::vector<std::string> out;
    for (const Problem& problem : check_svg(svg, "fern.svg")) out.push_back(to_line(problem));
    return out;
}
std::string svg(std::string_view inside) {
    return fmt::format(R"x(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10">{}</svg>)x", inside);
}

TEST(SvgCheck, LetsPlainDrawingsThrough) {
    EXPECT_THAT(faults(R"(<?xml version="1.0" encoding="UTF-8"?>
<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">
<!-- a fern -->
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" xmlns:tool="http://tool.example/"
     viewBox="0 0 10 10"><tool:view zoom="2"/><defs><linearGradient id="g"><stop offset="0"/></linearGradient>
<path id="leaf" d="M0 0L5 5"/></defs><style>.a{fill:url(#g);stroke:#000}</style>
<use xlink:href="#leaf" class="a"/><image href="data:image/png;base64,AAAA" width="1" height="1"/></svg>)"),
                IsEmpty());
}

TEST(SvgCheck, LetsEveryDrawingOfTheDemoPackThrough) {
    int seen = 0;
    for (const auto& entry :
         std::filesystem::directory_iterator(std::string(FOOTRING_ROOT) + "/packs/ambrel-valley/drawings")) {
        if (entry.path().extension() != ".svg") continue;
        std::ifstream in(entry.path(), std::ios::binary);
        const std::string bytes{std::istreambuf_iterator<char>(in), {}};
        EXPECT_THAT(faults(bytes), IsEmpty()) << entry.path();
        ++seen;
    }
    EXPECT_GT(seen, 50);
}

TEST(SvgCheck, RefusesWhatRuns) {
    EXPECT_THAT(faults(svg("<script>alert(1)</script>")),
                ElementsAre("fern.svg: it runs a script: <script>: take the script out"));
    EXPECT_THAT(faults(svg(R"x(<path d="" onload="x()"/>)x")),
                ElementsAre("fern.svg: it runs a script: 'onload': take the script out"));
    EXPECT_THAT(
        faults(svg("<foreignObject><p>x</p></foreignObject>")),
        ElementsAre("fern.svg: it has a part that is not allowed in a drawing: <foreignObject>: export it as "
                    "plain SVG, or take that part out",
                    "fern.svg: it has a part that is not allowed in a drawing: <p>: export it as plain SVG, "
                    "or take that part out"));
}

TEST(SvgCheck, RefusesWhatLeadsOut) {
    for (const std::string_view part :
         {R"x(<image href="http://x.example/a.png"/>)x", R"x(<use href="other.svg#a"/>)x",
          R"x(<use xlink:href="&#104;ttp://x.example/#a"/>)x", R"x(<path fill="url(http://x.example/#g)"/>)x",
          R"x(<path style="fill:u&#x72;l('//x.example/a')"/>)x", "<style>.a{fill:url( 'b.svg#x' )}</style>",
          "<style><![CDATA[a{fill:URL(b.svg)}]]></style>", R"x(<image href="data:image/svg+xml;base64,AAAA"/>)x",
          R"x(<image href="java&#10;script:x"/>)x"})
        EXPECT_EQ(faults(svg(part)).size(), 1u) << part;
    EXPECT_THAT(faults(svg("<style>@import 'a.css';</style>")),
                ElementsAre("fern.svg: a style in it has '@': keep to colours, lines and sizes"));
    EXPECT_THAT(faults(svg(R"x(<style>a{fill:\75rl(b)}</style>)x")),
                ElementsAre("fern.svg: a style in it has an escape (\\): write the style out in plain letters"));
}

TEST(SvgCheck, RefusesWhatHidesBehindXml) {
    for (const std::string_view whole :
         {R"x(<!DOCTYPE svg [<!ENTITY a "b">]><svg xmlns="http://www.w3.org/2000/svg">&a;</svg>)x",
          R"x(<?xml-stylesheet href="a.css"?><svg xmlns="http://www.w3.org/2000/svg"/>)x",
          R"x(<svg xmlns:s="http://www.w3.org/2000/svg"><s:script/></svg>)x",
          R"x(<svg xmlns:h="http://www.w3.org/1999/xhtml"><h:iframe/></svg>)x",
          R"x(<html xmlns="http://www.w3.org/1999/xhtml"/>)x", R"x(<svg a=b/>)x", R"x(<svg a="x")x", "hello", "",
          "<svg>\xFF</svg>"})
        EXPECT_FALSE(faults(whole).empty()) << whole;
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/catalogue.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "book/pack_text.h"

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

const std::string kTreatments =
    "id,shape,glaze,number,name,grade,years,source\nt-117,harrow,oat,117,Fern,first,1931,s-1\n";
Book pack() {
    return book_from_tables({{"sources", "id,title\ns-1,Catalogue of 1931\n"},
                             {"shapes", "id,name\nharrow,Harrow\nplough,Plough\n"},
                             {"glazes", "id,name\noat,Oat\nivory,Old ivory\n"},
                             {"treatments", kTreatments}});
}
Catalogue read(std::string_view text, CatalogueOptions options = {}) {
    return read_catalogue(text, "list.csv", pack(), "test", rows_of_text(kTreatments, ','), options);
}
std::vector<std::string> said(const Catalogue& list) {
    std::vector<std::string> out;
    for (const RowEdit& edit : list.edits) {
        std::string line = edit.act == RowEdit::Do::kAdd ? "add" : fmt::format("line {}", edit.line);
        for (const auto& [column, text] : edit.cells) line += fmt::format(" {}={}", column, text);
        out.push_back(line);
    }
    return out;
}
std::vector<std::string> faults(const Catalogue& list) {
    std::vector<std::string> out;
    for (const Problem& problem : list.problems) out.push_back(to_line(problem));
    return out;
}

TEST(CatalogueList, TakesColumnsInAnyOrderAndNamesForIds) {
    const Catalogue list =
        read("Remarks;Catalogue No.;Line;Glaze;Colour\nbest seller;162;Plough;old ivory;red\n;117;HARROW;Oat;\n",
             {.source = "s-1"});
    EXPECT_THAT(faults(list), IsEmpty());
    EXPECT_THAT(said(list),
                ElementsAre("add glaze=ivory id=t-162 note=best seller number=162 shape=plough source=s-1"));
    EXPECT_EQ(list.same, 1);
    EXPECT_EQ(list.columns.back().field, "");
}

TEST(CatalogueList, RefusesBytesThatAreNoText) {
    // A name in Windows-1252 would be told of, and written, as it is.
    const Catalogue list = read("number,shape,glaze\n118,harrow,oat\xe4\n");
    EXPECT_THAT(faults(list),
                ElementsAre("list.csv: the list is not UTF-8 text: save it from the spreadsheet as CSV in UTF-8"));
    EXPECT_THAT(list.edits, IsEmpty());
}

TEST(CatalogueList, ChangesARowThatThePackHasByIdOrByShapeAndNumber) {
    EXPECT_THAT(said(read("shape,number,name,years\nharrow,117,Fern pair,\n")),
                ElementsAre("line 2 name=Fern pair"));
    EXPECT_THAT(said(read("id,name\nt-117,Fern pair\n")), ElementsAre("line 2 name=Fern pair"));
}

TEST(CatalogueList, GivesIdsThatNothingHas) {
    EXPECT_THAT(said(read("shape,number\nplough,117\nplough,11 B\nplough,\nplough,\n")),
                ElementsAre("add id=plough-117 number=117 shape=plough", "add id=t-11-b number=11 B shape=plough",
                            "add id=t-treatment shape=plough", "add id=plough-treatment shape=plough"));
}

TEST(CatalogueList, TellsEveryFaultWithItsLine) {
    const Catalogue list =
        read("shape,number,glaze,years\nharow,1,,\nplough,2,ivry,about 1934\n,3,,\nplough,4,,\nplough,4,,\n");
    EXPECT_THAT(faults(list),
                ElementsAre("list.csv:2:shape: no shape is called 'harow': did you mean 'harrow'?",
                            "list.csv:3:glaze: no glaze is called 'ivry': did you mean 'ivory'?",
                            ::testing::StartsWith("list.csv:3:years: "),
                            "list.csv:4: the row names no shape: fill it in: a treatment is of one shape",
                            "list.csv:6: the treatment is in the list twice: keep one of the rows"));
    EXPECT_EQ(list.skipped, 4);
    EXPECT_THAT(said(list), ElementsAre("add id=t-4 number=4 shape=plough"));
}

TEST(CatalogueList, FollowsTheMapping) {
    EXPECT_THAT(
        said(read("A,B,number\nplough,7,x\n", {.mapping = {{"A", "shape"}, {"B", "number"}, {"number", ""}}})),
        ElementsAre("add id=t-7 number=7 shape=plough"));
    EXPECT_THAT(
        faults(read("A\nplough\n", {.mapping = {{"A", "shap"}}})),
        ElementsAre(
            "list.csv:1: the mapping names a field 'shap' that treatments do not have: did you mean 'shape'?"));
    EXPECT_THAT(faults(read("A\nplough\n")),
                ElementsAre("list.csv:1: no column tells the shape: say which one does: --map \"Heading=shape\""));
}

TEST(CatalogueList, StopsWhenItIsTold) {
    std::string text = "shape,number\n";
    for (int i = 0; i < 5000; ++i) text += fmt::format("plough,{}\n", 1000 + i);
    std::size_t last = 0;
    EXPECT_EQ(read(text, {.told = [&](std::size_t done, std::size_t of) { return last = done, of == 5000; }}).added,
              5000);
    EXPECT_EQ(last, 5000u);
    EXPECT_TRUE(read(text, {.told = [](std::size_t, std::size_t) { return false; }}).edits.empty());
}

}  // namespace
}  // namespace footring::book

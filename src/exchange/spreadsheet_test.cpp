// SPDX-License-Identifier: Apache-2.0
#include "exchange/spreadsheet.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <zip.h>

#include <random>
#include <utility>
#include <vector>

namespace footring::exchange {
namespace {

using Parts = std::vector<std::pair<std::string, std::string>>;

std::string zipped(const Parts& parts) {
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* target = zip_source_buffer_create(nullptr, 0, 0, &error);
    zip_source_keep(target);
    zip_t* zip = zip_open_from_source(target, ZIP_TRUNCATE, &error);
    for (const auto& [name, text] : parts)
        zip_file_add(zip, name.c_str(), zip_source_buffer(zip, text.data(), text.size(), 0), ZIP_FL_ENC_UTF_8);
    zip_close(zip);
    zip_source_open(target);
    zip_source_seek(target, 0, SEEK_END);
    std::string bytes(static_cast<std::size_t>(zip_source_tell(target)), '\0');
    zip_source_seek(target, 0, SEEK_SET);
    zip_source_read(target, bytes.data(), bytes.size());
    zip_source_close(target);
    zip_source_free(target);
    return bytes;
}

Parts xlsx(std::string rows, std::string shared = "", std::string workbook_props = "") {
    return {
        {"xl/workbook.xml",
         fmt::format(
             R"(<workbook xmlns:r="x">{}<sheets><sheet name="Empty" r:id="r1"/><sheet name="List" r:id="r2"/></sheets></workbook>)",
             workbook_props)},
        {"xl/_rels/workbook.xml.rels",
         R"(<Relationships><Relationship Id="r1" Target="worksheets/sheet1.xml"/><Relationship Id="r2" Target="/xl/worksheets/sheet2.xml"/></Relationships>)"},
        {"xl/sharedStrings.xml", fmt::format("<sst>{}</sst>", shared)},
        {"xl/styles.xml",
         R"(<styleSheet><numFmts><numFmt numFmtId="164" formatCode="d\.m\.yyyy"/><numFmt numFmtId="165" formatCode="0.0&quot; days&quot;"/></numFmts><cellStyleXfs><xf numFmtId="14"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="164"/><xf numFmtId="165"/></cellXfs></styleSheet>)"},
        {"xl/worksheets/sheet1.xml", "<worksheet><sheetData/></worksheet>"},
        {"xl/worksheets/sheet2.xml", fmt::format("<worksheet><sheetData>{}</sheetData></worksheet>", rows)}};
}
Parts ods(std::string rows) {
    return {
        {"mimetype", "application/vnd.oasis.opendocument.spreadsheet"},
        {"content.xml",
         fmt::format(
             R"(<office:document-content xmlns:office="o" xmlns:table="t" xmlns:text="x"><office:body><office:spreadsheet><table:table table:name="List">{}</table:table></office:spreadsheet></office:body></office:document-content>)",
             rows)}};
}
std::string csv_of(const Parts& parts) {
    const auto sheets = read_workbook(zipped(parts), "list");
    if (!sheets) return fmt::format("{}: {}", name_of(sheets.error().code), to_line(sheets.error()));
    return sheets->front().csv;
}

TEST(Workbook, GivesTheCellsOfAnXlsxSheetWithRowsWhereTheyStand) {
    EXPECT_EQ(
        csv_of(xlsx(
            R"(<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>Na</t><t>me</t></is></c></row>)"
            R"(<row r="3"><c r="B3" t="s"><v>1</v></c><c r="D3"><v>0.1</v></c></row>)",
            "<si><t>Id</t></si><si><r><t>Fern, </t></r><r><t>\"gold\"</t></r><rPh><t>aid</t></rPh></si>")),
        "\"Id\",\"Name\",,\n\n,\"Fern, \"\"gold\"\"\",,\"0.1\"\n");
}

TEST(Workbook, ReadsNumbersDaysTruthAndFaultsOfXlsx) {
    EXPECT_EQ(
        csv_of(xlsx(
            R"(<row><c><v>0.30000000000000004</v></c><c s="1"><v>12540</v></c><c s="2"><v>1</v></c>)"
            R"(<c s="3"><v>12540</v></c><c t="b"><v>1</v></c><c t="e"><v>#REF!</v></c><c t="str"><v>x</v></c></row>)")),
        "\"0.3\",\"1934-05-01\",\"1900-01-01\",\"12540\",\"yes\",,\"x\"\n");
    EXPECT_EQ(csv_of(xlsx(R"(<row><c s="1"><v>11078</v></c></row>)", "", R"(<workbookPr date1904="1"/>)")),
              "\"1934-05-01\"\n");
}

TEST(Workbook, GivesTheCellsOfAnOdsSheetWithRowsWhereTheyStand) {
    EXPECT_EQ(
        csv_of(ods(
            R"(<table:table-row table:number-rows-repeated="2"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>)"
            R"(<table:table-row><table:table-cell office:value-type="string"><text:p>Fern<text:s text:c="2"/>pair</text:p><text:p>gold</text:p></table:table-cell>)"
            R"(<table:table-cell table:number-columns-repeated="2" office:value-type="float" office:value="1.5"><text:p>1,50</text:p></table:table-cell>)"
            R"(<table:table-cell office:value-type="date" office:date-value="1934-05-01T00:00:00"><text:p>1 May</text:p></table:table-cell>)"
            R"(<table:table-cell office:value-type="boolean" office:boolean-value="false"/>)"
            R"(<table:table-cell><office:annotation><text:p>a remark</text:p></office:annotation></table:table-cell></table:table-row>)"
            R"(<table:table-row table:number-rows-repeated="1048573"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>)")),
        "\n\n\"Fern  pair gold\",\"1.5\",\"1.5\",\"1934-05-01\",\"no\"\n");
}

TEST(Workbook, SaysWhatTheFileIsWhenItIsNoWorkbook) {
    const auto told = [](std::string_view bytes) { return to_line(read_workbook(bytes, "list.xls").error()); };
    EXPECT_EQ(
        told("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"),
        "list.xls: the file is an old binary workbook (.xls), or one with a password: save it as .xlsx or .ods "
        "without a password, or the table as CSV");
    EXPECT_EQ(told("PK\x03\x04 and no more"),
              "list.xls: the file is a damaged archive: open it in a spreadsheet program and save it again");
    EXPECT_EQ(told(zipped({{"a.txt", "x"}})),
              "list.xls: the archive is no workbook: give .xlsx or .ods, or the table as CSV");
    EXPECT_EQ(csv_of(ods("")),
              "bad-input: list: no sheet of the workbook has a filled cell: give one with a table in it");
}

TEST(Workbook, RefusesAnArchiveThatUnfoldsWithoutEnd) {
    const std::string blanks(std::size_t{40} << 20, ' ');
    EXPECT_THAT(
        csv_of(ods("<table:table-row><table:table-cell><text:p>x</text:p></table:table-cell></table:table-row>" +
                   blanks)),
        ::testing::StartsWith("too-large: list: content.xml unfolds to far more than its size"));
}

TEST(Workbook, RefusesRepeatsThatWouldFillTheMemory) {
    const std::string cell =
        R"(<table:table-cell office:value-type="string"><text:p>x</text:p></table:table-cell>)";
    EXPECT_THAT(
        csv_of(ods(R"(<table:table-row table:number-rows-repeated="2000000000">)" + cell + "</table:table-row>")),
        ::testing::StartsWith("too-large: list: a sheet has more than 1000000 rows"));
    EXPECT_THAT(
        csv_of(ods(
            R"(<table:table-row><table:table-cell table:number-columns-repeated="300" office:value-type="string"><text:p>x</text:p></table:table-cell></table:table-row>)")),
        ::testing::StartsWith("too-large: "));
    EXPECT_THAT(csv_of(xlsx(R"(<row r="2000000"><c><v>1</v></c></row>)")), ::testing::StartsWith("too-large: "));
}

TEST(Workbook, RefusesPathsThatLeadOutOfTheArchive) {
    for (const char* name : {"../evil", "xl/../../evil", "/etc/evil", "c:\\evil"}) {
        Parts parts = ods("");
        parts.push_back({name, "x"});
        EXPECT_THAT(csv_of(parts),
                    ::testing::StartsWith("bad-input: list: the archive names a file outside of itself"))
            << name;
    }
}

TEST(Workbook, RefusesEntitiesThatGrow) {
    Parts parts = ods("");
    parts[1].second = R"(<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><x>&b;</x>)";
    EXPECT_THAT(csv_of(parts), ::testing::StartsWith("bad-input: list: content.xml declares entities"));
}

TEST(Workbook, FindsASheetByItsName) {
    const std::string book = zipped(xlsx(R"(<row><c><v>1</v></c></row>)"));
    EXPECT_EQ(table_text(book, "list", "List").value(), "\"1\"\n");
    EXPECT_EQ(to_line(table_text(book, "list", "Lists").error()),
              "list: it has no sheet 'Lists': did you mean 'List'?");
    EXPECT_EQ(table_text("a,b\n", "list").value(), "a,b\n");
}

// No bytes may bring the program down; with the sanitizers on this finds what a reading of the code did not.
TEST(Workbook, SurvivesSpoiltBytes) {
    const std::string whole = zipped(xlsx(
        R"(<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" s="1"><v>12540</v></c></row>)", "<si><t>Id</t></si>"));
    std::mt19937 random(7);
    for (int i = 0; i < 2000; ++i) {
        std::string bytes = whole;
        for (int k = std::uniform_int_distribution(1, 6)(random); k > 0; --k)
            bytes[std::uniform_int_distribution<std::size_t>(0, bytes.size() - 1)(random)] =
                static_cast<char>(std::uniform_int_distribution(0, 255)(random));
        if (i % 7 == 0) bytes.resize(std::uniform_int_distribution<std::size_t>(0, bytes.size())(random));
        std::ignore = read_workbook(bytes, "list");
    }
}

}  // namespace
}  // namespace footring::exchange

// SPDX-License-Identifier: Apache-2.0
#include "book/csv.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

// "text@line:column" of every cell, a row in brackets.
std::string shown(const Csv& csv) {
    std::string out;
    for (const CsvRow& row : csv.rows) {
        out += '[';
        for (const CsvCell& cell : row.cells)
            out += fmt::format("{}{}@{}:{}", out.back() == '[' ? "" : " ", cell.text, cell.line, cell.column);
        out += ']';
    }
    return out;
}
std::vector<std::string> faults(const Csv& csv) {
    std::vector<std::string> out;
    for (const CsvFault& f : csv.faults)
        out.push_back(fmt::format("{}:{}: {}: {}", f.line, f.column, f.what, f.remedy));
    return out;
}

TEST(Csv, PlacesEveryCell) {
    EXPECT_EQ(shown(read_csv("id,name\noat,Oat\n")), "[id@1:1 name@1:4][oat@2:1 Oat@2:5]");
    EXPECT_EQ(shown(read_csv("a,b")), "[a@1:1 b@1:3]");
    EXPECT_EQ(shown(read_csv("a,,\n,\n")), "[a@1:1 @1:3 @1:4][@2:1 @2:2]");
    EXPECT_THAT(read_csv("").rows, IsEmpty());
}

TEST(Csv, CountsCharactersNotBytes) {
    EXPECT_EQ(shown(read_csv("\xC3\xA9t\xC3\xA9,\xF0\x9F\x8D\xB5,x\n")),
              "[\xC3\xA9t\xC3\xA9@1:1 \xF0\x9F\x8D\xB5@1:5 x@1:7]");
}

TEST(Csv, ReadsQuotedCellsOverSeveralLines) {
    EXPECT_EQ(shown(read_csv("a,\"one\ntwo, \"\"three\"\"\",b\nc,d,e\n")),
              "[a@1:1 one\ntwo, \"three\"@1:3 b@2:17][c@3:1 d@3:3 e@3:5]");
    EXPECT_EQ(shown(read_csv("\"\",\" x \"\n")), "[@1:1  x @1:4]");
}

TEST(Csv, TakesEveryKindOfLineEndAndABom) {
    const std::string wanted = "[a@1:1 b@1:3][c@2:1 d@2:3]";
    for (const auto text : {"a,b\nc,d\n", "a,b\r\nc,d\r\n", "a,b\rc,d\r", "a,b\r\nc,d",
                            "\xEF\xBB\xBF"
                            "a,b\nc,d"})
        EXPECT_EQ(shown(read_csv(text)), wanted);
    EXPECT_EQ(shown(read_csv("\"x\r\ny\",b\r\nc,d\r\n")), "[x\ny@1:1 b@2:4][c@3:1 d@3:3]");
}

TEST(Csv, SkipsEmptyLinesAndTrimsUnquotedCells) {
    EXPECT_EQ(shown(read_csv("\n\na , b\n   \n\r\nc,  \"d\"  \n")), "[a@3:1 b@3:4][c@6:1 d@6:5]");
}

TEST(Csv, TakesAnotherDelimiter) {
    EXPECT_EQ(shown(read_csv("a;b,c\n", ';')), "[a@1:1 b,c@1:3]");
    EXPECT_EQ(shown(read_csv("a\tb\n", '\t')), "[a@1:1 b@1:3]");
}

TEST(Csv, PlacesItsFaults) {
    const Csv inside = read_csv("a,5\" plate,b\nc,d,e\n");
    EXPECT_THAT(faults(inside), ElementsAre("1:4: a quotation mark stands inside a cell that is not quoted: "
                                            "put the whole cell in quotation marks and double the ones inside it"));
    EXPECT_TRUE(inside.rows[0].faulty);
    EXPECT_FALSE(inside.rows[1].faulty);
    EXPECT_EQ(shown(inside), "[a@1:1 5\" plate@1:3 b@1:12][c@2:1 d@2:3 e@2:5]");
    EXPECT_THAT(faults(read_csv("a,\"b\" c,d\n")),
                ElementsAre("1:7: text follows the closing quotation mark of a cell: "
                            "double the quotation marks that belong to the text"));
    EXPECT_THAT(faults(read_csv("a,b\nc,\"d\ne,f\n")),
                ElementsAre("2:3: a quotation mark is opened here and never closed: "
                            "close it, or double it if it belongs to the text"));
    EXPECT_THAT(faults(read_csv(std::string(200, ',') + "\n")),
                ElementsAre("1:201: the row has more than 200 cells: check the delimiter and the quotation marks"));
}

TEST(Csv, StopsAtAMillionRows) {
    std::string text;
    for (std::size_t i = 0; i < kMostRows + 5; ++i) text += "a\n";
    const Csv csv = read_csv(text);
    EXPECT_THAT(faults(csv),
                ElementsAre("1000002:1: the table has more than 1000000 rows: split it into several packs"));
}

// Any cells, written as RFC 4180 says, come back as they were.
TEST(Csv, ReadsBackWhatWasWritten) {
    std::mt19937 random(7);
    const std::string_view alphabet[] = {"a", "b", ",", "\"", "\n", "\xC3\xA9", ";", "0"};
    for (int round = 0; round < 300; ++round) {
        const std::size_t width = 2 + random() % 3;
        std::vector<std::vector<std::string>> table(1 + random() % 4);
        std::string text;
        for (auto& row : table) {
            for (std::size_t i = 0; i < width; ++i) {
                std::string cell, quoted = "\"";
                for (unsigned n = random() % 6; n > 0; --n) cell += alphabet[random() % std::size(alphabet)];
                for (const char c : cell) quoted += c == '"' ? "\"\"" : std::string(1, c);
                const bool must = cell.find_first_of(",\"\n") != cell.npos || random() % 2;
                text += (i ? "," : "") + (must ? quoted + "\"" : cell);
                row.push_back(std::move(cell));
            }
            text += random() % 2 ? "\r\n" : "\n";
        }
        const Csv csv = read_csv(text);
        ASSERT_THAT(csv.faults, IsEmpty()) << text;
        ASSERT_EQ(csv.rows.size(), table.size()) << text;
        for (std::size_t r = 0; r < table.size(); ++r) {
            ASSERT_EQ(csv.rows[r].cells.size(), width) << text;
            for (std::size_t i = 0; i < width; ++i) EXPECT_EQ(csv.rows[r].cells[i].text, table[r][i]) << text;
        }
    }
}

}  // namespace
}  // namespace footring::book

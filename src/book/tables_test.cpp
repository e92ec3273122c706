// SPDX-License-Identifier: Apache-2.0
#include "book/tables.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "base/text.h"
#include "book/book.h"

namespace footring::book {
namespace {

namespace fs = std::filesystem;

std::string bytes_of(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

TEST(Tables, AreThoseOfTheBook) {
    std::set<std::string_view> in_book, listed;
#define FOOTRING_NAME(Type, member, thing) in_book.insert(#member);
    FOOTRING_BOOK_TABLES(FOOTRING_NAME)
#undef FOOTRING_NAME
    for (const Table& table : all_tables()) listed.insert(table.name);
    EXPECT_EQ(listed, in_book);
}

TEST(Tables, ReferOnlyToTablesAboveThem) {
    std::set<std::string> above;
    for (const Table& table : all_tables()) {
        for (const Column& column : table.columns)
            for (const std::string& referred : split(column.refers, '|'))
                EXPECT_TRUE(above.contains(referred)) << table.name << "." << column.name << " -> " << referred;
        above.insert(std::string(table.name));
    }
}

TEST(Tables, SayWhatEachColumnMeansAndNameItOnce) {
    for (const Table& table : all_tables()) {
        std::set<std::string_view> names;
        for (const Column& column : table.columns) {
            EXPECT_TRUE(names.insert(column.name).second) << table.name << "." << column.name;
            EXPECT_FALSE(column.sentence.empty()) << table.name << "." << column.name;
            EXPECT_EQ(table.column(column.name), &column);
            EXPECT_EQ(column.type == CellType::kWord, !words_of(column).empty()) << column.name;
        }
        for (const std::string_view key : table.key) EXPECT_TRUE(table.column(key)->required) << table.name;
    }
    EXPECT_EQ(table_named("plates"), nullptr);
}

TEST(Tables, PlacesAreThoseOfTheProgram) {
    const auto words = words_of(*table_named("treatment_ornaments")->column("place"));
    EXPECT_THAT(words, ::testing::ElementsAreArray(kPlaceNames));
}

TEST(Tables, ThePageListsThem) {
    const fs::path page = fs::path(FOOTRING_ROOT) / "docs" / "packs.md";
    const std::string begin = "<!-- tables: made by the program -->\n\n", end = "<!-- end of tables -->";
    std::string text = bytes_of(page);
    const std::size_t from = text.find(begin), to = text.find(end);
    ASSERT_NE(from, text.npos);
    ASSERT_NE(to, text.npos);
    const std::string listed = text.substr(from + begin.size(), to - from - begin.size());
    if (std::getenv("FOOTRING_WRITE")) {
        text.replace(from + begin.size(), listed.size(), tables_markdown());
        std::ofstream(page, std::ios::binary) << text;
        return;
    }
    EXPECT_EQ(listed, tables_markdown()) << "run FOOTRING_WRITE=1 book_test --gtest_filter='Tables.*'";
}

// A pack may say more of itself than data_package_json() can; its schemas have to be ours.
TEST(Tables, EachPacksDescriptorCarriesTheirSchemas) {
    const fs::path packs = fs::path(FOOTRING_ROOT) / "packs";
    if (!fs::exists(packs)) GTEST_SKIP() << "no packs in this tree";
    for (const auto& entry : fs::directory_iterator(packs)) {
        const fs::path file = entry.path() / "datapackage.json";
        if (!fs::exists(file)) continue;
        auto package = nlohmann::ordered_json::parse(bytes_of(file));
        PackAbout about;
        for (const auto& resource : package["resources"]) about.tables.push_back(resource["name"]);
        for (const Table& table : all_tables())
            for (const Column& column : table.columns) {  // pack:id in a column: it cannot have a foreign key
                std::istringstream lines(bytes_of(entry.path() / fmt::format("{}.csv", table.name)));
                std::string header, line;
                std::getline(lines, header);
                const auto names = split(header, ',');
                const auto at = std::ranges::find(names, column.name) - names.begin();
                while (column.type == CellType::kRef && std::getline(lines, line)) {
                    // Only cells before the first quoted one are looked at; ids come first in our tables.
                    std::istringstream cells(line.substr(0, line.find('"')));
                    std::string cell;
                    for (int i = 0; i <= at && std::getline(cells, cell, ','); ++i)
                        if (i == at && cell.find(':') != cell.npos)
                            about.outward.push_back(fmt::format("{}.{}", table.name, column.name));
                }
            }
        for (auto& resource : package["resources"]) {
            const Table* table = table_named(resource["name"].get<std::string>());
            if (!table) continue;
            if (std::getenv("FOOTRING_WRITE")) resource["schema"] = table_schema(*table, about);
            else
                EXPECT_EQ(resource["schema"].dump(2), table_schema(*table, about).dump(2))
                    << file << " " << table->name;
        }
        if (std::getenv("FOOTRING_WRITE")) std::ofstream(file, std::ios::binary) << package.dump(2) << "\n";
    }
}

TEST(DataPackage, CarriesAFullTableSchema) {
    PackAbout about;
    about.name = "reed";
    about.title = "Reed pack";
    about.description = "Invented.";
    about.contributors = {"A. Tester"};
    about.tables = {"forms", "shapes", "shape_forms"};
    about.outward = {"shape_forms.form"};
    const auto package = nlohmann::ordered_json::parse(data_package_json(about));
    EXPECT_EQ(package["name"], "reed");
    EXPECT_EQ(package["licenses"].dump(), R"([{"name":"CC-BY-4.0"}])");
    EXPECT_EQ(package["contributors"].dump(), R"([{"title":"A. Tester"}])");
    ASSERT_EQ(package["resources"].size(), 3u);
    EXPECT_EQ(package["resources"][1]["path"], "forms.csv");
    EXPECT_EQ(package["resources"][1]["schema"]["fields"][2].dump(),
              R"({"name":"ware","type":"string","description":"flat or hollow ware",)"
              R"("constraints":{"required":true,"enum":["flat","hollow"]}})");
    EXPECT_EQ(package["resources"][1]["schema"]["primaryKey"], "id");
    EXPECT_FALSE(package["resources"][0]["schema"].contains("foreignKeys")) << "the pack has no makers";
    EXPECT_EQ(package["resources"][2]["schema"]["foreignKeys"].dump(),
              R"([{"fields":"shape","reference":{"resource":"shapes","fields":"id"}}])");
    EXPECT_EQ(nlohmann::json::parse(data_package_json("a", "A", "B"))["resources"].size(), all_tables().size());
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/tables.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>

#include "base/text.h"
#include "book/book.h"
#include "book/csv.h"

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
    int packs = 0;
    for (const auto& entry : fs::directory_iterator(fs::path(FOOTRING_ROOT) / "packs")) {
        const fs::path file = entry.path() / "datapackage.json";
        if (!fs::exists(file)) continue;
        ++packs;
        auto package = nlohmann::ordered_json::parse(bytes_of(file));
        PackAbout about;
        for (const auto& resource : package["resources"]) {
            about.tables.push_back(resource["name"]);
            const Table* table = table_named(about.tables.back());
            if (!table) continue;
            const Csv csv = read_csv(bytes_of(entry.path() / resource["path"].get<std::string>()));
            for (std::size_t at = 0; at < csv.rows.front().cells.size(); ++at) {
                const std::string& name = csv.rows.front().cells[at].text;
                const Column* column = table->column(name);
                if (!column || column->type != CellType::kRef) continue;
                // An id of another pack: a Table Schema cannot follow it.
                if (std::ranges::any_of(csv.rows, [&](const CsvRow& row) {
                        return row.cells[at].text.find(':') != row.cells[at].text.npos;
                    }))
                    about.outward.push_back(fmt::format("{}.{}", table->name, name));
            }
        }
        for (auto& resource : package["resources"]) {
            const Table* table = table_named(resource["name"].get<std::string>());
            if (!table) continue;
            if (std::getenv("FOOTRING_WRITE")) {
                resource["dialect"] = table_dialect();
                resource["schema"] = table_schema(*table, about);
            }
            EXPECT_EQ(resource["dialect"], table_dialect()) << file << " " << table->name;
            EXPECT_EQ(resource["schema"].dump(2), table_schema(*table, about).dump(2))
                << file << " " << table->name;
        }
        if (std::getenv("FOOTRING_WRITE")) std::ofstream(file, std::ios::binary) << package.dump(2) << "\n";
    }
    EXPECT_GT(packs, 0);
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

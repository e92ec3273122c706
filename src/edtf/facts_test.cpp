// SPDX-License-Identifier: Apache-2.0
// The examples of the specification (tests/facts/README.md), every column of every row.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <fstream>
#include <map>

#include "edtf/edtf.h"

namespace footring::edtf {
namespace {

using Row = std::vector<std::string>;

std::vector<Row> rows_of(const std::string& name) {
    std::ifstream file(fmt::format("{}/tests/facts/{}", FOOTRING_ROOT, name));
    EXPECT_TRUE(file) << name;
    std::vector<Row> rows;
    std::string line;
    std::getline(file, line);  // the heading
    while (std::getline(file, line)) {
        Row row(1);
        bool quoted = false;
        for (const char c : line) {
            if (c == '"') quoted = !quoted;
            else if (c == ',' && !quoted) row.emplace_back();
            else row.back() += c;
        }
        rows.push_back(row);
    }
    return rows;
}

std::string text_of(const std::optional<Day>& day) {
    if (!day) return "";
    const std::int64_t size = day->year < 0 ? -day->year : day->year;
    return fmt::format("{}{}{:04}-{:02}-{:02}", size > 9999 ? "Y" : "", day->year < 0 ? "-" : "", size, day->month,
                       day->day);
}

TEST(EdtfFacts, EveryExampleOfTheSpecificationIsReadAsItSays) {
    const auto rows = rows_of("edtf_valid.csv");
    EXPECT_EQ(rows.size(), 64u);
    std::map<std::string, int> least_level;
    for (const Row& row : rows) {
        const auto [at, fresh] = least_level.emplace(row[2], std::stoi(row[0]));
        if (!fresh) at->second = std::min(at->second, std::stoi(row[0]));
    }
    for (const Row& row : rows) {
        SCOPED_TRACE(row[2]);
        const auto date = parse(row[2]);
        ASSERT_TRUE(date) << to_line(date.error());
        EXPECT_EQ(date->level(), least_level[row[2]]);
        EXPECT_EQ(text_of(date->earliest()), row[3]);
        EXPECT_EQ(text_of(date->latest()), row[4]);
        EXPECT_EQ(date->approximate(), row[5] != "no");
        EXPECT_EQ(date->uncertain(), row[6] != "no");
        EXPECT_EQ(date->text(), row[2]);
        EXPECT_EQ(print(*date), row[2]);
        EXPECT_FALSE(date->spans().empty());
        EXPECT_FALSE(in_words(*date).empty());
    }
}

TEST(EdtfFacts, EveryStringThatIsNotEdtfIsRefusedWithARemedy) {
    const auto rows = rows_of("edtf_invalid.csv");
    EXPECT_EQ(rows.size(), 39u);
    for (const Row& row : rows) {
        SCOPED_TRACE(fmt::format("{} ({})", row[0], row[1]));
        const auto date = parse(row[0]);
        ASSERT_FALSE(date);
        EXPECT_EQ(date.error().code, ProblemCode::kBadInput);
        EXPECT_EQ(date.error().where, fmt::format("date '{}'", row[0]));
        EXPECT_FALSE(date.error().what.empty());
        EXPECT_FALSE(date.error().remedy.empty());
    }
}

}  // namespace
}  // namespace footring::edtf

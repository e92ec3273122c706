// SPDX-License-Identifier: Apache-2.0
#include "book/merge.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <fstream>
#include <iterator>
#include <random>
#include <set>

#include "book/pack.h"
#include "book/pack_writer.h"

namespace footring::book {
namespace {

namespace fs = std::filesystem;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::string read(const fs::path& path) {
    std::ifstream in(path, std::ios::binary);
    return std::string{std::istreambuf_iterator<char>(in), {}};
}
void write(const fs::path& path, std::string_view text) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

struct Merging : ::testing::Test {
    Merging() {
        std::string name = (fs::temp_directory_path() / "footring-merge-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        root = name;
        for (const char* who : {"base", "mine", "theirs"}) {
            write(root / who / "datapackage.json", R"({"name": "reed"})");
            write(root / who / "sources.csv", "id,title\ns-1,Book\ns-2,Letter\n");
            write(root / who / "glazes.csv", kGlazes);
        }
    }
    ~Merging() override {
        std::error_code ignored;
        fs::remove_all(root, ignored);
    }
    MergedPack merge() {
        auto merged = merge_packs(root / "base", root / "mine", root / "theirs");
        EXPECT_TRUE(merged) << to_line(merged.error().front());
        EXPECT_TRUE(copy_pack(root / "mine", root / "out"));
        EXPECT_TRUE(write_pack(root / "out", merged->files));
        return std::move(*merged);
    }
    std::vector<std::string> faults() const {
        std::vector<std::string> out;
        for (const Problem& problem : check_packs({root / "out"})) out.push_back(to_line(problem));
        return out;
    }
    static constexpr const char* kGlazes =
        "id,name,years,source\noat,Oat,1930,s-1\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n";
    fs::path root;
};

TEST_F(Merging, TakesWhatOnlyOneChangedFromThatOne) {
    write(root / "mine" / "glazes.csv",
          "id,name,years,source\noat,\"Pale oat\",1930,s-1\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n");
    write(root / "theirs" / "glazes.csv",
          "id,years,name,source\noat,1930~,Oat,s-1\nivory,1931,Ivory,s-1\nbone,1940,Bone,s-2\n");
    const MergedPack merged = merge();
    EXPECT_THAT(merged.conflicts, IsEmpty());
    EXPECT_EQ(merged.taken, 3);
    EXPECT_EQ(read(root / "out" / "glazes.csv"),
              "id,name,years,source\noat,\"Pale oat\",1930~,s-1\nivory,Ivory,1931,s-1\nbone,Bone,1940,s-2\n");
    EXPECT_THAT(faults(), IsEmpty());
}

TEST_F(Merging, KeepsBothOfTwoAnswersAsStatementsForAndAgainst) {
    write(root / "mine" / "glazes.csv",
          "id,name,years,source\noat,Oat,1929,s-1\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n");
    write(root / "theirs" / "glazes.csv",
          "id,name,years,source\noat,Oat,1934,s-2\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n");
    const MergedPack merged = merge();
    ASSERT_EQ(merged.conflicts.size(), 1u);
    EXPECT_EQ(merged.conflicts[0].row, "oat");
    EXPECT_EQ(merged.conflicts[0].column, "years");
    EXPECT_EQ(merged.conflicts[0].kept, "Mine was kept in the row, and both as statements for and against.");
    EXPECT_THAT(faults(), IsEmpty());
    const auto book = read_packs({root / "out"});
    ASSERT_TRUE(book);
    std::vector<std::string> said;
    for (const Statement& statement : book->statements)
        said.push_back(fmt::format("{} {} {} {} {}", statement.subject, statement.property, statement.value,
                                   statement.stance_for ? "for" : "against", source_ids(*book, statement.sources)));
    EXPECT_THAT(said, ElementsAre("reed:oat years 1929 for s-1", "reed:oat years 1929 against s-2",
                                  "reed:oat years 1934 for s-2"));
}

TEST_F(Merging, JoinsSources) {
    write(root / "mine" / "glazes.csv",
          "id,name,years,source\noat,Oat,1930,s-1;s-2\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n");
    write(root / "theirs" / "sources.csv", "id,title\ns-1,Book\ns-2,Letter\ns-3,Visit\n");
    write(root / "theirs" / "glazes.csv",
          "id,name,years,source\noat,Oat,1930,s-3\nivory,Ivory,1931,s-1\nchalk,Chalk,1932,s-1\n");
    EXPECT_THAT(merge().conflicts, IsEmpty());
    EXPECT_THAT(read(root / "out" / "glazes.csv"), ::testing::HasSubstr("oat,Oat,1930,s-2;s-3\n"));
    EXPECT_THAT(faults(), IsEmpty());
}

TEST_F(Merging, TakesTwoNewSourcesOfOneIdForTwo) {
    write(root / "mine" / "sources.csv", "id,title\ns-1,Book\ns-2,Letter\ns-3,Price list\n");
    write(root / "mine" / "glazes.csv", std::string(kGlazes) + "bone,Bone,1940,s-3\n");
    write(root / "theirs" / "sources.csv", "id,title\ns-1,Book\ns-2,Letter\ns-3,Diary\n");
    write(root / "theirs" / "glazes.csv", std::string(kGlazes) + "sand,Sand,1941,s-1;s-3\n");
    write(root / "mine" / "statements.csv", "id,subject,property,value,source\nst-1,oat,name,Pale,s-3\n");
    write(root / "theirs" / "statements.csv", "id,subject,property,value,source\nst-1,ivory,name,Cream,s-3\n");
    const MergedPack merged = merge();
    EXPECT_THAT(merged.conflicts, IsEmpty());
    EXPECT_EQ(read(root / "out" / "sources.csv"),
              "id,title\ns-1,Book\ns-2,Letter\ns-3,Price list\ns-3-theirs,Diary\n");
    EXPECT_EQ(read(root / "out" / "glazes.csv"),
              std::string(kGlazes) + "bone,Bone,1940,s-3\nsand,Sand,1941,s-1;s-3-theirs\n");
    EXPECT_EQ(
        read(root / "out" / "statements.csv"),
        "id,subject,property,value,source\nst-1,oat,name,Pale,s-3\nst-1-theirs,ivory,name,Cream,s-3-theirs\n");
    EXPECT_THAT(merged.notes,
                ElementsAre("sources: both added a row 's-3', each another one: theirs is now 's-3-theirs'",
                            "statements: both added a row 'st-1', each another one: theirs is now 'st-1-theirs'"));
    EXPECT_THAT(faults(), IsEmpty());
}

TEST_F(Merging, WritesToAFolderThatIsNamedWithoutOneAboveIt) {
    const fs::path before = fs::current_path();
    fs::current_path(root);
    const auto copied = copy_pack("mine", "copy");
    fs::current_path(before);
    ASSERT_TRUE(copied) << to_line(copied.error());
    EXPECT_EQ(read(root / "copy" / "glazes.csv"), kGlazes);
}

TEST_F(Merging, KeepsARowThatOneTookOutAndTheOtherChanged) {
    write(root / "mine" / "glazes.csv", "id,name,years,source\noat,Oat,1930,s-1\nchalk,Chalk,1933,s-1\n");
    write(root / "theirs" / "glazes.csv", "id,name,years,source\noat,Oat,1930,s-1\nivory,White,1931,s-1\n");
    const MergedPack merged = merge();
    EXPECT_EQ(read(root / "out" / "glazes.csv"),
              "id,name,years,source\noat,Oat,1930,s-1\nchalk,Chalk,1933,s-1\nivory,White,1931,s-1\n");
    ASSERT_EQ(merged.conflicts.size(), 2u);
    EXPECT_EQ(merged.conflicts[0].row + ": " + merged.conflicts[0].kept,
              "ivory: The row was kept as theirs has it.");
    EXPECT_EQ(merged.conflicts[1].row + ": " + merged.conflicts[1].kept, "chalk: The row was kept as mine has it.");
}

TEST_F(Merging, KeepsBothDrawings) {
    const auto svg = [](int n) {
        return fmt::format(R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M{} 0"/></svg>)",
                           n);
    };
    for (const char* who : {"base", "mine", "theirs"})
        write(root / who / "ornaments.csv", "id,kind,finish,drawing,source\nfern,stamp,gold,fern.svg,s-1\n");
    write(root / "base" / "fern.svg", svg(1));
    write(root / "mine" / "fern.svg", svg(2));
    write(root / "theirs" / "fern.svg", svg(3));
    const MergedPack merged = merge();
    EXPECT_EQ(read(root / "out" / "fern.svg"), svg(2));
    EXPECT_EQ(read(root / "out" / "fern-theirs.svg"), svg(3));
    EXPECT_EQ(merged.conflicts[0].kept, "Mine was kept, theirs is fern-theirs.svg.");
}

// --- laws, on generated edits

struct Editor {
    std::mt19937 random;
    int up_to(int most) { return std::uniform_int_distribution(0, most)(random); }
    std::string value() { return up_to(3) == 0 ? "" : fmt::format("v{}", up_to(4)); }
    std::vector<TextRow> base() {
        std::vector<TextRow> rows;
        for (int i = 0; i < 6; ++i)
            rows.push_back(
                {static_cast<std::uint32_t>(i + 2),
                 {{"id", fmt::format("g{}", i)}, {"name", value()}, {"years", value()}, {"source", "s-1"}}});
        return rows;
    }
    std::vector<TextRow> edited(const std::vector<TextRow>& base, int mostly) {
        std::vector<TextRow> rows;
        for (const TextRow& row : base) {
            if (up_to(mostly) == 0) continue;
            rows.push_back(row);
            if (up_to(mostly) == 0) rows.back().cells["name"] = value();
            if (up_to(mostly) == 0) rows.back().cells["years"] = value();
        }
        for (int i = up_to(2); i > 0; --i)
            rows.push_back({0,
                            {{"id", fmt::format("n{}", up_to(3) * 10 + i)},
                             {"name", value()},
                             {"years", value()},
                             {"source", "s-1"}}});
        for (std::size_t i = 0; i < rows.size(); ++i) rows[i].line = static_cast<std::uint32_t>(i + 2);
        return rows;
    }
};
using Rows = std::map<std::string, Cells>;
Rows as_map(const std::vector<TextRow>& rows) {
    Rows out;
    for (const TextRow& row : rows) out[row.cells.at("id")] = row.cells;
    return out;
}
Rows merged(const std::vector<TextRow>& mine, const MergedSheet& sheet) {
    Rows out = as_map(mine);
    for (const RowEdit& edit : sheet.edits) {
        if (edit.act == RowEdit::Do::kAdd) {
            out[edit.cells.at("id")] = edit.cells;
            continue;
        }
        const auto row = std::ranges::find(mine, edit.line, &TextRow::line);
        const std::string id = row->cells.at("id");
        if (edit.act == RowEdit::Do::kRemove) out.erase(id);
        else
            for (const auto& [name, text] : edit.cells) out[id][name] = text;
    }
    return out;
}
MergedSheet merge(const std::vector<TextRow>& base, const std::vector<TextRow>& mine,
                  const std::vector<TextRow>& theirs) {
    return merge_sheet(*table_named("glazes"), base, mine, theirs, {"id", "name", "years", "source"});
}

TEST(MergeLaws, NothingChangedByThemChangesNothing) {
    for (unsigned seed = 0; seed < 300; ++seed) {
        Editor editor{std::mt19937(seed)};
        const auto base = editor.base(), mine = editor.edited(base, 3);
        EXPECT_TRUE(merge(base, mine, base).edits.empty()) << seed;
        EXPECT_TRUE(merge(base, mine, mine).edits.empty()) << seed;
        EXPECT_TRUE(merge(base, mine, mine).conflicts.empty()) << seed;
    }
}
TEST(MergeLaws, NothingChangedByMeGivesTheirs) {
    for (unsigned seed = 0; seed < 300; ++seed) {
        Editor editor{std::mt19937(seed)};
        const auto base = editor.base(), theirs = editor.edited(base, 3);
        const auto sheet = merge(base, base, theirs);
        EXPECT_EQ(merged(base, sheet), as_map(theirs)) << seed;
        EXPECT_TRUE(sheet.conflicts.empty()) << seed;
    }
}
TEST(MergeLaws, GoesBothWaysAlikeWhereNothingIsContested) {
    int alike = 0;
    for (unsigned seed = 0; seed < 600; ++seed) {
        Editor editor{std::mt19937(seed)};
        const auto base = editor.base(), mine = editor.edited(base, 6), theirs = editor.edited(base, 6);
        const auto one = merge(base, mine, theirs), other = merge(base, theirs, mine);
        EXPECT_EQ(one.conflicts.size(), other.conflicts.size()) << seed;
        if (!one.conflicts.empty()) continue;
        EXPECT_EQ(merged(mine, one), merged(theirs, other)) << seed;
        ++alike;
    }
    EXPECT_GT(alike, 100);
}
// Slow and obvious: no cell that either changed is lost. It is in the row, or in a statement for it.
TEST(MergeLaws, LosesNothingThatEitherWrote) {
    for (unsigned seed = 0; seed < 600; ++seed) {
        Editor editor{std::mt19937(seed)};
        const auto base = editor.base(), mine = editor.edited(base, 2), theirs = editor.edited(base, 2);
        const auto sheet = merge(base, mine, theirs);
        const Rows out = merged(mine, sheet), before = as_map(base);
        std::set<std::string> stated;
        for (const RowEdit& edit : sheet.statements)
            if (edit.cells.at("stance") == "for")
                stated.insert(edit.cells.at("subject") + "/" + edit.cells.at("property") + "/" +
                              edit.cells.at("value"));
        for (const auto* who : {&mine, &theirs})
            for (const TextRow& row : *who)
                for (const auto& [name, text] : row.cells) {
                    const std::string id = row.cells.at("id");
                    if (text.empty() || (before.contains(id) && before.at(id).at(name) == text)) continue;
                    const bool there = out.contains(id) && out.at(id).at(name) == text;
                    EXPECT_TRUE(there || stated.contains(id + "/" + name + "/" + text))
                        << seed << " " << id << " " << name;
                }
    }
}

}  // namespace
}  // namespace footring::book

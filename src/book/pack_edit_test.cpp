// SPDX-License-Identifier: Apache-2.0
#include "book/pack_edit.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <stdlib.h>

#include <filesystem>
#include <fstream>
#include <iterator>

#include "book/pack_writer.h"

namespace footring::book {
namespace {

namespace fs = std::filesystem;
using enum RowEdit::Do;
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

struct PackFolder : ::testing::Test {
    PackFolder() {
        std::string name = (fs::temp_directory_path() / "footring-edit-XXXXXX").string();
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        root = name;
        reed = root / "reed";
        write(reed / "datapackage.json", R"({"name": "reed"})");
        write(reed / "sources.csv", "id,title\ns-1,Book of glazes\n");
        write(reed / "makers.csv", "id,name,source\r\nreed,Reed,s-1\r\n");
        write(reed / "shapes.csv", "id,maker,source\nharrow,reed,s-1\nplough,reed,s-1\n");
        write(reed / "treatments.csv", "id,shape,number,source\nt-1,harrow,1,s-1\nt-2,harrow,2,\n");
        write(reed / "ornaments.csv", "id,kind,finish,source\nfern,stamp,gold,s-1\n");
        write(reed / "treatment_ornaments.csv",
              "treatment,place,ornament,on,source\nt-1,rim,fern,*,s-1\nt-2,rim,fern,*,s-1\n");
        reopen();
    }
    ~PackFolder() override {
        std::error_code ignored;
        fs::permissions(reed, fs::perms::owner_all, ignored);
        fs::remove_all(root, ignored);
    }
    void reopen() {
        auto opened = open_packs({reed});
        ASSERT_TRUE(opened) << to_line(opened.error().front());
        packs = std::move(*opened);
    }
    EditedPacks edit(std::vector<RowEdit> rows, std::vector<NewFile> files = {}) const {
        return edit_packs(packs.folders, packs.ids(), packs.files,
                          {"reed", std::move(rows), std::move(files), true});
    }
    // "conflict: shapes.csv:2: ... [row 0 column]"; paths without the folder.
    std::vector<std::string> told(const EditedPacks& edited) const {
        std::vector<std::string> out;
        for (const EditFault& fault : edited.faults) {
            std::string line = to_line(fault.problem);
            for (const std::string folder = reed.string() + "/"; line.find(folder) != line.npos;)
                line.erase(line.find(folder), folder.size());
            out.push_back(fmt::format("{}: {}", name_of(fault.problem.code), line) +
                          (fault.row ? fmt::format(" [row {} {}]", *fault.row, fault.column) : ""));
        }
        return out;
    }
    fs::path root, reed;
    OpenedPacks packs;
};

RowEdit add(std::string table, Cells cells) {
    return {.act = kAdd, .table = std::move(table), .line = 0, .was = {}, .cells = std::move(cells)};
}
RowEdit change(std::string table, std::uint32_t line, Cells cells) {
    return {.act = kChange, .table = std::move(table), .line = line, .was = {}, .cells = std::move(cells)};
}

TEST_F(PackFolder, TakesRowsOfSeveralTablesThatNeedEachOther) {
    const auto edited =
        edit({add("treatments", {{"id", "t-3"}, {"shape", "plough"}, {"source", "s-2"}}),
              add("treatment_ornaments",
                  {{"treatment", "t-3"}, {"place", "rim"}, {"ornament", "fern"}, {"on", "*"}, {"source", "s-2"}}),
              add("sources", {{"id", "s-2"}, {"title", "A letter"}})});
    ASSERT_THAT(told(edited), IsEmpty());
    EXPECT_EQ(edited.opened.book.treatments.size(), 3u);
    ASSERT_TRUE(write_pack(edited.folder, edited.files));
    EXPECT_EQ(read(reed / "sources.csv"), "id,title\ns-1,Book of glazes\ns-2,A letter\n");
    EXPECT_EQ(read(reed / "makers.csv"), "id,name,source\r\nreed,Reed,s-1\r\n");
    reopen();
    EXPECT_EQ(packs.book.packs[0].digest, edited.opened.book.packs[0].digest);
    EXPECT_FALSE(fs::exists(reed / ".footring-edit"));
}

TEST_F(PackFolder, PutsANewRowBehindTheLastOfItsSubject) {
    const auto edited = edit({add(
        "treatment_ornaments",
        {{"treatment", "t-1"}, {"place", "centre"}, {"ornament", "fern"}, {"on", "flat"}, {"source", "s-1"}})});
    ASSERT_THAT(told(edited), IsEmpty());
    EXPECT_EQ(edited.files[0].after,
              "treatment,place,ornament,on,source\nt-1,rim,fern,*,s-1\n"
              "t-1,centre,fern,flat,s-1\nt-2,rim,fern,*,s-1\n");
}

TEST_F(PackFolder, TellsEveryFaultWithItsRowAndColumn) {
    EXPECT_THAT(
        told(
            edit({change("treatments", 2, {{"shape", "harow"}}), add("shapes", {{"id", "Mill"}, {"source", "s-1"}}),
                  add("sources", {{"id", "s-9"}, {"trust", "2"}})})),
        ElementsAre(
            "bad-input: shapes.csv:4:1: id 'Mill' is not made of lower-case letters, digits and "
            "single hyphens: write 'mill' [row 1 id]",
            "bad-input: sources.csv:3:6: trust '2' is outside 0 to 1: write a number from 0 to 1 [row 2 trust]",
            "bad-input: treatments.csv:2:5: shape 'harow' is not an id in shapes.csv: did you mean 'harrow'? [row "
            "0 "
            "shape]"));
}

TEST_F(PackFolder, AsksEveryNewRowForItsSource) {
    EXPECT_THAT(
        told(edit({add("shapes", {{"id", "mill"}}), change("treatments", 2, {{"source", " "}})})),
        ElementsAre("bad-input: shapes.csv:4: the new row names no source: name the source that says so; a new "
                    "one goes into the table of sources first [row 0 source]",
                    "bad-input: treatments.csv:2: the row would lose its source: name the source that says "
                    "so; a new one goes into the table of sources first [row 1 source]"));
    const auto without = edit({change("treatments", 3, {{"number", "22"}})});
    EXPECT_THAT(told(without), IsEmpty());
    EXPECT_THAT(without.notes, ElementsAre((reed / "treatments.csv:3 names no source").generic_string()));
}

TEST_F(PackFolder, RefusesToWriteOverAnotherProgramsChange) {
    write(reed / "treatments.csv", "id,shape,number,source\nt-1,harrow,11,s-1\n");
    EXPECT_THAT(
        told(edit({change("treatments", 2, {{"number", "3"}})})),
        ElementsAre("conflict: treatments.csv: another program changed this file since the pack was opened: "
                    "read the pack again, then look at your edit again"));
    // What an edit of one table was checked against stands in the others.
    EXPECT_THAT(
        told(edit({change("shapes", 2, {{"id", "harow"}})})),
        ElementsAre("conflict: treatments.csv: another program changed this file since the pack was opened: "
                    "read the pack again, then look at your edit again"));
}

TEST_F(PackFolder, RefusesAChangeThatComesBetweenTheCheckAndTheWriting) {
    const auto edited =
        edit({change("treatments", 2, {{"number", "3"}}), change("shapes", 2, {{"id", "harrow"}, {"maker", ""}})});
    ASSERT_THAT(told(edited), IsEmpty());
    write(reed / "treatments.csv", "id,shape\n");
    const auto written = write_pack(edited.folder, edited.files);
    ASSERT_FALSE(written);
    EXPECT_EQ(written.error().code, ProblemCode::kConflict);
    EXPECT_EQ(read(reed / "treatments.csv"), "id,shape\n");
    EXPECT_EQ(read(reed / "shapes.csv"), "id,maker,source\nharrow,reed,s-1\nplough,reed,s-1\n");
    EXPECT_FALSE(fs::exists(reed / ".footring-edit"));
}

TEST_F(PackFolder, FinishesWhatACrashLeftBehindTheJournal) {
    write(reed / ".footring-edit" / "0", "id,maker,source\nmill,reed,s-1\n");
    write(reed / ".footring-edit" / "journal.json",
          R"({"files": [{"from": "0", "to": "shapes.csv"}, {"from": "1", "to": "sources.csv"}]})");
    ASSERT_TRUE(finish_edit(reed));
    EXPECT_EQ(read(reed / "shapes.csv"), "id,maker,source\nmill,reed,s-1\n");
    EXPECT_EQ(read(reed / "sources.csv"), "id,title\ns-1,Book of glazes\n");  // renamed before the crash
    EXPECT_FALSE(fs::exists(reed / ".footring-edit"));
}

TEST_F(PackFolder, ForgetsWhatACrashLeftWithoutAJournal) {
    write(reed / ".footring-edit" / "0", "id,ma");
    ASSERT_TRUE(finish_edit(reed));
    EXPECT_EQ(read(reed / "shapes.csv"), "id,maker,source\nharrow,reed,s-1\nplough,reed,s-1\n");
    EXPECT_FALSE(fs::exists(reed / ".footring-edit"));
}

TEST_F(PackFolder, LeavesAReadOnlyPackAloneAndSaysSo) {
    const auto edited = edit({change("treatments", 2, {{"number", "3"}})});
    fs::permissions(reed, fs::perms::owner_read | fs::perms::owner_exec);
    const auto written = write_pack(edited.folder, edited.files);
    ASSERT_FALSE(written);
    EXPECT_EQ(to_line(written.error()), reed.generic_string() +
                                            ": the pack cannot be edited: its folder is read-only: "
                                            "make it writable, or edit a copy of it");
}

TEST_F(PackFolder, KeepsTheModeOfAFile) {
    fs::permissions(reed / "shapes.csv", fs::perms(0664));
    const auto edited = edit({change("shapes", 2, {{"maker", ""}})});
    ASSERT_TRUE(write_pack(edited.folder, edited.files));
    EXPECT_EQ(fs::status(reed / "shapes.csv").permissions(), fs::perms(0664));
}

TEST_F(PackFolder, CopiesAReadOnlyPackToOneThatCanBeEdited) {
    fs::permissions(reed / "shapes.csv", fs::perms(0444));
    ASSERT_TRUE(copy_pack(reed, root / "own" / "reed"));
    EXPECT_EQ(why_not_editable(root / "own" / "reed"), std::nullopt);
    EXPECT_EQ(open_packs({root / "own" / "reed"})->book.packs[0].digest, packs.book.packs[0].digest);
}

// --- drawings

constexpr const char* kSvg =
    R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><path d="M0 0h9"/></svg>)";

TEST_F(PackFolder, TakesADrawingWithTheRowThatNamesIt) {
    const auto edited =
        edit({change("ornaments", 2, {{"drawing", "drawings/fern.svg"}})}, {{"drawings/fern.svg", kSvg}});
    ASSERT_THAT(told(edited), IsEmpty());
    ASSERT_TRUE(write_pack(edited.folder, edited.files));
    EXPECT_EQ(read(reed / "drawings/fern.svg"), kSvg);
    EXPECT_EQ(read(reed / "ornaments.csv"),
              "id,kind,finish,source,drawing\nfern,stamp,gold,s-1,drawings/fern.svg\n");
    reopen();
    const auto back = edit({change("ornaments", 2, {{"drawing", ""}})}, {{"drawings/fern.svg", std::nullopt}});
    ASSERT_THAT(told(back), IsEmpty());
    ASSERT_TRUE(write_pack(back.folder, back.files));
    EXPECT_FALSE(fs::exists(reed / "drawings/fern.svg"));
}

TEST_F(PackFolder, RefusesDrawingsThatAreNone) {
    write(reed / "drawings/old.svg", kSvg);
    EXPECT_THAT(
        told(edit({}, {{"../fern.svg", kSvg},
                       {"shapes.csv", kSvg},
                       {"a.png", kSvg},
                       {"b.svg", R"x(<svg xmlns="http://www.w3.org/2000/svg" onload="x()"/>)x"},
                       {"drawings/old.svg", std::string(kSvg) + "\n"}})),
        ElementsAre(
            "bad-input: ../fern.svg: the path leads out of the pack: name it such as drawings/fern.svg",
            "bad-input: shapes.csv: a drawing is an SVG or a PNG file: let its name end in .svg or .png",
            "bad-input: a.png: it is no PNG drawing: give a whole SVG or PNG file, under the name that fits it",
            "bad-input: b.svg: it runs a script: 'onload': take the script out",
            "bad-input: drawings/old.svg: there is another drawing of this name: give the new one another "
            "name"));
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "book/edit.h"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <random>

#include "base/text.h"
#include "book/csv.h"

namespace footring::book {
namespace {

using enum RowEdit::Do;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

const Table& glazes() { return *table_named("glazes"); }

RowEdit change(std::uint32_t line, Cells cells, Cells was = {}) {
    return {.act = kChange, .table = "glazes", .line = line, .was = std::move(was), .cells = std::move(cells)};
}
RowEdit add(Cells cells, std::uint32_t behind = 0) {
    return {.act = kAdd, .table = "glazes", .line = behind, .was = {}, .cells = std::move(cells)};
}
RowEdit removal(std::uint32_t line) {
    return {.act = kRemove, .table = "glazes", .line = line, .was = {}, .cells = {}};
}
std::expected<SheetEdit, std::vector<Problem>> edit(std::string_view text, std::vector<RowEdit> edits,
                                                    char delimiter = ',') {
    return edit_sheet(glazes(), text, delimiter, "reed/glazes.csv", edits);
}
std::string text_of(std::string_view text, std::vector<RowEdit> edits, char delimiter = ',') {
    const auto edited = edit(text, std::move(edits), delimiter);
    return edited ? edited->text : to_line(edited.error().front());
}
std::vector<std::string> problems_of(std::string_view text, std::vector<RowEdit> edits) {
    const auto edited = edit(text, std::move(edits));
    std::vector<std::string> out;
    if (!edited)
        for (const Problem& problem : edited.error())
            out.push_back(fmt::format("{}: {}", name_of(problem.code), to_line(problem)));
    return out;
}

TEST(Edit, ChangesTheBytesOfTheCellAndNoOther) {
    EXPECT_EQ(text_of("id,name\noat, Oat \nivory,Ivory\n", {change(2, {{"name", "Oat, pale"}})}),
              "id,name\noat,\"Oat, pale\"\nivory,Ivory\n");
}

TEST(Edit, KeepsByteOrderMarkLineBreaksQuotingAndBlanksOfTheRest) {
    EXPECT_EQ(text_of("\xEF\xBB\xBF\"id\" ;name;mine\r\n\"oat\"; \"Oat\" ;x\r\n\r\nivory;Ivory;\"y\"\r\n",
                      {change(2, {{"name", "Pale \"oat\""}}), change(4, {{"mine", "z"}})}, ';'),
              "\xEF\xBB\xBF\"id\" ;name;mine\r\n\"oat\";\"Pale \"\"oat\"\"\";x\r\n\r\nivory;Ivory;\"z\"\r\n");
}

TEST(Edit, AddsARowInTheMannerOfTheTable) {
    EXPECT_EQ(text_of("id,name\r\noat,Oat\r\n", {add({{"id", "ivory"}, {"name", "Ivory"}})}),
              "id,name\r\noat,Oat\r\nivory,Ivory\r\n");
    EXPECT_EQ(text_of("\"id\",\"name\"\n\"oat\",\"Oat\"\n", {add({{"id", "ivory"}})}),
              "\"id\",\"name\"\n\"oat\",\"Oat\"\n\"ivory\",\"\"\n");
    EXPECT_EQ(text_of("id,name\noat,Oat\nivory,Ivory\n", {add({{"id", "chalk"}}, 2), add({{"id", "bone"}}, 1)}),
              "id,name\nbone,\noat,Oat\nchalk,\nivory,Ivory\n");
}

TEST(Edit, LeavesATextWithoutALastLineBreakWithoutOne) {
    EXPECT_EQ(text_of("id,name\noat,Oat", {add({{"id", "ivory"}}), add({{"id", "bone"}})}),
              "id,name\noat,Oat\nivory,\nbone,");
    EXPECT_EQ(text_of("id,name\noat,Oat\nivory,Ivory", {removal(3)}), "id,name\noat,Oat");
}

TEST(Edit, TakesARowOutWithItsLineBreak) {
    EXPECT_EQ(text_of("id,name\noat,\"Oat\nof old\"\nivory,Ivory\n", {removal(2)}), "id,name\nivory,Ivory\n");
}

TEST(Edit, WritesTheFirstLineOfAFileThatIsNotThereYet) {
    EXPECT_EQ(text_of("", {add({{"id", "oat"}, {"uranium", "no"}})}),
              "id,maker,name,lab_l,lab_a,lab_b,years,uranium,source\noat,,,,,,,no,\n");
}

TEST(Edit, AddsAColumnThatTheFileLacksAndSaysSo) {
    const auto edited = edit("id,name\noat,Oat\nivory,\"Ivory\nwhite\"\n", {change(2, {{"uranium", "yes"}})});
    ASSERT_TRUE(edited);
    EXPECT_EQ(edited->text, "id,name,uranium\noat,Oat,yes\nivory,\"Ivory\nwhite\",\n");
    EXPECT_THAT(edited->notes,
                ElementsAre("reed/glazes.csv had no column 'uranium'; every line of it has one now"));
}

TEST(Edit, DoesNotAddAColumnForABlankCell) {
    EXPECT_EQ(text_of("id,name\noat,Oat\n", {change(2, {{"uranium", ""}, {"name", "O"}})}), "id,name\noat,O\n");
}

TEST(Edit, RefusesARowThatIsNotAsItWasSeen) {
    EXPECT_THAT(problems_of("id,name\noat,Oat\n", {change(2, {{"name", "Pale"}}, {{"name", "Oats"}})}),
                ElementsAre("conflict: reed/glazes.csv:2: name is 'Oat' now, and was 'Oats' when you looked: read "
                            "the row again, then edit it"));
    EXPECT_THAT(problems_of("id,name\noat,Oat\n", {change(3, {{"name", "Pale"}})}),
                ElementsAre("conflict: reed/glazes.csv:3: no row of the table begins in this line: read the table "
                            "again"));
}

TEST(Edit, TellsEveryFaultOfTheEditsAtOnce) {
    EXPECT_THAT(
        problems_of("id,name\noat,Oat\n",
                    {change(2, {{"nmae", "x"}}), change(2, {{"name", "y"}}), add({{"id", "a\xFF"}})}),
        ElementsAre("bad-input: reed/glazes.csv:2: glazes has no column 'nmae': its columns are id, name",
                    "bad-input: reed/glazes.csv:2: the row is edited twice at once: make one edit of both",
                    "bad-input: reed/glazes.csv: the text for 'id' is not UTF-8, or has a zero byte: write it as "
                    "text"));
}

TEST(Edit, DoesNotTouchAFileWithFaultsOfItsOwn) {
    EXPECT_THAT(
        problems_of("id,name\noat,O\"at\n", {change(2, {{"name", "x"}})}),
        ElementsAre("bad-input: reed/glazes.csv:2:6: a quotation mark stands inside a cell that is not "
                    "quoted: put the whole cell in quotation marks and double the ones inside it, then edit "
                    "the table"));
}

// --- laws, on random tables written in random ways

struct Scribe {
    std::mt19937 random;
    int up_to(int most) { return std::uniform_int_distribution(0, most)(random); }
    template <class T>
    const T& one_of(const std::vector<T>& all) {
        return all[static_cast<std::size_t>(up_to(static_cast<int>(all.size()) - 1))];
    }
    std::string value() {
        static const std::vector<std::string> kValues = {
            "",    "oat",  "a b", "a,b", "say \"oat\"", "two\nlines", " blanks ", "\xC3\xA9t\xC3\xA9", "1931/1940",
            "a;b", "=1+1", "\"",  "'"};
        return one_of(kValues);
    }
    std::string written(const std::string& value, char delimiter) {
        const bool must = value.find_first_of("\"\n\r") != value.npos || value.find(delimiter) != value.npos ||
                          trim(value).size() != value.size();
        if (!must && up_to(2) > 0) return value;
        std::string out;
        for (const char c : value) out += c == '"' ? "\"\"" : std::string(1, c);
        return "\"" + out + "\"";
    }
    struct File {
        std::string text;
        char delimiter;
    };
    File file(int rows) {
        File out{up_to(3) == 0 ? "\xEF\xBB\xBF" : "", one_of(std::vector<char>{',', ';', '\t', '|'})};
        const std::string end = one_of(std::vector<std::string>{"\n", "\r\n", "\r"});
        const std::vector<std::string> columns = {"id", "name", "mine", "years"};
        for (int row = 0; row <= rows; ++row) {
            for (std::size_t i = 0; i < columns.size(); ++i) {
                if (i > 0) out.text += out.delimiter;
                const std::string cell = row == 0 ? columns[i] : i == 0 ? fmt::format("g{}", row) : value();
                out.text += written(cell, out.delimiter);
            }
            if (row < rows || up_to(1) == 0) out.text += end;
            if (up_to(9) == 0 && row < rows) out.text += end;
        }
        return out;
    }
    std::vector<RowEdit> edits(const File& file) {
        std::vector<RowEdit> out;
        for (const TextRow& row : rows_of_text(file.text, file.delimiter)) {
            const int what = up_to(5);
            if (what == 0) out.push_back(removal(row.line));
            else if (what == 1) out.push_back(change(row.line, {{"name", value()}, {"years", value()}}, row.cells));
            else if (what == 2)
                out.push_back(add({{"id", fmt::format("n{}", row.line)}, {"mine", value()}}, row.line));
        }
        return out;
    }
};

std::vector<Cells> cells_of(std::string_view text, char delimiter) {
    std::vector<Cells> out;
    for (TextRow& row : rows_of_text(text, delimiter)) out.push_back(std::move(row.cells));
    return out;
}

// Slow and obvious: the rows as lists of cells, edited as lists.
std::vector<Cells> edited_as_lists(const Scribe::File& file, const std::vector<RowEdit>& edits) {
    std::vector<Cells> out;
    for (const TextRow& row : rows_of_text(file.text, file.delimiter)) {
        Cells cells = row.cells;
        bool stays = true;
        for (const RowEdit& edit : edits) {
            if (edit.line != row.line) continue;
            if (edit.act == kRemove) stays = false;
            if (edit.act == kChange)
                for (const auto& [name, text] : edit.cells) cells[name] = text;
        }
        if (stays) out.push_back(cells);
        for (const RowEdit& edit : edits) {
            if (edit.line != row.line || edit.act != kAdd) continue;
            Cells fresh{{"id", ""}, {"name", ""}, {"mine", ""}, {"years", ""}};
            for (const auto& [name, text] : edit.cells) fresh[name] = text;
            out.push_back(fresh);
        }
    }
    return out;
}

TEST(EditLaws, SayWhatEditingListsOfCellsSays) {
    for (unsigned seed = 0; seed < 400; ++seed) {
        Scribe scribe{std::mt19937(seed)};
        const auto file = scribe.file(scribe.up_to(8));
        const auto edits = scribe.edits(file);
        const auto edited = edit(file.text, edits, file.delimiter);
        ASSERT_TRUE(edited) << seed << ": " << to_line(edited.error().front());
        EXPECT_EQ(cells_of(edited->text, file.delimiter), edited_as_lists(file, edits)) << seed;
    }
}

TEST(EditLaws, KeepEveryByteOfTheLinesThatAreNotEdited) {
    for (unsigned seed = 0; seed < 400; ++seed) {
        Scribe scribe{std::mt19937(seed)};
        const auto file = scribe.file(1 + scribe.up_to(8));
        const auto rows = rows_of_text(file.text, file.delimiter);
        const TextRow& row = scribe.one_of(rows);
        const Csv csv = read_csv(file.text, file.delimiter);
        const auto at =
            std::ranges::find_if(csv.rows, [&](const CsvRow& r) { return r.cells.front().line == row.line; });
        const auto edited = edit(file.text, {change(row.line, {{"name", scribe.value()}})}, file.delimiter);
        ASSERT_TRUE(edited);
        const std::string before = file.text.substr(0, at->from), behind = file.text.substr(at->to);
        EXPECT_TRUE(edited->text.starts_with(before) && edited->text.ends_with(behind)) << seed;
    }
}

TEST(EditLaws, TakeAnEditBackToTheVeryBytes) {
    for (unsigned seed = 0; seed < 400; ++seed) {
        Scribe scribe{std::mt19937(seed)};
        auto file = scribe.file(1 + scribe.up_to(8));
        // Blank lines beside removed rows and breaks at the end are not a row's own.
        const auto edits = scribe.edits(file);
        const auto edited = edit(file.text, edits, file.delimiter);
        ASSERT_TRUE(edited);
        const auto back = undoing(edited->rows, edited->text, file.delimiter, "reed/glazes.csv");
        ASSERT_TRUE(back) << seed << ": " << to_line(back.error().front());
        const auto undone = edit(edited->text, *back, file.delimiter);
        ASSERT_TRUE(undone) << seed;
        EXPECT_EQ(cells_of(undone->text, file.delimiter), cells_of(file.text, file.delimiter)) << seed;
        const bool plain = file.text.find("\n\n") == std::string::npos &&
                           file.text.find("\r\r") == std::string::npos &&
                           file.text.find("\r\n\r\n") == std::string::npos;
        if (plain && file.text.find_last_of("\r\n") == file.text.size() - 1) {
            EXPECT_EQ(undone->text, file.text) << seed;
        }
    }
}

TEST(Undoing, RefusesWhenTheRowWasChangedSince) {
    const auto first = edit("id,name\noat,Oat\n", {change(2, {{"name", "Pale"}})});
    const auto second = edit(first->text, {change(2, {{"name", "Paler"}})});
    const auto back = undoing(first->rows, second->text, ',', "reed/glazes.csv");
    ASSERT_FALSE(back);
    EXPECT_EQ(to_line(back.error().front()),
              "reed/glazes.csv: the row 'oat' is not as the change left it: undo what was changed since first, or "
              "edit the row itself");
}

TEST(Undoing, FindsTheRowThoughOthersWereAddedAbove) {
    const auto first = edit("id,name\noat,Oat\n", {change(2, {{"name", "Pale"}})});
    const auto second = edit(first->text, {add({{"id", "bone"}}, 1)});
    const auto back = undoing(first->rows, second->text, ',', "reed/glazes.csv");
    ASSERT_TRUE(back);
    EXPECT_EQ(text_of(second->text, *back), "id,name\nbone,\noat,Oat\n");
}

}  // namespace
}  // namespace footring::book

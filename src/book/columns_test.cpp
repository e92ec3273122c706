// SPDX-License-Identifier: Apache-2.0
#include "book/columns.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

constexpr OtherName kOthers[] = {{"line", "shape"}, {"no", "number"}};
const Fields kFields{"plates", {"shape", "number", "date_code"}, kOthers};

std::vector<std::string> matched(const std::vector<std::string>& headings, const Mapping& mapping,
                                 std::vector<std::string>* faults = nullptr) {
    std::vector<Problem> problems;
    std::vector<std::string> out;
    for (const MatchedColumn& one : match_columns(headings, mapping, kFields, "list.csv:1", problems))
        out.push_back(one.field);
    for (const Problem& problem : problems) {
        if (faults != nullptr) faults->push_back(to_line(problem));
        else ADD_FAILURE() << to_line(problem);
    }
    return out;
}

TEST(MatchColumns, KnowsNamesWhateverTheirCaseAndPunctuation) {
    EXPECT_THAT(matched({"No.", "Date Code", "LINE", "colour"}, {}),
                ElementsAre("number", "date_code", "shape", ""));
}

TEST(MatchColumns, TakesWhatThePersonSaidBeforeEqualNames) {
    EXPECT_THAT(matched({"shape", "mould", "number"}, {{"mould", "shape"}, {"number", ""}}),
                ElementsAre("", "shape", ""));
}

TEST(MatchColumns, TakesTheFirstOfTwoColumnsThatAreCalledAlike) {
    EXPECT_THAT(matched({"Shape", "Line"}, {}), ElementsAre("shape", ""));
}

TEST(MatchColumns, TellsEveryFaultOfAMapping) {
    std::vector<std::string> faults;
    matched({"mould", "ware"}, {{"mould", "shape"}, {"ware", "shape"}, {"colours", "numbr"}}, &faults);
    EXPECT_THAT(
        faults,
        ElementsAre("list.csv:1: the mapping names a column 'colours' that the file does not have: its columns "
                    "are mould, ware",
                    "list.csv:1: the mapping names a field 'numbr' that plates do not have: did you mean "
                    "'number'?",
                    "list.csv:1: two columns are mapped to 'shape': map one of them to nothing"));
}

TEST(DelimiterOf, CountsInTheFirstLineOutsideOfQuotationMarks) {
    EXPECT_EQ(delimiter_of("a,b\n1;2;3;4"), ',');
    EXPECT_EQ(delimiter_of("\"a,b,\n,c\";d\n1,2,3"), ';');
    EXPECT_EQ(delimiter_of("a\tb\n"), '\t');
    EXPECT_EQ(delimiter_of("a|b"), '|');
    EXPECT_EQ(delimiter_of("one"), ',');
    EXPECT_EQ(delimiter_of(""), ',');
}

TEST(HeadingsOf, AreTheCellsOfTheFirstLine) {
    EXPECT_THAT(headings_of("\xEF\xBB\xBF No. ;\"Line,\nor mould\"\r\n1;2\n"),
                ElementsAre("No.", "Line,\nor mould"));
    EXPECT_THAT(headings_of(""), IsEmpty());
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
#include "exchange/pieces_csv.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <random>

#include "exchange/csv_fields.h"
#include "exchange/test_cupboard.h"

namespace footring::exchange {
namespace {

using ::testing::ElementsAre;
using testing::full_record;
using testing::small_book;

ReadTable read(const std::string& text, const std::map<std::string, std::string>& mapping = {}) {
    const book::Book book = small_book();
    return read_csv(text, mapping, &book, "pieces.csv");
}

TEST(PiecesCsv, WritesTheHeaderThatPeopleAreTold) {
    EXPECT_EQ(
        write_csv({}, store::Sight::kAll),
        "id,form,shape,shape_sure,glaze,glaze_sure,wear,rim,rim_sure,verge,verge_sure,centre,centre_sure,edge,"
        "edge_sure,handle,handle_sure,lid,lid_sure,finial,finial_sure,body,body_sure,inside,inside_sure,foot,"
        "foot_sure,underside,underside_sure,mark,mark_sure,number,number_sure,date_code,faults,length_mm,width_mm,"
        "height_mm,private,lot,place_kept,cost,currency,note,decision_treatment,decision_grade,decision_date,"
        "decision_note\n");
}

TEST(PiecesCsv, WritesARowThatASpreadsheetRunsNothingOf) {
    const std::string text = write_csv({full_record("p-0041")}, store::Sight::kAll);
    EXPECT_EQ(
        text.substr(text.find('\n') + 1),
        "p-0041,sugar,harrow,likely,oat,sure,moderate,fern-pair,sure,,,something,guess,none,likely,,,,,,,,,,,,,,,"
        "m-3,guess,1?7,likely,'-B,few,121,120.5,0.30000000000000004,,,\"'=HYPERLINK(\"\"x\"\")\",12.25,GBP,"
        "\"two\nlines, a \"\"quote\"\", ' and\ttab \",demo:t-117,first,1931/1940,'+sure of it\n");
}

TEST(PiecesCsv, GivesBackTheRecordsThatItWrote) {
    store::PieceRecord bare;
    bare.piece.id = "p-1";
    store::PieceRecord two_looks = full_record("@2");
    two_looks.piece.looks = {{book::Place::kRim, {"fern-pair", looks::Sure::kSure}},
                             {book::Place::kRim, {"rosette", looks::Sure::kGuess}}};
    std::vector<store::PieceRecord> records{full_record("p-0041"), bare, two_looks};
    const ReadTable table = read(write_csv(records, store::Sight::kAll));
    EXPECT_THAT(testing::lines_of(table.problems), ElementsAre());
    ASSERT_EQ(table.rows.size(), records.size());
    for (std::size_t i = 0; i < records.size(); ++i) {
        records[i].search_words.clear();  // the store's own
        const auto by_place = [](const looks::Look& a, const looks::Look& b) { return a.place < b.place; };
        std::ranges::stable_sort(records[i].piece.looks, by_place);
        EXPECT_EQ(table.rows[i].record, records[i]) << i;
    }
}

TEST(PiecesCsv, DoesNotGuessWhichOfSeveralRowsANameMeans) {
    const ReadTable table = read(
        "ID;Form;SHAPE;Shape Sure;Centre;Length (mm);place kept;Decision-Treatment;Colour\n"
        "p-1;Sugar bowl;Harrow;likely;Rosette;12,5;Shelf;fern;red\n");
    EXPECT_THAT(testing::lines_of(table.problems),
                ElementsAre("pieces.csv:2: Decision-Treatment: 2 rows of the reference are "
                            "called 'fern': write one of the ids t-117, t-162"));
}

TEST(PiecesCsv, MatchesColumnsWithoutRegardToCaseAndSpacesAndTakesNamesForIds) {
    const ReadTable table = read(
        "ID;Form;SHAPE;Shape Sure;Centre;Length (mm);place kept;Decision-Treatment;Colour\n"
        "p-1;Sugar bowl;Harrow;likely;Rosette;12,5;Shelf;t-162;red\n");
    ASSERT_THAT(testing::lines_of(table.problems), ElementsAre());
    ASSERT_EQ(table.rows.size(), 1u);
    const store::PieceRecord& record = table.rows[0].record;
    EXPECT_EQ(record.piece.form, "sugar");
    EXPECT_EQ(record.piece.shape, (looks::Seen{"harrow", looks::Sure::kLikely}));
    EXPECT_EQ(record.piece.looks,
              (std::vector<looks::Look>{{book::Place::kCentre, {"rosette", looks::Sure::kSure}}}));
    EXPECT_EQ(record.piece.length_mm, 12.5);
    EXPECT_EQ(record.place, "Shelf");
    EXPECT_EQ(record.decision->treatment, "t-162");
    EXPECT_EQ(table.columns.back().column, "Colour");
    EXPECT_EQ(table.columns.back().field, "");
}

TEST(PiecesCsv, FollowsTheMappingBeforeTheNames) {
    const ReadTable table = read("note,Was\nold,Shelf 1\n", {{"Was", "note"}, {"note", ""}});
    ASSERT_EQ(table.rows.size(), 1u);
    EXPECT_EQ(table.rows[0].record.note, "Shelf 1");
    EXPECT_EQ(table.fields, (std::set<std::string>{"note"}));
}

TEST(PiecesCsv, RefusesAMappingThatNamesNothing) {
    EXPECT_THAT(testing::lines_of(read("id,Glase\np-1,oat\n", {{"Glaze", "glaze"}, {"Glase", "glaz"}}).problems),
                ElementsAre("pieces.csv:1: the mapping names a field 'glaz' that pieces do not have: did you mean "
                            "'glaze'?",
                            "pieces.csv:1: the mapping names a column 'Glaze' that the file does not have: did you "
                            "mean 'Glase'?"));
}

TEST(PiecesCsv, TellsEveryFaultOfEveryBadRowWithItsLineAndKeepsTheGoodOnes) {
    const ReadTable table = read(
        "id,form,glaze,glaze_sure,rim,wear,length_mm,cost,decision_grade,decision_treatment\n"
        "p-1,plate,oat,sure,fern-pair,light,250,3,,\n"
        "p-2,platte,Oatt,certain,fern,worn out,25cm,-3,third,t-117\n"
        "\n"
        ",,,,,,,,,\n"
        "p-3,plate,oat,sure,none,none,1,1,first,\n"
        "p-4,plate,oat\n");
    EXPECT_THAT(
        testing::lines_of(table.problems),
        ElementsAre(
            "pieces.csv:3: form: there is no form 'platte': did you mean 'plate'?",
            "pieces.csv:3: glaze: there is no glaze 'Oatt': did you mean 'oat'?",
            "pieces.csv:3: glaze_sure: there is no sureness 'certain': use sure, likely or guess",
            "pieces.csv:3: wear: 'worn out' is none of its words: use one of none, light, moderate, heavy",
            "pieces.csv:3: rim: there is no ornament 'fern': use one of fern-pair, rosette",
            "pieces.csv:3: length_mm: '25cm' is not a number from 0 upwards: give digits only, without a unit",
            "pieces.csv:3: cost: '-3' is not a number from 0 upwards: give digits only, without a unit",
            "pieces.csv:3: decision_grade: there is no grade 'third': use first, second or nothing",
            "pieces.csv:6: decision_treatment: the row has part of a decision, but no treatment: name the "
            "treatment, 'unlisted' or 'elsewhere', or leave the other cells empty"));
    EXPECT_EQ(table.bad_rows, 2);
    ASSERT_EQ(table.rows.size(), 2u);
    EXPECT_EQ(table.rows[0].line, 2);
    EXPECT_EQ(table.rows[1].record.piece.id, "p-4");
}

TEST(PiecesCsv, TellsWhereATableIsTornAndWhatIsNoTable) {
    EXPECT_THAT(
        testing::lines_of(read("").problems),
        ElementsAre("pieces.csv: the table is empty: give a line of column names and a row for each piece"));
    EXPECT_THAT(
        testing::lines_of(read("id\n\xFF\n").problems),
        ElementsAre("pieces.csv: the table is not UTF-8 text: save it from the spreadsheet as CSV in UTF-8"));
    EXPECT_THAT(
        testing::lines_of(read("id,note\np-1,\"open\n").problems),
        ElementsAre("pieces.csv:2:5: a quotation mark is opened here and never closed: close it, or double it "
                    "if it belongs to the text"));
    EXPECT_THAT(testing::lines_of(read("id,note\np-1,a,b\n").problems),
                ElementsAre("pieces.csv:2: the row has 3 cells under 2 columns: put cells that hold a delimiter in "
                            "quotation marks"));
    EXPECT_EQ(read("a,b\n1,2\n").problems.at(0).what, "none of its columns is known");
}

TEST(PiecesCsv, DoesNotTakeASurenessWithoutWhatItBelongsTo) {
    const ReadTable table = read("id,glaze_sure,decision_grade\np-1,sure,first\n");
    EXPECT_EQ(table.fields, (std::set<std::string>{"id"}));
    EXPECT_EQ(table.columns.at(1).field, "");
}

TEST(PiecesCsv, GuardsWhatWasSeenToo) {
    store::PieceRecord record;
    record.piece.looks = {{book::Place::kRim, {"=1+1", looks::Sure::kSure}}};
    EXPECT_NE(write_csv({record}, store::Sight::kAll).find(",'=1+1,sure,"), std::string::npos);
}

TEST(Guard, IsTakenAwayAgainFromEveryText) {
    EXPECT_EQ(guarded("=1+1"), "'=1+1");
    EXPECT_EQ(guarded("\xEF\xBC\x9D"
                      "1"),
              "'\xEF\xBC\x9D"
              "1");
    EXPECT_EQ(guarded("'tis"), "'tis");
    EXPECT_EQ(guarded("'=1"), "''=1");
    std::mt19937 random(7);
    const std::string letters = "=+-@'\t\n\ra ";
    for (int round = 0; round < 5000; ++round) {
        std::string text;
        for (std::size_t n = random() % 5; n > 0; --n) text += letters[random() % letters.size()];
        const std::string safe = guarded(text);
        EXPECT_EQ(unguarded(safe), text);
        if (safe.empty()) continue;
        EXPECT_EQ(std::string("=+-@\t\n\r").find(safe[0]), std::string::npos) << safe;
    }
}

}  // namespace
}  // namespace footring::exchange

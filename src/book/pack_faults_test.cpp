// SPDX-License-Identifier: Apache-2.0
// Every fault that a table can have, and the whole line that a person reads. One table of a sound pack is replaced.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>

#include "book/pack_text.h"

namespace footring::book {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using Tables = std::map<std::string, std::string>;

Tables sound() {
    return {
        {"sources", "id,kind,creator,title,date,locator,trust\ns-1,catalogue,,Price list,1931-04,p. 3,0.9\n"},
        {"makers",
         "id,name,role,place,years,unmarked_share,numbered_share,note,source\n"
         "mill,The Mill,pottery,Nowhere,1900/1950,0.2,0.3,,s-1\nink,Ink,supplier,,,,,,\n"},
        {"shapes", "id,maker,name,years,note,source\nharrow,mill,Harrow,1920/1940,,s-1\n"},
        {"forms", "id,name,ware,outline,aat,note\nplate,Plate,flat,round,,\nsugar,Sugar,hollow,round,,\n"},
        {"shape_forms",
         "shape,form,trade_size,length_mm,width_mm,height_mm,capacity_ml,years,source\n"
         "harrow,plate,8 in,227,227,22,,1920/1940,s-1\n"},
        {"glazes",
         "id,maker,name,lab_l,lab_a,lab_b,years,uranium,source\noat,mill,Oat,88,1.2,9.4,1925/1940,no,s-1\n"},
        {"ornaments",
         "id,name,kind,finish,drawing,repeats,supplier,shared,second_share,years,source\n"
         "fern,Fern,stamp,gold,,8,ink,yes,0.1,1920/1950,s-1\n"},
        {"treatments",
         "id,shape,glaze,number,name,grade,years,outlet,note,source\n"
         "t-1,harrow,oat,117,Fern on oat,first,1930/1938,,,s-1\n"},
        {"treatment_ornaments", "treatment,place,ornament,on,share,source\nt-1,rim,fern,*,1,s-1\n"},
        {"code_schemes", "id,pattern,tables,note,source\nc-1,(?<year>[0-9]{2}),,,s-1\n"},
        {"marks",
         "id,maker,wording,drawing,years,shapes,grade,code_scheme,source\n"
         "m-1,mill,WARRANTED,,1905/1930,harrow,second,c-1,s-1\n"},
        {"dated_uses", "subject,date,kind,source\nt-1,1931,letter,s-1\n"},
        {"statements", "id,subject,property,value,source,stance,note\nst-1,oat,years,1925/1940,s-1,for,\n"},
    };
}

std::vector<std::string> faults(const std::vector<PackText>& packs) {
    std::vector<std::string> out;
    const auto book = read_pack_texts(packs);
    if (!book)
        for (const Problem& p : book.error()) {
            out.push_back(to_line(p));
            EXPECT_EQ(exit_status(p.code), 2) << out.back();
        }
    return out;
}
// The faults when one table of the sound pack holds this text instead.
std::vector<std::string> faults_of(const std::string& table, const std::string& csv) {
    Tables tables = sound();
    tables[table] = csv;
    return faults({{"p", tables}});
}
// The faults when one row is added to a table of the sound pack; it stands on the line behind the last one.
std::vector<std::string> faults_of_row(const std::string& table, const std::string& row) {
    return faults_of(table, sound()[table] + row + "\n");
}
std::string fault_of_row(const std::string& table, const std::string& row) {
    const auto all = faults_of_row(table, row);
    EXPECT_EQ(all.size(), 1u) << table << ": " << row << (all.size() > 1 ? "\nalso: " + all[1] : "");
    return all.empty() ? "" : all.front();
}

TEST(PackFaults, ASoundPackHasNone) { EXPECT_THAT(faults({{"p", sound()}}), IsEmpty()); }

TEST(PackFaults, APackOfOneTableIsSound) {
    EXPECT_THAT(faults({{"p", {{"marks", "id,wording\nm-1,WARRANTED\n"}}}}), IsEmpty());
    EXPECT_THAT(faults({{"p", {}}}), IsEmpty());
}

TEST(PackFaults, IdsAreThereWellFormedAndUnique) {
    EXPECT_EQ(fault_of_row("glazes", ",mill,Snow,,,,,,"),
              "p/glazes.csv:3:1: id is blank: give the row an id in lower case, such as 'oat'");
    EXPECT_EQ(fault_of_row("glazes", "Snow White!,mill,Snow,,,,,,"),
              "p/glazes.csv:3:1: id 'Snow White!' is not made of lower-case letters, digits and single hyphens: "
              "write 'snow-white'");
    EXPECT_EQ(fault_of_row("glazes", "---,mill,Snow,,,,,,"),
              "p/glazes.csv:3:1: id '---' is not made of lower-case letters, digits and single hyphens: "
              "write an id such as 'oat'");
    EXPECT_EQ(fault_of_row("glazes", "oat,mill,Oat again,,,,,,"),
              "p/glazes.csv:3:1: id 'oat' is already taken at p/glazes.csv:2: "
              "ids are unique in a pack: give one of the two another id");
    EXPECT_EQ(fault_of_row("treatments", "oat,harrow,,,,,,,,"),
              "p/treatments.csv:3:1: id 'oat' is already taken at p/glazes.csv:2: "
              "ids are unique in a pack: give one of the two another id");
    EXPECT_EQ(fault_of_row("ornaments", "none,None,line,gold,,,,,,,"),
              "p/ornaments.csv:3:1: id 'none' is a word with a meaning of its own: choose another id");
    EXPECT_EQ(fault_of_row("forms", "flat,Flat,flat,,,"),
              "p/forms.csv:4:1: id 'flat' is a word with a meaning of its own: choose another id");
    EXPECT_EQ(fault_of_row("treatments", "elsewhere,harrow,,,,,,,,"),
              "p/treatments.csv:3:1: id 'elsewhere' is a word with a meaning of its own: choose another id");
}

TEST(PackFaults, ColumnsAreThereOnceAndSpeltRight) {
    EXPECT_THAT(faults_of("ornaments", "id,name,kind\nfern,Fern,stamp\n"),
                ElementsAre("p/ornaments.csv:1:1: the column 'finish' is missing: add it to the first line"));
    EXPECT_THAT(faults_of("ornaments", "id,name,kind,finnish\nfern,Fern,stamp,gold\n"),
                ElementsAre("p/ornaments.csv:1:14: the column 'finnish' is none of those of ornaments: "
                            "did you mean 'finish'?"));
    EXPECT_THAT(faults_of("glazes", "id,maker,maker\noat,mill,mill\n"),
                ElementsAre("p/glazes.csv:1:10: the column 'maker' stands twice: keep one of them"));
    EXPECT_THAT(faults_of("glazes", "id;maker\noat;mill\n"),
                ElementsAre("p/glazes.csv:1:1: the cells are separated by ;, not by commas: "
                            "save the table with commas, or give dialect.delimiter in datapackage.json"));
    EXPECT_THAT(faults_of("glazes", "my-shelf,id,,maker\nB4,oat,,mill\n"), IsEmpty()) << "own columns are welcome";
}

TEST(PackFaults, RowsAreAsWideAsTheFirstLine) {
    EXPECT_EQ(fault_of_row("forms", "bowl,Bowl,hollow,round,,,,"),
              "p/forms.csv:4:26: the row has 8 cells, the first line has 6: "
              "put a cell that contains a comma in quotation marks, or take cells out");
    EXPECT_EQ(fault_of_row("forms", "bowl,Bowl,hollow"),
              "p/forms.csv:4:17: the row has 3 cells, the first line has 6: "
              "add the missing cells; a blank cell still needs its comma");
    EXPECT_THAT(faults_of_row("forms", ",,,,,"), IsEmpty()) << "a row without any text is skipped";
    // The id of such a row is known all the same, so that rows which name it are not at fault.
    Tables tables = sound();
    tables["glazes"] += "snow,mill\n";
    tables["treatments"] += "t-2,harrow,snow,118,,,,,,\n";
    EXPECT_EQ(faults({{"p", tables}}).size(), 1u);
    // Nor is anything asked of what such a row refers to, not even when that table is empty. (found by pack_fuzz)
    EXPECT_EQ(faults({{"p", {{"treatment_ornaments", "treatment,place,ornament,on\nt-1,rim\n"}}}}).size(), 1u);
}

TEST(PackFaults, QuotationMarksMatch) {
    EXPECT_THAT(faults_of("forms", "id,name,ware\nplate,5\" plate,flat\nsugar,Sugar,hollow\n"),
                ElementsAre("p/forms.csv:2:8: a quotation mark stands inside a cell that is not quoted: "
                            "put the whole cell in quotation marks and double the ones inside it"));
    EXPECT_THAT(faults_of("forms", "id,name,ware\nplate,\"Plate,flat\nsugar,Sugar,hollow\n"),
                ElementsAre("p/forms.csv:2:7: a quotation mark is opened here and never closed: "
                            "close it, or double it if it belongs to the text"));
}

TEST(PackFaults, RequiredCellsAreFilled) {
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,,,,,,,,"),
              "p/ornaments.csv:3:16: finish is blank: fill it in: gold, platinum, silver, or a colour name in "
              "lower case");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,,gold,,,,,,,"),
              "p/ornaments.csv:3:11: kind is blank: fill it in: how it was put on");
    EXPECT_EQ(fault_of_row("forms", "bowl,Bowl,,round,,"),
              "p/forms.csv:4:11: ware is blank: fill it in: flat or hollow ware");
    EXPECT_EQ(fault_of_row("treatments", "t-2,,oat,118,,,,,,"),
              "p/treatments.csv:3:5: shape is blank: fill it in: the line it is on");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,,,"),
              "p/treatment_ornaments.csv:3:15: on is blank: "
              "fill it in: the pieces it speaks of: *, flat, hollow, or a form");
    EXPECT_EQ(fault_of_row("dated_uses", ",1931,letter,"),
              "p/dated_uses.csv:3:1: subject is blank: fill it in: "
              "id of a treatment, ornament, shape, glaze or mark");
    EXPECT_EQ(fault_of_row("dated_uses", "t-1,,letter,"),
              "p/dated_uses.csv:3:5: date is blank: fill it in: when it was in use");
    EXPECT_EQ(fault_of_row("statements", "st-2,oat,,1925,s-1,for,"),
              "p/statements.csv:3:10: property is blank: fill it in: what about it, such as years");
    EXPECT_EQ(fault_of_row("code_schemes", "c-2,,,,"),
              "p/code_schemes.csv:3:5: pattern is blank: fill it in: regular expression (RE2) with named groups");
}

TEST(PackFaults, ReferencesLeadSomewhere) {
    EXPECT_EQ(fault_of_row("treatments", "t-2,harow,oat,118,,,,,,"),
              "p/treatments.csv:3:5: shape 'harow' is not an id in p/shapes.csv: did you mean 'harrow'?");
    EXPECT_EQ(
        fault_of_row("treatments", "t-2,harrow,cobalt,118,,,,,,"),
        "p/treatments.csv:3:12: glaze 'cobalt' is not an id in p/glazes.csv: add it there, or correct the id");
    EXPECT_EQ(fault_of_row("shapes", "plough,mil,Plough,,,"),
              "p/shapes.csv:3:8: maker 'mil' is not an id in p/makers.csv: did you mean 'mill'?");
    EXPECT_EQ(fault_of_row("shape_forms", "harrow,plates,,,,,,,"),
              "p/shape_forms.csv:3:8: form 'plates' is not an id in p/forms.csv: did you mean 'plate'?");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,gold,,,inky,,,,"),
              "p/ornaments.csv:3:23: supplier 'inky' is not an id in p/makers.csv: did you mean 'ink'?");
    EXPECT_EQ(
        fault_of_row("treatment_ornaments", "t-11,edge,fern,*,,"),
        "p/treatment_ornaments.csv:3:1: treatment 't-11' is not an id in p/treatments.csv: did you mean 't-1'?");
    EXPECT_EQ(
        fault_of_row("treatment_ornaments", "t-1,edge,ferns,*,,"),
        "p/treatment_ornaments.csv:3:10: ornament 'ferns' is not an id in p/ornaments.csv: did you mean 'fern'?");
    EXPECT_EQ(fault_of_row("marks", "m-2,mill,,,,harrow;plow,,,"),
              "p/marks.csv:3:13: shapes 'plow' is not an id in p/shapes.csv: add it there, or correct the id");
    EXPECT_EQ(fault_of_row("marks", "m-2,mill,,,,*,,c-11,"),
              "p/marks.csv:3:16: code_scheme 'c-11' is not an id in p/code_schemes.csv: did you mean 'c-1'?");
    EXPECT_EQ(fault_of_row("shapes", "plough,mill,Plough,,,s-1; s-2"),
              "p/shapes.csv:3:22: source 's-2' is not an id in p/sources.csv: did you mean 's-1'?");
    EXPECT_EQ(fault_of_row("dated_uses", "mill,1931,letter,"),
              "p/dated_uses.csv:3:1: subject 'mill' is not an id in treatments, ornaments, shapes, glazes, marks: "
              "add it there, or correct the id");
    EXPECT_EQ(fault_of_row("dated_uses", "oot,1931,letter,"),
              "p/dated_uses.csv:3:1: subject 'oot' is not an id in treatments, ornaments, shapes, glazes, marks: "
              "did you mean 'oat'?");
    EXPECT_EQ(fault_of_row("statements", "st-2,st-1,note,x,s-1,for,"),
              "p/statements.csv:3:6: subject 'st-1' is not an id in makers, shapes, forms, glazes, ornaments, "
              "treatments, marks, code_schemes, sources: did you mean 's-1'?")
        << "a statement cannot speak of a statement, so references cannot run in a circle";
    EXPECT_THAT(faults_of_row("statements", "st-2,mill,years,1900,s-1,against,"), IsEmpty());
}

TEST(PackFaults, ReferencesToOtherPacksNameThem) {
    const PackText sedge{"sedge", {{"glazes", "id\nsnow\n"}, {"forms", "id,ware\nplate,flat\n"}}};
    const auto with = [&](std::string row) {
        Tables tables = sound();
        tables["treatments"] += row + "\n";
        return faults({{"p", tables}, sedge});
    };
    EXPECT_THAT(with("t-2,harrow,sedge:snow,118,,,,,,"), IsEmpty());
    EXPECT_THAT(with("t-2,p:harrow,sedge:snow,118,,,,,,"), IsEmpty());
    EXPECT_THAT(with("t-2,harrow,snow,118,,,,,,"),
                ElementsAre("p/treatments.csv:3:12: glaze 'snow' is not an id in p/glazes.csv: "
                            "write 'sedge:snow' for the one of that pack"));
    EXPECT_THAT(with("t-2,harrow,sedge:snw,118,,,,,,"),
                ElementsAre("p/treatments.csv:3:12: glaze 'sedge:snw' is not an id in sedge/glazes.csv: "
                            "did you mean 'snow'?"));
    EXPECT_THAT(
        with("t-2,harrow,sedg:snow,118,,,,,,"),
        ElementsAre("p/treatments.csv:3:12: glaze 'sedg:snow' belongs to the pack 'sedg', which is not open: "
                    "did you mean 'sedge'?"));
    EXPECT_THAT(with("t-2,harrow,marsh:snow,118,,,,,,"),
                ElementsAre("p/treatments.csv:3:12: glaze 'marsh:snow' belongs to the pack 'marsh', which is not "
                            "open: open that pack as well, or correct its name"));
    EXPECT_EQ(fault_of_row("dated_uses", "marsh:snow,1931,letter,"),
              "p/dated_uses.csv:3:1: subject 'marsh:snow' belongs to the pack 'marsh', which is not open: "
              "open that pack as well, or correct its name");
    EXPECT_THAT(faults({sedge, sedge}),
                ElementsAre("sedge/datapackage.json:1:1: two open packs are called 'sedge'; the other is "
                            "sedge/datapackage.json: open one of them, or give one another name"));
}

TEST(PackFaults, WordsAreThoseOfTheirList) {
    EXPECT_EQ(
        fault_of_row("makers", "kiln,Kiln,potery,,,,,,"),
        "p/makers.csv:4:11: role 'potery' is not one of pottery, decorator, supplier: did you mean 'pottery'?");
    EXPECT_EQ(fault_of_row("forms", "bowl,Bowl,deep,round,,"),
              "p/forms.csv:4:11: ware 'deep' is not one of flat, hollow: write one of them");
    EXPECT_EQ(fault_of_row("forms", "bowl,Bowl,hollow,rond,,"),
              "p/forms.csv:4:18: outline 'rond' is not one of round, oval, square, octagonal, other: "
              "did you mean 'round'?");
    EXPECT_EQ(fault_of_row("glazes", "snow,mill,Snow,,,,,maybe,"),
              "p/glazes.csv:3:20: uranium 'maybe' is not one of yes, no, unknown: write one of them");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,stamped,gold,,,,,,,"),
              "p/ornaments.csv:3:11: kind 'stamped' is not one of stamp, decal, line, band, print, solid, relief: "
              "did you mean 'stamp'?");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,gold,,,,Yes,,,"),
              "p/ornaments.csv:3:24: shared 'Yes' is not one of yes, no: did you mean 'yes'?");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,Gold,,,,,,,"),
              "p/ornaments.csv:3:16: finish 'Gold' is not a colour name in lower case: write 'gold'");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,#ffcc00,,,,,,,"),
              "p/ornaments.csv:3:16: finish '#ffcc00' is not a colour name in lower case: "
              "write gold, platinum, silver, or a colour name such as 'grass green'");
    EXPECT_EQ(fault_of_row("treatments", "t-2,harrow,oat,118,,third,,,,"),
              "p/treatments.csv:3:21: grade 'third' is not one of first, second, any: write one of them");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,rimm,fern,*,,"),
              "p/treatment_ornaments.csv:3:5: place 'rimm' is not one of rim, verge, centre, edge, handle, lid, "
              "finial, body, inside, foot, underside: did you mean 'rim'?");
    EXPECT_EQ(
        fault_of_row("treatment_ornaments", "t-1,edge,fern,flatt,,"),
        "p/treatment_ornaments.csv:3:15: on 'flatt' is neither *, flat, hollow nor a form: did you mean 'flat'?");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,suger,,"),
              "p/treatment_ornaments.csv:3:15: on 'suger' is neither *, flat, hollow nor a form: "
              "did you mean 'sugar'?");
    EXPECT_EQ(fault_of_row("marks", "m-2,mill,,,,*,first,,"),
              "p/marks.csv:3:15: grade 'first' is not one of second: write second or leave it blank");
    EXPECT_EQ(
        fault_of_row("dated_uses", "t-1,1931,advert,"),
        "p/dated_uses.csv:3:10: kind 'advert' is not one of advertisement, order form, catalogue, dated mark, "
        "letter, find: write one of them");
    EXPECT_EQ(fault_of_row("statements", "st-2,oat,years,1925,s-1,pro,"),
              "p/statements.csv:3:25: stance 'pro' is not one of for, against: write one of them");
}

TEST(PackFaults, NumbersAreNumbersWithinTheirRange) {
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,*,1.2,"),
              "p/treatment_ornaments.csv:3:17: share '1.2' is outside 0 to 1: write a number from 0 to 1");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,*,-0.1,"),
              "p/treatment_ornaments.csv:3:17: share '-0.1' is outside 0 to 1: write a number from 0 to 1");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,*,half,"),
              "p/treatment_ornaments.csv:3:17: share 'half' is text where a number belongs: "
              "write a number from 0 to 1, without its unit");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,*,\"0,5\","),
              "p/treatment_ornaments.csv:3:17: share '0,5' is text where a number belongs: "
              "write the decimal point as in 0.5");
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,edge,fern,*,nan,"),
              "p/treatment_ornaments.csv:3:17: share 'nan' is text where a number belongs: "
              "write a number from 0 to 1, without its unit");
    EXPECT_EQ(fault_of_row("sources", "s-2,book,,,,,1.5"),
              "p/sources.csv:3:14: trust '1.5' is outside 0 to 1: write a number from 0 to 1");
    EXPECT_EQ(fault_of_row("makers", "kiln,Kiln,,,,2,,,"),
              "p/makers.csv:4:14: unmarked_share '2' is outside 0 to 1: write a number from 0 to 1");
    EXPECT_EQ(fault_of_row("makers", "kiln,Kiln,,,,,30%,,"),
              "p/makers.csv:4:15: numbered_share '30%' is text where a number belongs: "
              "write a number from 0 to 1, without its unit");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,gold,,,,,1.1,,"),
              "p/ornaments.csv:3:25: second_share '1.1' is outside 0 to 1: write a number from 0 to 1");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,gold,,8.5,,,,,"),
              "p/ornaments.csv:3:22: repeats '8.5' is not a whole number: write a whole number from 1 to 1000");
    EXPECT_EQ(fault_of_row("ornaments", "reed,Reed,line,gold,,0,,,,,"),
              "p/ornaments.csv:3:22: repeats '0' is outside 1 to 1000: write a whole number from 1 to 1000");
    EXPECT_EQ(fault_of_row("shape_forms", "harrow,sugar,,-227,,,,,"),
              "p/shape_forms.csv:3:15: length_mm '-227' is outside 1 to 2000: write a number from 1 to 2000");
    EXPECT_EQ(fault_of_row("shape_forms", "harrow,sugar,,,22700,,,,"),
              "p/shape_forms.csv:3:16: width_mm '22700' is outside 1 to 2000: write a number from 1 to 2000");
    EXPECT_EQ(fault_of_row("shape_forms", "harrow,sugar,,,,90 mm,,,"),
              "p/shape_forms.csv:3:17: height_mm '90 mm' is text where a number belongs: "
              "write a number from 1 to 2000, without its unit");
    EXPECT_EQ(fault_of_row("shape_forms", "harrow,sugar,,,,,0,,"),
              "p/shape_forms.csv:3:18: capacity_ml '0' is outside 1 to 100000: write a number from 1 to 100000");
    EXPECT_EQ(fault_of_row("glazes", "snow,mill,Snow,101,0,0,,,"),
              "p/glazes.csv:3:16: lab_l '101' is outside 0 to 100: write a number from 0 to 100");
    EXPECT_EQ(fault_of_row("glazes", "snow,mill,Snow,90,,0,,,"),
              "p/glazes.csv:3:19: lab_a is blank, but the colour's other parts are given: "
              "give lab_l, lab_a and lab_b, or none of them");
}

TEST(PackFaults, DatesAreEdtf) {
    EXPECT_EQ(fault_of_row("shapes", "plough,mill,Plough,c. 1934,,"),
              "p/shapes.csv:3:20: years 'c. 1934': 'c' cannot begin a date (character 1): write 1934~");
    EXPECT_EQ(
        fault_of_row("shapes", "plough,mill,Plough,1940/1931,,"),
        "p/shapes.csv:3:20: years '1940/1931': it ends before it begins (character 6): swap the two: 1931/1940");
    EXPECT_EQ(fault_of_row("sources", "s-2,book,,,1931-02-30,,"),
              "p/sources.csv:3:12: date '1931-02-30': February 1931 has only 28 days (character 9): "
              "write 1931-02 for the whole month");
    EXPECT_EQ(fault_of_row("dated_uses", "t-1,spring,letter,").substr(0, 37),
              "p/dated_uses.csv:3:5: date 'spring': ");
    for (const auto& [table, row] :
         std::vector<std::pair<std::string, std::string>>{{"makers", "kiln,,,,19x1,,,,"},
                                                          {"shape_forms", "harrow,sugar,,,,,,19x1,"},
                                                          {"glazes", "snow,,,,,,19x1,,"},
                                                          {"ornaments", "reed,,line,gold,,,,,,19x1,"},
                                                          {"treatments", "t-2,harrow,,,,,19x1,,,"},
                                                          {"marks", "m-2,,,,19x1,,,,"}})
        EXPECT_THAT(fault_of_row(table, row), ::testing::HasSubstr(": years '19x1': ")) << table;
}

TEST(PackFaults, TreatmentsAreMadeWhileTheirPartsExist) {
    EXPECT_EQ(
        fault_of_row("treatments", "t-2,harrow,oat,118,,,1920/1924,,,"),
        "p/treatments.csv:3:22: treatment 't-2' (1920/1924) was made before its glaze 'oat' existed (1925/1940): "
        "correct the years of one of the two");
    EXPECT_EQ(fault_of_row("treatments", "t-2,harrow,,118,,,1941/1944,,,"),
              "p/treatments.csv:3:19: treatment 't-2' (1941/1944) was made after its shape 'harrow' had ended "
              "(1920/1940): correct the years of one of the two");
    EXPECT_THAT(faults_of_row("treatments", "t-2,harrow,oat,118,,,1920/1925,,,"), IsEmpty()) << "they meet in 1925";
    // An end marked ~ falls off over 3 years, so 1923~ still has some weight in 1925 and none in 1926.
    EXPECT_THAT(faults_of_row("treatments", "t-2,harrow,oat,118,,,1920/1923~,,,"), IsEmpty());
    EXPECT_EQ(faults_of_row("treatments", "t-2,harrow,oat,118,,,1920/1922~,,,").size(), 1u);
    EXPECT_THAT(faults_of_row("treatments", "t-2,harrow,oat,118,,,1920/1921?,,,"), IsEmpty()) << "5 years for ?";
    EXPECT_EQ(faults_of_row("treatments", "t-2,harrow,oat,118,,,1920/1920?,,,").size(), 1u);
    EXPECT_THAT(faults_of_row("treatments", "t-2,harrow,oat,118,,,../1930,,,"), IsEmpty());

    Tables tables = sound();
    tables["ornaments"] += "reed,Reed,line,gold,,,,,,1941/1950,\n";
    tables["treatment_ornaments"] += "t-1,edge,reed,*,,\nt-1,foot,reed,*,0,\n";
    EXPECT_THAT(
        faults({{"p", tables}}),
        ElementsAre("p/treatment_ornaments.csv:3:10: treatment 't-1' (1930/1938) was made before its ornament "
                    "'reed' existed (1941/1950): correct the years of one of the two"))
        << "share 0 states absence and needs no year in common";
    tables = sound();
    tables["glazes"] += "snow,mill,Snow,,,,1942/1948,,\n";
    tables["treatments"] += "t-2,harrow,snow,118,,,,,,\n";
    EXPECT_THAT(
        faults({{"p", tables}}),
        ElementsAre("p/treatments.csv:3:12: glaze 'snow' (1942/1948) and shape 'harrow' (1920/1940) were never "
                    "in use in the same year: correct the years of one of the two"));
    tables["glazes"] = "id,years\noat,\"{1910,1950}\"\n";
    tables["treatments"] = "id,shape,glaze,years\nt-1,harrow,oat,1930/1938\n";
    EXPECT_THAT(
        faults({{"p", tables}}),
        ElementsAre("p/treatments.csv:2:16: treatment 't-1' (1930/1938) and its glaze 'oat' ({1910,1950}) were "
                    "never made in the same year: correct the years of one of the two"));
}

TEST(PackFaults, ShapesAndMarksLieWithinTheirMaker) {
    EXPECT_EQ(fault_of_row("shapes", "plough,mill,Plough,1880/1890,,"),
              "p/shapes.csv:3:20: years '1880/1890' of shape 'plough' lie outside the years of its maker 'mill' "
              "(1900/1950): correct the years of one of the two, or the maker");
    EXPECT_EQ(fault_of_row("shapes", "plough,mill,Plough,1899/1910,,"),
              "p/shapes.csv:3:20: years '1899/1910' of shape 'plough' begin before those of its maker 'mill' "
              "(1900/1950): correct the years of one of the two, or the maker");
    EXPECT_EQ(fault_of_row("marks", "m-2,mill,,,1940/1951,*,,,"),
              "p/marks.csv:3:12: years '1940/1951' of mark 'm-2' end after those of its maker 'mill' (1900/1950): "
              "correct the years of one of the two, or the maker");
    for (const auto years :
         {"1900/1950", "1940/..", "../1950", "1940/", "1899~/1910", "189X", "195X?", "1950", ""}) {
        const std::string row = std::string("plough,mill,Plough,") + years + ",,";
        EXPECT_THAT(faults_of_row("shapes", row), IsEmpty()) << years;
    }
}

TEST(PackFaults, ANumberStandsForOneTreatmentOfAShape) {
    EXPECT_EQ(
        fault_of_row("treatments", "t-2,harrow,oat,117,,second,,,,"),
        "p/treatments.csv:3:16: number '117' on shape 'harrow' is already that of 't-1' at p/treatments.csv:2: "
        "give line 2 or line 3 another number");
    Tables tables = sound();
    tables["shapes"] += "plough,mill,Plough,,,\n";
    tables["treatments"] += "t-2,plough,oat,117,,,,,,\nt-3,harrow,oat,,,,,,,\nt-4,harrow,oat,,,,,,,\n";
    EXPECT_THAT(faults({{"p", tables}}), IsEmpty()) << "other shapes and blank numbers may repeat";
}

TEST(PackFaults, ADecorationIsStatedOnce) {
    EXPECT_EQ(fault_of_row("treatment_ornaments", "t-1,rim,fern,*,0.5,"),
              "p/treatment_ornaments.csv:3:1: treatment 't-1' already carries ornament 'fern' at rim on *, "
              "at p/treatment_ornaments.csv:2: take line 2 or line 3 out");
    EXPECT_THAT(faults_of_row("treatment_ornaments", "t-1,rim,fern,flat,0.5,"), IsEmpty());
    // Alternatives may add up to more than 1: whoever reads them divides by the sum.
    EXPECT_THAT(faults_of("treatment_ornaments",
                          "treatment,place,ornament,on,share\nt-1,rim,fern,*,0.9\n"
                          "t-1,rim,fern,plate,0.9\nt-1,rim,fern,hollow,0.9\n"),
                IsEmpty());
}

TEST(PackFaults, CodeSchemesCanBeUsed) {
    EXPECT_EQ(fault_of_row("code_schemes", "c-2,(?<year>[0-9],,,"),
              "p/code_schemes.csv:3:5: pattern '(?<year>[0-9]' is not a regular expression (missing ): "
              "(?P<year>[0-9]): correct it (RE2 syntax)");
    EXPECT_EQ(fault_of_row("code_schemes", "c-2,(?<year>[A-Z]),\"{\"\"year\"\":{\"\"A\"\":\",,"),
              "p/code_schemes.csv:3:20: tables: this is not JSON (unexpected end of input, expected '[', '{', or a "
              "literal): correct the text at this place");
    EXPECT_EQ(
        fault_of_row("code_schemes", "c-2,(?<year>[A-Z]),[],,"),
        "p/code_schemes.csv:3:20: tables is not a JSON object: write it as {\"month\": {\"A\": 1, \"B\": 2}}");
}

TEST(PackFaults, DrawingsAreThereAndInside) {
    const auto with = [](std::string drawing, std::map<std::string, std::string> files) {
        Tables tables = sound();
        tables["ornaments"] += "reed,Reed,line,gold," + drawing + ",,,,,,\n";
        return faults({{"p", tables, std::move(files)}});
    };
    EXPECT_THAT(with("drawings/reed.svg", {{"drawings/reed.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>"}}),
                IsEmpty());
    EXPECT_THAT(with("reed.png", {{"reed.png", "\x89PNG\r\n\x1a\n and so on"}}), IsEmpty());
    EXPECT_THAT(with("drawings/reed.svg", {}),
                ElementsAre("p/ornaments.csv:3:21: drawing 'drawings/reed.svg' is missing: "
                            "add the file or correct its path"));
    EXPECT_THAT(
        with("reed.svg", {{"reed.svg", "a text"}}),
        ElementsAre("p/ornaments.csv:3:21: drawing 'reed.svg' is neither SVG nor PNG: save it as one of the two"));
    for (const std::string path : {"../reed.svg", "/etc/passwd", "a/../../reed.svg", "http://x.example/reed.svg"})
        EXPECT_THAT(with(path, {}),
                    ElementsAre("p/ornaments.csv:3:21: drawing: the path '" + path +
                                "' leads out of the pack: put the file into the pack and name it by a "
                                "relative path"));
    EXPECT_EQ(fault_of_row("marks", "m-2,mill,,m.svg,,*,,,"),
              "p/marks.csv:3:11: drawing 'm.svg' is missing: add the file or correct its path");
}

TEST(PackFaults, FilesThatAreNoCsvGetOneClearLine) {
    EXPECT_THAT(faults_of("glazes", ""),
                ElementsAre("p/glazes.csv:1:1: the file is empty: "
                            "write its first line: id,maker,name,lab_l,lab_a,lab_b,years,uranium,source"));
    EXPECT_THAT(faults_of("glazes", "id,name\noat,caf\xE9\n"),
                ElementsAre("p/glazes.csv:2:8: the file is not UTF-8 text from here on: save it as CSV, UTF-8"));
    EXPECT_THAT(faults_of("glazes", "\xFF\xFEi\0d\0"),
                ElementsAre("p/glazes.csv:1:1: the file is UTF-16, not UTF-8: save it as CSV, UTF-8"));
    EXPECT_THAT(
        faults_of("glazes", "PK\x03\x04\xFF"),
        ElementsAre(
            "p/glazes.csv:1:1: the file is a spreadsheet or archive, not CSV: save the table as CSV, UTF-8"));
    EXPECT_THAT(faults_of("glazes", std::string("\x7F"
                                                "ELF\0\0\1",
                                                7)),
                ElementsAre("p/glazes.csv:1:1: the file is not text: put the CSV table in its place"));
}

// docs/packs.md shows a line of each kind. FOOTRING_WRITE=1 makes them anew.
TEST(PackFaults, ThePageShowsALineOfEachKind) {
    struct Kind {
        std::string heading;
        std::vector<std::pair<std::string, std::string>> rows;      // each added to its table of the sound pack
        std::vector<std::pair<std::string, std::string>> tables{};  // or a table replaced
    };
    const std::vector<Kind> kinds = {
        {"Ids",
         {{"glazes", ",mill,Snow,,,,,,"},
          {"glazes", "Snow White,mill,,,,,,,"},
          {"treatments", "oat,harrow,,,,,,,,"},
          {"ornaments", "none,None,line,gold,,,,,,,"}}},
        {"References",
         {{"treatments", "t-2,harow,oat,118,,,,,,"},
          {"treatments", "t-2,harrow,sedge:snow,118,,,,,,"},
          {"dated_uses", "mill,1931,letter,"}}},
        {"Cells that have to be filled", {{"ornaments", "reed,Reed,line,,,,,,,,"}}},
        {"Words",
         {{"treatment_ornaments", "t-1,rimm,fern,*,,"},
          {"treatment_ornaments", "t-1,edge,fern,flatt,,"},
          {"forms", "bowl,Bowl,deep,round,,"},
          {"ornaments", "reed,Reed,line,Gold,,,,,,,"}}},
        {"Numbers",
         {{"treatment_ornaments", "t-1,edge,fern,*,1.2,"},
          {"treatment_ornaments", "t-1,edge,fern,*,\"0,5\","},
          {"shape_forms", "harrow,sugar,,,,90 mm,,,"},
          {"ornaments", "reed,Reed,line,gold,,8.5,,,,,"},
          {"glazes", "snow,mill,Snow,90,,0,,,"}}},
        {"Dates",
         {{"shapes", "plough,mill,Plough,c. 1934,,"},
          {"shapes", "plough,mill,Plough,1940/1931,,"},
          {"treatments", "t-2,harrow,oat,118,,,1920/1924,,,"},
          {"treatments", "t-2,harrow,,118,,,1941/1944,,,"},
          {"shapes", "plough,mill,Plough,1880/1890,,"},
          {"marks", "m-2,mill,,,1940/1951,*,,,"}}},
        {"Rows that repeat",
         {{"treatments", "t-2,harrow,oat,117,,second,,,,"}, {"treatment_ornaments", "t-1,rim,fern,*,0.5,"}}},
        {"Drawings",
         {{"ornaments", "reed,Reed,line,gold,reed.svg,,,,,,"},
          {"ornaments", "reed,Reed,line,gold,../reed.svg,,,,,,"}}},
        {"Code schemes", {{"code_schemes", "c-2,(?<year>[0-9],,,"}, {"code_schemes", "c-2,(?<year>[A-Z]),[],,"}}},
        {"Rows and columns",
         {{"forms", "bowl,Bowl,hollow"}, {"forms", "bowl,5\" bowl,hollow,round,,"}},
         {{"ornaments", "id,name,kind\nfern,Fern,stamp\n"},
          {"ornaments", "id,name,kind,finnish\nfern,Fern,stamp,gold\n"},
          {"glazes", "id;maker\noat;mill\n"},
          {"forms", "id,name,ware\nplate,\"Plate,flat\n"}}},
        {"Files", {}, {{"glazes", ""}, {"glazes", "id,name\noat,caf\xE9\n"}, {"glazes", "PK\x03\x04\xFF"}}},
    };
    std::string wanted;
    for (const Kind& kind : kinds) {
        wanted += "**" + kind.heading + "**\n\n```text\n";
        for (const auto& [table, row] : kind.rows) wanted += fault_of_row(table, row) + "\n";
        for (const auto& [table, csv] : kind.tables) wanted += faults_of(table, csv).front() + "\n";
        wanted += "```\n\n";
    }
    const std::string begin = "<!-- faults: made by the program -->\n\n", end = "<!-- end of faults -->";
    const std::string path = std::string(FOOTRING_ROOT) + "/docs/packs.md";
    std::ifstream in(path, std::ios::binary);
    std::string page{std::istreambuf_iterator<char>(in), {}};
    const std::size_t from = page.find(begin) + begin.size(), to = page.find(end);
    ASSERT_NE(to, page.npos);
    if (std::getenv("FOOTRING_WRITE")) {
        page.replace(from, to - from, wanted);
        std::ofstream(path, std::ios::binary) << page;
        return;
    }
    EXPECT_EQ(page.substr(from, to - from), wanted) << "run FOOTRING_WRITE=1 book_test --gtest_filter='*ThePage*'";
}

TEST(PackFaults, AllAreToldAtOnceInOrderOfFileAndLine) {
    Tables tables = sound();
    tables["treatments"] += "t-2,harow,oat,118,,,19x1,,,\nT3,harrow,oat,117,,worst,,,,\n";
    tables["glazes"] += "snow,mil,Snow,1000,,,,,\n";
    std::vector<std::string> places;
    for (const std::string& line : faults({{"p", tables}})) places.push_back(line.substr(0, line.find(": ")));
    EXPECT_THAT(places, ElementsAre("p/glazes.csv:3:6", "p/glazes.csv:3:15", "p/glazes.csv:3:20",
                                    "p/glazes.csv:3:21", "p/treatments.csv:3:5", "p/treatments.csv:3:21",
                                    "p/treatments.csv:4:1", "p/treatments.csv:4:15", "p/treatments.csv:4:20"));
}

TEST(PackFaults, AreToldUpToAReadableNumber) {
    std::string csv = "id\n";
    for (int i = 0; i < 10'500; ++i) csv += "A\n";
    const auto all = faults({{"p", {{"glazes", csv}}}});
    ASSERT_EQ(all.size(), 10'001u);
    EXPECT_EQ(all.back(), "packs: there are 10999 more faults: mend these first, then check again");
}

TEST(PackFaults, CluesAndSeriesOfNumbersMakeSense) {
    const std::string clues = "id,wording,pattern,years,kind,verified\n", series = "id,wording\ns,rd no\n",
                      numbers = "series,year,first_number\ns,1884,1\ns,1885,19756\n";
    EXPECT_THAT(faults({{"p",
                         {{"clues", clues + "c,rd no; regd,,1884/..,law,yes\n"},
                          {"number_series", series},
                          {"series_numbers", numbers},
                          {"trade_counts", "id,count\nc-36,36\n"}}}}),
                IsEmpty());
    EXPECT_THAT(
        faults({{"p", {{"clues", clues + "c,rd no; --,(x,1884/,lore,maybe\n"}}}}),
        ElementsAre("p/clues.csv:2:3: wording '--' has neither letter nor figure: write words, or use the column "
                    "pattern",
                    "p/clues.csv:2:13: pattern '(x' is not a regular expression (missing ): (x): correct it "
                    "(RE2 syntax)",
                    "p/clues.csv:2:22: kind 'lore' is not one of law, practice: write one of them",
                    "p/clues.csv:2:27: verified 'maybe' is not one of yes, partly, no: write one of them"));
    const auto of = [&](const std::string& rows) {
        return faults({{"p", {{"number_series", series}, {"series_numbers", numbers + rows}}}});
    };
    EXPECT_THAT(
        of("s,1885,20000\n"),
        ElementsAre("p/series_numbers.csv:4:3: the year 1885 of series 's' stands at p/series_numbers.csv:3 "
                    "already: keep one of the two; the column other_number takes a differing figure"));
    EXPECT_THAT(
        of("s,1887,19000\ns,1886,30000\n"),
        ElementsAre("p/series_numbers.csv:4:8: first_number 19000 of 1887 is not over that of 1886 (30000) at "
                    "p/series_numbers.csv:5: correct one of the two"));
    EXPECT_THAT(
        of("t,1886,30000\n"),
        ElementsAre("p/series_numbers.csv:4:1: series 't' is not an id in p/number_series.csv: did you mean 's'?"));
}

}  // namespace
}  // namespace footring::book

// SPDX-License-Identifier: Apache-2.0
// Packs on disk: the descriptor, the files, the digest, and what a sound pack becomes.
#include "book/pack.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <fstream>

#include "book/pack_text.h"

namespace footring::book {
namespace {

namespace fs = std::filesystem;
using ::testing::ElementsAre;
using ::testing::IsEmpty;

// A folder of its own for each test, removed afterwards; the tests run in it, so that paths in faults are short.
class PackOnDisk : public ::testing::Test {
  protected:
    void SetUp() override {
        char name[] = "/tmp/footring-pack-XXXXXX";
        ASSERT_NE(::mkdtemp(name), nullptr);
        folder_ = name;
        before_ = fs::current_path();
        fs::current_path(folder_);
        fs::create_directory("reed");
    }
    void TearDown() override {
        fs::current_path(before_);
        fs::remove_all(folder_);
    }
    static void write(const fs::path& path, std::string_view text) {
        if (path.has_parent_path()) fs::create_directories(path.parent_path());
        std::ofstream(path, std::ios::binary) << text;
    }
    static void describe(std::string_view text) { write("reed/datapackage.json", text); }
    static std::vector<std::string> faults(const std::vector<fs::path>& packs = {"reed"}) {
        std::vector<std::string> out;
        for (const Problem& p : check_packs(packs)) out.push_back(to_line(p));
        return out;
    }
    static Book book() {
        auto read = read_packs({"reed"});
        if (!read) throw std::logic_error(to_line(read.error().front()));
        return std::move(*read);
    }
    fs::path folder_, before_;
};

constexpr std::string_view kPlain = R"({"name":"reed","resources":[{"name":"glazes","path":"glazes.csv"}]})";

TEST_F(PackOnDisk, BecomesABook) {
    describe(R"({"name":"reed","title":"Reed pack","version":"1.2","description":"Invented.",
        "contributors":[{"title":"A. Tester"},{"title":"B. Tester","role":"author"}],
        "resources":[{"name":"glazes","path":"glazes.csv"}]})");
    write("reed/glazes.csv", "id,name\noat,Oat\n\nsnow,\n");
    const Book b = book();
    ASSERT_EQ(b.packs.size(), 1u);
    EXPECT_EQ(b.packs[0].id, "reed");
    EXPECT_EQ(b.packs[0].title, "Reed pack");
    EXPECT_EQ(b.packs[0].version, "1.2");
    EXPECT_EQ(b.packs[0].description, "Invented.");
    EXPECT_THAT(b.packs[0].contributors, ElementsAre("A. Tester", "B. Tester"));
    EXPECT_EQ(b.packs[0].folder, fs::canonical(folder_ / "reed").string());
    ASSERT_EQ(b.glazes.size(), 2u);
    EXPECT_EQ(b.glazes[1].name, "snow") << "a blank name is the id";
    EXPECT_EQ(b.glazes[1].origin.line, 4u);
    EXPECT_EQ(find<Glaze>(b, "oat", "x")->at, 0u);
}

TEST_F(PackOnDisk, HasToBeAFolderWithADescriptor) {
    const auto missing = check_packs({"nowhere"});
    ASSERT_EQ(missing.size(), 1u);
    EXPECT_EQ(missing[0].code, ProblemCode::kNotFound);
    EXPECT_EQ(to_line(missing[0]), "nowhere: there is no such folder: check the path of the pack");
    write("a-file", "x");
    EXPECT_THAT(faults({"a-file"}),
                ElementsAre("a-file: this is not a folder: name the folder that holds datapackage.json"));
    EXPECT_THAT(faults(), ElementsAre("reed/datapackage.json:1:1: the folder has no datapackage.json: "
                                      "name the folder of a pack, or add the file (docs/packs.md)"));
    EXPECT_THAT(faults({}),
                ElementsAre("packs: no pack is given: name at least one folder that holds a datapackage.json"));
}

TEST_F(PackOnDisk, IsNamedInFaultsAsThePersonNamedIt) {
    describe(kPlain);
    write("reed/glazes.csv", "id,maker\nOat,\n");
    const std::string rest =
        "glazes.csv:2:1: id 'Oat' is not made of lower-case letters, digits and single hyphens: "
        "write 'oat'";
    EXPECT_THAT(faults({"reed"}), ElementsAre("reed/" + rest));
    EXPECT_THAT(faults({"reed/"}), ElementsAre("reed/" + rest));
    EXPECT_THAT(faults({"./reed"}), ElementsAre("./reed/" + rest));
    EXPECT_THAT(faults({folder_ / "reed"}), ElementsAre((folder_ / "reed").string() + "/" + rest));
}

TEST_F(PackOnDisk, ADescriptorsFaultsHaveTheirPlaces) {
    describe("{\"name\": \"reed\",\n  \"resources\" [] }");
    EXPECT_THAT(faults(),
                ElementsAre("reed/datapackage.json:2:15: this is not JSON (unexpected '[', expected ':'): "
                            "correct the text at this place"));
    describe("[]");
    EXPECT_THAT(
        faults(),
        ElementsAre("reed/datapackage.json:1:1: this is not a JSON object: see docs/packs.md for an example"));
    describe("");
    EXPECT_THAT(faults(), ElementsAre("reed/datapackage.json:1:1: the file is empty: write a JSON object into it"));
    describe("{}");
    EXPECT_THAT(faults(),
                ElementsAre("reed/datapackage.json:1:1: the pack has no name: add \"name\": \"some-short-name\""));
    describe("{\n \"name\": \"Reed Pack\",\n \"title\": 7}");
    EXPECT_THAT(faults(),
                ElementsAre("reed/datapackage.json:2:2: the name 'Reed Pack' is not made of a-z, 0-9, '.', '_' "
                            "and '-': write it in lower case and without blanks",
                            "reed/datapackage.json:3:2: 'title' is not a text: write it in quotation marks"));
    describe("{\"name\": \"reed\", \"resources\": {}}");
    EXPECT_THAT(faults(), ElementsAre("reed/datapackage.json:1:18: 'resources' is not a list: "
                                      "list the tables: [{\"name\": ..., \"path\": ...}]"));
    describe(R"({"name": "reed", "resources": [
        {"path": "glazes.csv"},
        {"name": "ornamants", "path": "ornamants.csv"},
        {"name": "forms"},
        {"name": "marks", "path": ["a.csv", "b.csv"]},
        {"name": "shapes", "path": "shapes.csv"},
        {"name": "shapes", "path": "again.csv"},
        {"name": "makers", "path": "makers.csv", "encoding": "latin-1"},
        {"name": "sources", "path": "sources.csv", "compression": "gz"},
        {"name": "glazes", "path": "../glazes.csv"},
        {"name": "statements", "path": "https://x.example/statements.csv"}]})");
    write("reed/makers.csv", "id\n");
    write("reed/sources.csv", "id\n");
    EXPECT_THAT(
        faults(),
        ElementsAre(
            "reed/datapackage.json:1:18: a resource has no name: name it as its table, such as \"shapes\"",
            "reed/datapackage.json:3:18: the resource 'ornamants' is none of the tables of a pack: "
            "did you mean 'ornaments'?",
            "reed/datapackage.json:4:18: the resource 'forms' does not name one file as its path: "
            "add \"path\": \"forms.csv\"",
            "reed/datapackage.json:5:18: the resource 'marks' does not name one file as its path: "
            "add \"path\": \"marks.csv\"",
            "reed/datapackage.json:6:18: there are two resources 'shapes': keep one of them",
            "reed/datapackage.json:6:36: the file 'shapes.csv' of the table shapes is missing: "
            "add the file, correct its path, or take the resource out",
            "reed/datapackage.json:8:50: the encoding of 'makers' is 'latin-1': "
            "save the file as UTF-8 and say \"utf-8\"",
            "reed/datapackage.json:9:52: the resource 'sources' is compressed: "
            "unpack its file and leave the compression out",
            "reed/datapackage.json:10:36: the path '../glazes.csv' leads out of the pack: "
            "put the file into the pack and name it by a relative path",
            "reed/datapackage.json:11:40: the path 'https://x.example/statements.csv' leads out of the pack: "
            "put the file into the pack and name it by a relative path"));
}

TEST_F(PackOnDisk, FindsTablesByNameByFileAndUnlisted) {
    describe(R"({"name":"reed","resources":[{"name":"glazes","path":"data/g.csv"},
        {"name":"the-shapes","path":"data/shapes.csv"},{"name":"my-notes","path":"notes.txt"}]})");
    write("reed/data/g.csv", "id\noat\n");
    write("reed/data/shapes.csv", "id\nharrow\n");
    write("reed/forms.csv", "id,ware\nplate,flat\n");
    write("reed/glazes.csv", "id\nthis-one-is-not-listed\n");
    const Book b = book();
    ASSERT_EQ(b.glazes.size(), 1u);
    EXPECT_EQ(b.glazes[0].id, "oat");
    EXPECT_EQ(b.shapes.size(), 1u);
    EXPECT_EQ(b.forms.size(), 1u);
    describe(R"({"name":"reed"})");
    EXPECT_EQ(book().glazes[0].id, "this-one-is-not-listed") << "no resources at all";
}

TEST_F(PackOnDisk, HeedsTheDialectAndMissingValues) {
    describe(R"({"name":"reed","resources":[{"name":"glazes","path":"glazes.csv","dialect":{"delimiter":";"},
        "schema":{"missingValues":["","-"]}}]})");
    write("reed/glazes.csv", "\xEF\xBB\xBFid;name;uranium\r\noat;\"Oat; pale\";-\r\n");
    const Book b = book();
    EXPECT_EQ(b.glazes[0].name, "Oat; pale");
    EXPECT_EQ(b.glazes[0].uranium, Uranium::kUnknown);
    describe(R"({"name":"reed","resources":[{"name":"glazes","path":"glazes.csv",
        "dialect":{"delimiter":"ab","quoteChar":"'","header":false,"doubleQuote":true}}]})");
    write("reed/glazes.csv", "id\n");
    EXPECT_THAT(faults(),
                ElementsAre("reed/datapackage.json:2:20: the delimiter of 'glazes' is not a comma, ;, | or a "
                            "tab: save the file with commas",
                            "reed/datapackage.json:2:37: the dialect of 'glazes' has a quoteChar that is not "
                            "read: save the file as RFC 4180 CSV: quotation marks \" and a header line",
                            "reed/datapackage.json:2:53: the dialect of 'glazes' has a header that is not "
                            "read: save the file as RFC 4180 CSV: quotation marks \" and a header line"));
}

TEST_F(PackOnDisk, NeverReadsOutsideItsFolder) {
    describe(kPlain);
    write("secret.csv", "id\noat\n");
    fs::create_symlink("../secret.csv", "reed/glazes.csv");
    EXPECT_THAT(faults(), ElementsAre("reed/glazes.csv:1:1: the path 'glazes.csv' leads out of the pack: "
                                      "put the file into the pack and name it by a relative path"));
    fs::remove("reed/glazes.csv");
    write("reed/data/inside.csv", "id\noat\n");
    fs::create_symlink("data/inside.csv", "reed/glazes.csv");
    EXPECT_THAT(faults(), IsEmpty()) << "a link that stays inside is fine";
    write("reed2/x.svg", "<svg xmlns='http://www.w3.org/2000/svg'/>");
    write("reed/ornaments.csv", "id,kind,finish,drawing\nfern,stamp,gold,x.svg\n");
    fs::create_symlink("../reed2/x.svg", "reed/x.svg");
    EXPECT_THAT(faults(), ElementsAre("reed/ornaments.csv:2:17: drawing: the path 'x.svg' leads out of the pack: "
                                      "put the file into the pack and name it by a relative path"))
        << "reed2 only begins like reed";
}

TEST_F(PackOnDisk, RefusesFilesThatAreNoPlainFilesOrTooLarge) {
    describe(kPlain);
    fs::create_directory("reed/glazes.csv");
    EXPECT_THAT(faults(), ElementsAre("reed/glazes.csv:1:1: the file cannot be read (it is not a plain file): "
                                      "check that it is a file and that you may read it"));
    fs::remove("reed/glazes.csv");
    ASSERT_EQ(::mkfifo("reed/glazes.csv", 0600), 0);
    EXPECT_THAT(faults(), ElementsAre("reed/glazes.csv:1:1: the file cannot be read (it is not a plain file): "
                                      "check that it is a file and that you may read it"));
    fs::remove("reed/glazes.csv");
    write("reed/glazes.csv", "id\n");
    fs::resize_file("reed/glazes.csv", (std::uintmax_t{256} << 20) + 1);
    const auto large = check_packs({"reed"});
    ASSERT_EQ(large.size(), 1u);
    EXPECT_EQ(large[0].code, ProblemCode::kTooLarge);
    EXPECT_EQ(to_line(large[0]),
              "reed/glazes.csv:1:1: the file is larger than 256 MB: split it into several packs");
}

TEST_F(PackOnDisk, ItsDigestFollowsEveryByteThatWasRead) {
    describe(kPlain);
    write("reed/glazes.csv", "id,name\noat,Oat\n");
    write("reed/ornaments.csv", "id,kind,finish,drawing\nfern,stamp,gold,fern.svg\n");
    write("reed/fern.svg", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 1 1'/>");
    const std::string first = book().packs[0].digest;
    EXPECT_THAT(first, ::testing::MatchesRegex("[0-9a-f]{32}"));
    EXPECT_EQ(book().packs[0].digest, first);
    write("reed/notes.txt", "not part of the pack");
    EXPECT_EQ(book().packs[0].digest, first);
    write("reed/fern.svg", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 2 2'/>");
    const std::string redrawn = book().packs[0].digest;
    EXPECT_NE(redrawn, first);
    write("reed/glazes.csv", "id,name\noat,Oat!\n");
    EXPECT_NE(book().packs[0].digest, redrawn);
    write("reed/glazes.csv", "id,name\noat,Oat\n");
    describe(R"({"name":"reed","title":"x","resources":[{"name":"glazes","path":"glazes.csv"}]})");
    EXPECT_NE(book().packs[0].digest, redrawn);
}

// Every column of every table, read into its place.
TEST(PackText, EveryColumnArrivesInTheBook) {
    const auto read = read_pack_texts({{
        "p",
        {{"sources",
          "id,kind,creator,title,date,locator,trust\ns-1,catalogue,Mill,List,1931-04,p. 3,0.9\ns-2,,,,,,\n"},
         {"makers",
          "id,name,role,place,years,unmarked_share,numbered_share,note,source\n"
          "mill,The Mill,decorator,Nowhere,1900/1950,0.2,0.3,n1,s-1\nink,,supplier,,,,,,\n"},
         {"shapes", "id,maker,name,years,note,source\nharrow,mill,Harrow,1920/1940,n2,s-2; s-1\n"},
         {"forms", "id,name,ware,outline,aat,note\nsugar,Sugar,hollow,octagonal,http://vocab.example/1,n3\n"},
         {"shape_forms",
          "shape,form,trade_size,length_mm,width_mm,height_mm,capacity_ml,years,source\n"
          "harrow,sugar,36s,120.5,80,90,250,1920/1931,s-1\n"},
         {"glazes",
          "id,maker,name,lab_l,lab_a,lab_b,years,uranium,source\noat,mill,Oat,88,1.2,-9.4,1925/1940,yes,s-1\n"},
         {"ornaments",
          "id,name,kind,finish,drawing,repeats,supplier,shared,second_share,years,source\n"
          "fern,Fern,decal,grass green,f.svg,8,ink,yes,0.1,1920/1950,s-1\n"},
         {"treatments",
          "id,shape,glaze,number,name,grade,years,outlet,note,source\n"
          "t-1,harrow,oat,117,Fern on oat,second,1930/1938,a shop,n4,s-1\n"},
         {"treatment_ornaments",
          "treatment,place,ornament,on,share,source\nt-1,finial,fern,sugar,0.5,s-1\n"
          "t-1,foot,fern,hollow,,\n"},
         {"code_schemes",
          "id,pattern,tables,note,source\nc-1,(?<year>[A-B]),\"{\"\"year\"\":{\"\"A\"\":1901}}\",n5,s-1\n"},
         {"marks",
          "id,maker,wording,drawing,years,shapes,grade,code_scheme,source\n"
          "m-1,mill,WARRANTED,f.svg,1905/1930,harrow,second,c-1,s-1\nm-2,,,,,*,,,\n"},
         {"dated_uses", "subject,date,kind,source\nt-1,1931,order form,s-1\n"},
         {"statements", "id,subject,property,value,source,stance,note\nst-1,p:oat,years,1925,s-1,against,n6\n"}},
        {{"f.svg", "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 1 1'/>"}},
    }});
    ASSERT_TRUE(read.has_value()) << to_line(read.error().front());
    const Book& b = *read;
    const auto both = std::vector<Ref<Source>>{{1}, {0}}, one = std::vector<Ref<Source>>{{0}};
    const auto years = [](const std::optional<edtf::Edtf>& e) { return e ? e->text() : "absent"; };

    EXPECT_EQ(b.sources[0].kind + b.sources[0].creator + b.sources[0].title, "catalogueMillList");
    EXPECT_EQ(b.sources[0].date + b.sources[0].locator, "1931-04p. 3");
    EXPECT_EQ(b.sources[0].trust, 0.9);
    EXPECT_EQ(b.sources[1].trust, std::nullopt);

    const Maker& mill = b.makers[0];
    EXPECT_EQ(mill.id + mill.name + mill.place + mill.note, "millThe MillNowheren1");
    EXPECT_EQ(mill.role, Role::kDecorator);
    EXPECT_EQ(years(mill.years), "1900/1950");
    EXPECT_EQ(mill.unmarked_share, 0.2);
    EXPECT_EQ(mill.numbered_share, 0.3);
    EXPECT_EQ(mill.sources, one);
    EXPECT_EQ(b.makers[1].name, "ink");
    EXPECT_EQ(b.makers[1].unmarked_share, std::nullopt);

    EXPECT_EQ(b.shapes[0].maker, Ref<Maker>{0});
    EXPECT_EQ(b.shapes[0].name + b.shapes[0].note + years(b.shapes[0].years), "Harrown21920/1940");
    EXPECT_EQ(b.shapes[0].sources, both);

    EXPECT_EQ(b.forms[0].ware, Ware::kHollow);
    EXPECT_EQ(b.forms[0].outline, Outline::kOctagonal);
    EXPECT_EQ(b.forms[0].name + b.forms[0].aat + b.forms[0].note, "Sugarhttp://vocab.example/1n3");

    const ShapeForm& size = b.shape_forms[0];
    EXPECT_EQ(size.trade_size + years(size.years), "36s1920/1931");
    EXPECT_EQ(std::vector({size.length_mm, size.width_mm, size.height_mm, size.capacity_ml}),
              (std::vector<std::optional<double>>{120.5, 80, 90, 250}));
    EXPECT_EQ(size.sources, one);

    EXPECT_EQ(b.glazes[0].maker, Ref<Maker>{0});
    EXPECT_EQ(b.glazes[0].lab, (std::array<double, 3>{88, 1.2, -9.4}));
    EXPECT_EQ(b.glazes[0].uranium, Uranium::kYes);
    EXPECT_EQ(b.glazes[0].name + years(b.glazes[0].years), "Oat1925/1940");
    EXPECT_EQ(b.glazes[0].sources, one);

    const Ornament& fern = b.ornaments[0];
    EXPECT_EQ(fern.name + fern.finish + fern.drawing + years(fern.years), "Ferngrass greenf.svg1920/1950");
    EXPECT_TRUE(fern.drawing_data.starts_with("data:image/svg+xml;base64,"));
    EXPECT_EQ(fern.kind, OrnamentKind::kDecal);
    EXPECT_EQ(fern.repeats, 8);
    EXPECT_EQ(fern.supplier, Ref<Maker>{1});
    EXPECT_TRUE(fern.shared);
    EXPECT_EQ(fern.second_share, 0.1);
    EXPECT_EQ(fern.sources, one);

    const Treatment& t = b.treatments[0];
    EXPECT_EQ(t.number + t.name + t.outlet + t.note + years(t.years), "117Fern on oata shopn41930/1938");
    EXPECT_EQ(t.grade, Grade::kSecond);
    EXPECT_EQ(t.glaze, Ref<Glaze>{0});
    EXPECT_EQ(t.sources, one);

    EXPECT_EQ(b.treatment_ornaments[0].place, Place::kFinial);
    EXPECT_EQ(b.treatment_ornaments[0].on.form, Ref<Form>{0});
    EXPECT_EQ(b.treatment_ornaments[0].share, 0.5);
    EXPECT_EQ(b.treatment_ornaments[0].sources, one);
    EXPECT_EQ(b.treatment_ornaments[1].on.ware, Ware::kHollow);
    EXPECT_EQ(b.treatment_ornaments[1].share, 1);
    EXPECT_EQ(b.decoration_rows[0], (std::vector<std::uint32_t>{0, 1}));

    EXPECT_EQ(b.code_schemes[0].pattern + b.code_schemes[0].tables + b.code_schemes[0].note,
              R"((?<year>[A-B]){"year":{"A":1901}}n5)");
    EXPECT_EQ(b.code_schemes[0].sources, one);

    const Mark& m = b.marks[0];
    EXPECT_EQ(m.wording + m.drawing + years(m.years), "WARRANTEDf.svg1905/1930");
    EXPECT_THAT(m.shapes, ElementsAre(Ref<Shape>{0}));
    EXPECT_TRUE(m.second);
    EXPECT_EQ(m.code_scheme, Ref<CodeScheme>{0});
    EXPECT_EQ(m.sources, one);
    EXPECT_THAT(b.marks[1].shapes, IsEmpty());
    EXPECT_FALSE(b.marks[1].second);

    EXPECT_EQ(b.dated_uses[0].subject + b.dated_uses[0].kind + b.dated_uses[0].date.text(), "p:t-1order form1931");
    EXPECT_EQ(b.dated_uses[0].sources, one);

    const Statement& s = b.statements[0];
    EXPECT_EQ(s.subject + s.property + s.value + s.note, "p:oatyears1925n6");
    EXPECT_FALSE(s.stance_for);
    EXPECT_EQ(s.sources, one);
}

TEST(PackText, PacksAreJoinedInTheOrderGiven) {
    const auto read =
        read_pack_texts({{"reed", {{"glazes", "id\noat\nivory\n"}, {"shapes", "id\nharrow\n"}}},
                         {"sedge",
                          {{"glazes", "id\noat\n"},
                           {"treatments", "id,shape,glaze\nt-1,reed:harrow,oat\nt-2,reed:harrow,reed:oat\n"}}}});
    ASSERT_TRUE(read.has_value()) << to_line(read.error().front());
    EXPECT_EQ(read->glazes.size(), 3u);
    EXPECT_EQ(read->treatments[0].glaze, Ref<Glaze>{2});
    EXPECT_EQ(read->treatments[1].glaze, Ref<Glaze>{0});
    EXPECT_EQ(read->treatments[0].origin.pack, 1u);
    EXPECT_EQ(id_of(*read, Ref<Glaze>{2}), "sedge:oat");
}

TEST(PackText, TellsATestOfItsMistakes) {
    EXPECT_THROW(book_from_tables({{"glazes", "id\nOat\n"}}), std::logic_error);
    EXPECT_EQ(book_from_tables({{"glazes", "id\noat\n"}}).glazes.size(), 1u);
}

}  // namespace
}  // namespace footring::book
